/**
 * How a page comes: its purpose is there before any module, parts below come after the first view but are all there for a printer and
 * for an address that points at one, and a closed part is made when it is opened.
 * Not here: how quickly (`cargo xtask lighthouse`); what the pages show.
 */

import assert from "node:assert/strict";
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { host } from "./host.mjs";
import { address, onPhone } from "./support.mjs";
import { camera } from "./takes.mjs";

const WWW = fileURLToPath(new URL("../../www/", import.meta.url));
/** Pages that show all they have before any module: a short choice, and the way out where modules are broken. */
const SHORT = ["new.html", "reset.html"];

onPhone("what a page is for stands there before its modules come, without scrolling", async ({ page }) => {
  await page.route(/\/pages\/[a-z-]+\.js$/, (route) => route.abort());
  for (const name of readdirSync(WWW).filter((file) => file.endsWith(".html") && !SHORT.includes(file))) {
    await page.goto(address(name));
    const box = await page.locator(".until").boundingBox();
    assert.ok(box && box.height > 40 && box.y + box.height < 800, `${name}: ${JSON.stringify(box)}`);
  }
}, { expected: [/ERR_FAILED/] });

/** @param {import("playwright-core").Page} page How such a text shows, whether or not the page's own has gone already. */
const look = (page) => page.evaluate(() => {
  const text = document.createElement("p");
  text.className = "until";
  document.body.append(text);
  return getComputedStyle(text).display;
});

onPhone("a kept program does not show it", async ({ page, home }) => {
  const at = await host("/");
  home(at.address);
  try {
    await page.goto(`${at.address}more.html`);
    assert.equal(await look(page), "block");
    await page.waitForFunction(() => navigator.serviceWorker.controller);
    await page.goto(`${at.address}meter.html`);
    assert.equal(await look(page), "none");
  } finally {
    await at.close();
  }
}, { context: { serviceWorkers: "allow" }, timeout: 240_000 });

onPhone("a printer finds every part, however soon it is asked", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.addInitScript(() => {
    // No frame is drawn but the first, in which the page is painted as it came: nothing below the first view comes by itself.
    const next = globalThis.requestAnimationFrame;
    let left = 1;
    globalThis.requestAnimationFrame = (draw) => (left-- > 0 ? next(draw) : 0);
    const later = globalThis.setTimeout;
    globalThis.setTimeout = /** @type {any} */ ((/** @type {() => void} */ call, /** @type {number} */ wait) => (wait === 100 ? 0 : later(call, wait)));
  });
  await page.goto(address(`sheet.html?i=${key}`));
  await page.locator(".sheet h1").waitFor();
  const before = await page.locator(".sheet > *").count();
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  const after = await page.locator(".sheet > *").count();
  assert.ok(before > 0 && before < after, `${before} of ${after}`);
  // An address that points at a part below brings it in as well.
  await page.goto(address(`inspection.html?i=${key}#costs`));
  await page.locator("#costs:focus").waitFor();
});

onPhone("a closed part is made when it is opened, and stays", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`round.html?i=${key}&area=body`));
  const card = page.locator(".point").first();
  const looks = card.locator("details", { hasText: "What to look for" });
  await looks.waitFor();
  assert.equal(await looks.locator("dl").count(), 0);
  await looks.locator("summary").click();
  await looks.locator("dl").waitFor();
  await looks.locator("summary").click();
  assert.equal(await looks.locator("dl").count(), 1);
});

onPhone("a part that cannot be shown says so in its place, and those below it come", async ({ page }) => {
  await page.goto(address("bin.html"));
  await page.locator(".until").waitFor({ state: "detached" });
  const shown = await page.evaluate(async () => {
    const { html, render } = await load("vendor/lit-html/lit-html.js");
    const { later, settled } = await load("view/later.js");
    const place = document.createElement("div");
    document.body.append(place);
    render(html`<p>top</p>${later(() => { throw new Error("this drawing is broken"); })}${later(() => html`<p>below</p>`)}`, place);
    const first = place.innerText;
    await settled();
    return { first, then: [...place.querySelectorAll("p")].map((one) => `${one.className} ${one.innerText}`.trim()) };
  });
  assert.equal(shown.first.trim(), "top");
  assert.deepEqual(shown.then, ["top", "refusal This drawing is broken.", "below"]);
}, { expected: [/this drawing is broken/] });

