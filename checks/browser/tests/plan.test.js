// The page of a plan: what is needed at the machine first, the rest folded, all of it on paper.

import assert from "node:assert/strict";
import { test } from "node:test";

import { halfInch } from "../lib/cutters.js";
import { atTheBench, handInDemo } from "../lib/start.js";

const here = atTheBench();

/** What is only needed now and then, by its plain heading. */
const FOLDED = ["secondary", "why", "drawings", "expect"];

for (const js of [true, false]) {
  test(`a plan is short on the screen and whole on paper, ${js ? "with" : "without"} scripts`, async () => {
    const { hand, page, watch, context } = await handInDemo(here, "tablet", { js });
    await hand.receive(`F-${js}`, halfInch);
    await hand.seeWear(halfInch);
    const live = page.locator("#live");
    const shown = await live.innerText();
    for (const needed of [/expect/i, /aim/i, /spindle/i, /head angle/i, /relief/i, /finish/i, /Mind/]) {
      assert.match(shown, needed, "it is needed at the machine");
    }
    const long = await live.evaluate((one) => one.getBoundingClientRect().height);
    for (const name of FOLDED) {
      const fold = live.locator(`details[data-fold="${name}"]`);
      const inside = fold.locator("> :not(summary)").first();
      assert.equal(await inside.isVisible(), false, `${name} is folded`);
      await fold.locator("> summary").tap();
      assert.equal(await inside.isVisible(), true, `${name} unfolds`);
    }
    const whole = await live.evaluate((one) => one.getBoundingClientRect().height);
    assert.ok(long < whole / 2, `${long} px of ${whole}`);
    for (const name of FOLDED) await live.locator(`details[data-fold="${name}"] > summary`).tap();
    await page.emulateMedia({ media: "print" });
    for (const name of FOLDED) {
      const inside = live.locator(`details[data-fold="${name}"] > :not(summary)`).first();
      const high = await inside.evaluate((one) => one.getBoundingClientRect().height);
      assert.ok(high > 10 && (await inside.isVisible()), `${name} stands on paper`);
    }
    await context.close();
    watch.check();
  });
}

test("what was unfolded stays so while settings are changed", async () => {
  const { hand, page, watch, context } = await handInDemo(here);
  await hand.receive("F-3", halfInch);
  await hand.seeWear(halfInch);
  const expect = page.locator('details[data-fold="expect"]');
  await expect.locator("> summary").tap();
  await hand.change(() => hand.type([["rest_inset", "0.010"]]));
  assert.equal(await expect.evaluate((one) => one.open), true);
  const drawings = page.locator('details[data-fold="drawings"]');
  assert.equal(await drawings.evaluate((one) => one.open), true, "a trial shows its drawing");
  await context.close();
  watch.check();
});
