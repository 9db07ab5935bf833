/**
 * Accessibility of every page with the demo in it, in light and in dark: WCAG 2.2 AA, enhanced contrast, target size. Not here:
 * what the pages do (`flows.test.mjs`).
 */

import assert from "node:assert/strict";
import axe from "@axe-core/playwright";
import { address, onPhone } from "./support.mjs";

const PAGES = [
  "index", "new", "camera", "inspection", "steps", "round", "meter", "reference", "level", "photo", "live", "sun", "lamp", "phones", "consistency", "shutter", "listen", "take", "clip", "sheet", "file", "bin", "more", "reset", "seals", "tight", "openings", "glare", "film", "roll", "strip", "words", "compare",
];
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const AxeBuilder = /** @type {any} */ (axe).default ?? axe;

for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
  onPhone(
    `every page is accessible, ${colorScheme}`,
    async ({ page }) => {
      await page.goto(address("index.html"));
      await page.getByRole("button", { name: "Load the demo bench" }).click();
      await page.locator(".camera").nth(4).waitFor();
      const link = await page.locator(".camera a", { hasText: "Corvane" }).first().getAttribute("href");
      const query = new URL(link ?? "", address()).search;
      const faults = [];
      for (const name of PAGES) {
        await page.goto(address(`${name}.html${query}`));
        await page.waitForFunction(() => document.querySelector("main")?.children.length && !document.querySelector("[aria-busy=true]"));
        await page.waitForTimeout(300);
        const builder = new AxeBuilder({ page }).withTags(TAGS).options({ rules: { "color-contrast-enhanced": { enabled: true } } });
        const { violations } = await builder.analyze();
        faults.push(...violations.map((/** @type {any} */ one) => `${name}: ${one.id} (${one.nodes[0].target.join(" ")})`));
        const wide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
        if (wide) {
          faults.push(`${name}: wider than the screen`);
        }
      }
      assert.deepEqual(faults, []);
    },
    { context: { colorScheme } },
  );
}