onPhone("a first drawing in steps ends as one at once, with the newest that was to be shown", async ({ page }) => {
  await page.goto(address("bin.html"));
  await page.locator(".until").waitFor({ state: "detached" });
  const found = await page.evaluate(async () => {
    const { html, nothing, render } = await load("vendor/lit-html/lit-html.js");
    const { Drawing, steps } = await load("view/stepwise.js");
    const busy = (/** @type {number} */ milliseconds) => { for (const end = performance.now() + milliseconds; performance.now() < end;); };
    const row = (/** @type {string} */ text) => html`<li class="row ${text}"><input type="checkbox" .checked=${text === "b"} ?disabled=${text === "a"} />${text}${text === "a" ? nothing : html`<b>${text}</b>`}</li>`;
    const view = (/** @type {string} */ title) => html`<h2>${title}</h2><ul>${["a", "b"].map(row)}</ul>${html`<p>${[html`<i>${1}</i>`, nothing, "text"]}</p>`}`;
    const plain = (/** @type {ParentNode} */ place) => [...place.children].map((one) => one.outerHTML.replaceAll(/<!--.*?-->/g, "")).join("");
    const [atOnce, stepwise] = [document.createElement("div"), document.createElement("div")];
    render(view("one"), atOnce);
    let count = 0;
    for (const step of steps(view("one"))) {
      render(step, stepwise);
      count += 1;
    }
    const checked = [...stepwise.querySelectorAll("input")].map((box) => `${box.checked} ${box.disabled}`);
    const same = plain(stepwise) === plain(atOnce);
    // Rendered again at once, nothing is made twice.
    render(view("two"), stepwise);
    render(view("two"), atOnce);
    const sameAgain = plain(stepwise) === plain(atOnce);

    const place = document.createElement("main");
    place.textContent = "before";
    const drawing = new Drawing((/** @type {Node} */ drawn) => place.replaceChildren(drawn));
    const slow = () => { busy(5); return "slow"; };
    drawing.draw(html`${{ toString: slow }}<p>${"one"}</p>${html`<p>${"last"}</p>`}`);
    const first = place.textContent;
    drawing.draw(html`<p>the newest</p>`);
    const second = place.textContent;
    await drawing.inPlace();
    const third = place.textContent;
    drawing.draw(html`<p>and the next</p>`);
    return { count, checked, same, sameAgain, told: [first, second, third, place.textContent] };
  });
  assert.ok(found.count >= 8, `${found.count} steps`);
  assert.deepEqual(found.checked, ["false true", "true false"]);
  assert.ok(found.same && found.sameAgain);
  assert.deepEqual(found.told, ["before", "before", "the newest", "and the next"]);
});

onPhone("what goes wrong in a first drawing is told to who waits for it, and another can follow", async ({ page }) => {
  await page.goto(address("bin.html"));
  await page.locator(".until").waitFor({ state: "detached" });
  const told = await page.evaluate(async () => {
    const { html } = await load("vendor/lit-html/lit-html.js");
    const { Drawing } = await load("view/stepwise.js");
    const broken = () => { throw new Error("this drawing is broken"); };
    /** @param {number} slice @param {boolean} overtaken Whether the next drawing comes before what has begun can end. */
    const drawn = async (slice, overtaken) => {
      const place = document.createElement("main");
      const drawing = new Drawing((/** @type {Node} */ drawn) => place.replaceChildren(drawn), slice);
      const waited = drawing.inPlace().then(() => "came", String);
      let thrown = "";
      try {
        drawing.draw(html`<p class=${{ toString: broken }}></p>`);
      } catch (error) {
        thrown = String(error);
      }
      if (!overtaken) {
        await waited;
      }
      drawing.draw(html`<p>mended</p>`);
      await drawing.inPlace();
      return [thrown, await waited, place.textContent];
    };
    return { atOnce: await drawn(Infinity, false), inSteps: await drawn(0, false), overtaken: await drawn(0, true) };
  });
  const error = "Error: this drawing is broken";
  assert.deepEqual(told, { atOnce: [error, error, "mended"], inSteps: ["", error, "mended"], overtaken: ["", "came", "mended"] });
}, { expected: [/this drawing is broken/] });
