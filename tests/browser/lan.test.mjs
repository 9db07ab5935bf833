/**
 * The page as a phone in the same net opens it from `serve --lan`: by the address that is printed, over TLS with a certificate that
 * nobody vouches for, it is a page to which a browser gives the microphone and the camera.
 * Not here: the TLS itself and the code to photograph, which the server's own tests read.
 */

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { networkInterfaces } from "node:os";
import { onPhone } from "./support.mjs";

const alone = !Object.values(networkInterfaces()).flat().some((one) => one && !one.internal && one.family === "IPv4") && "this machine is in no net";

onPhone("from the address for phones a page may listen and look", async ({ page, home }) => {
  const server = spawn(process.env.LAMPBLACK_XTASK ?? "target/debug/xtask", ["serve", "--lan", "--no-build", "--port", "0"], { stdio: ["ignore", "pipe", "inherit"] });
  try {
    let told = "";
    while (!told.includes("vouched for.\n")) {
      told += String((await once(server.stdout, "data"))[0]);
    }
    const at = /https:\/\/[\d.]+:\d+\//.exec(told)?.[0] ?? "";
    home(at);
    await page.goto(at);
    await page.getByRole("button", { name: "Load the demo bench" }).click();
    await page.locator(".camera").nth(3).waitFor();
    const given = await page.evaluate(async () => {
      const stream = await navigator.mediaDevices.getUserMedia({ audio: true, video: true });
      const kinds = stream.getTracks().map((track) => track.kind).sort();
      stream.getTracks().forEach((track) => track.stop());
      return { secure: isSecureContext, kinds, sleepless: "wakeLock" in navigator };
    });
    assert.deepEqual(given, { secure: true, kinds: ["audio", "video"], sleepless: true });
  } finally {
    server.kill();
  }
}, { skip: alone, context: { ignoreHTTPSErrors: true }, flags: () => ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"] });
