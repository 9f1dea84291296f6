// Every page on both screens: read by axe, reached by keys, hit by gloves, no wider than the
// screen, and asking nothing of any other host.

import assert from "node:assert/strict";
import { test } from "node:test";

import { faults, overflow, tabbing, targets } from "../lib/access.js";
import { SIZES } from "../lib/browser.js";
import { everyPage, present } from "../lib/pages.js";
import { atTheBench, handInDemo } from "../lib/start.js";

const here = atTheBench();

test("every page can be read, reached and hit", async (t) => {
  const walked = await handInDemo(here);
  const { there, missing } = await present(walked.page, await everyPage(walked.hand));
  if (missing.length > 0) t.diagnostic(`not there yet: ${missing.join(", ")}`);
  for (const size of Object.keys(SIZES)) {
    const { page, watch, context } = await handInDemo(here, size);
    for (const { name, path } of there) {
      await t.test(`${name} on a ${size}`, async (part) => {
        await page.goto(path);
        await judge(page, part, size);
      });
    }
    await context.close();
    await t.test(`no request of the ${size} leaves the bench, no page complains`, () => {
      watch.check();
    });
  }
  await walked.context.close();
  walked.watch.check();
});

/** Tells everything that is wrong with a page at once. */
async function judge(page, part, size) {
  const { grave, minor } = await faults(page);
  minor.forEach((words) => part.diagnostic(words));
  const { small, wished } = await targets(page);
  if (wished.length > 0) part.diagnostic(`below what gloves wish: ${wished.join(", ")}`);
  const { by, out } = await overflow(page);
  const wrong = [...grave, ...small.map((words) => `too small: ${words}`)];
  if (by > 0) wrong.push(`${by} px wider than the screen: ${out.join(", ")}`);
  if (size === "tablet") {
    const { missed, unseen, count } = await tabbing(page);
    if (count === 0) wrong.push("no key reaches anything");
    wrong.push(...missed.map((words) => `not reached by keys: ${words}`));
    wrong.push(...unseen.map((words) => `shows no focus: ${words}`));
  }
  assert.deepEqual(wrong, []);
}
