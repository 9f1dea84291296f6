// A scanner is a keyboard that types fast and ends with Enter.

import assert from "node:assert/strict";
import { test } from "node:test";

import { atTheBench, handInDemo } from "../lib/start.js";

const here = atTheBench();

/** What tags may carry: the number, or the address of the page. */
const CODES = ["K-117", " K-117 ", "http://bench.invalid/cutters/K-117"];

for (const js of [true, false]) {
  test(`a scanned tag finds its cutter, ${js ? "with" : "without"} scripts`, async () => {
    const { hand, page, watch, context } = await handInDemo(here, "tablet", { js });
    for (const code of CODES) {
      await hand.open("/");
      await page.locator("#q").tap();
      await page.keyboard.type(code, { delay: 2 });
      await Promise.all([page.waitForEvent("load"), page.keyboard.press("Enter")]);
      assert.match(page.url(), /\/cutters\/[0-9a-f-]+$/, code);
      assert.equal(await hand.heading(), "K-117");
    }
    await context.close();
    watch.check();
  });
}

test("a scanned tag at the door receives its cutter", async () => {
  const { hand, page, watch, context } = await handInDemo(here, "phone");
  await hand.open("/receive");
  assert.equal(await page.evaluate(() => document.activeElement.id), "number");
  await page.keyboard.type("K-117", { delay: 2 });
  await Promise.all([page.waitForEvent("load"), page.keyboard.press("Enter")]);
  assert.equal(await hand.heading(), "Receive K-117");
  await context.close();
  watch.check();
});

test("a code that nobody knows is told, and can be received as new", async () => {
  const { hand, page, watch, context } = await handInDemo(here, "phone");
  await hand.open("/search?q=ZZ-999");
  assert.match(await page.locator("main").innerText(), /Nothing/);
  await context.close();
  watch.check();
});
