// The narrowest telephone: a table to fill in is laid out anew there, and nothing has to be pushed
// sideways.

import assert from "node:assert/strict";
import { test } from "node:test";

import { faults, overflow, targets } from "../lib/access.js";
import { halfInch } from "../lib/cutters.js";
import { atTheBench, handInDemo } from "../lib/start.js";

const here = atTheBench();
const NARROW = { viewport: { width: 360, height: 740 } };

test("wear and readings are filled in on 360 px without pushing a table sideways", async () => {
  const { hand, page, watch, context } = await handInDemo(here, "phone", NARROW);
  const at = await hand.receive("E-1", halfInch);
  await judge(page);
  assert.equal(await shownHeadings(page), 6 * 4, "each field stands under its own heading");
  await hand.seeWear(halfInch);
  await judge(page);
  await hand.follow(hand.button("Keep this plan"));
  await hand.open(`${at}/check`);
  await judge(page);
  await context.close();
  watch.check();
});

test("on a tablet the same table stays a table", async () => {
  const { hand, page, watch, context } = await handInDemo(here, "tablet");
  await hand.receive("E-2", halfInch);
  assert.equal(await shownHeadings(page), 0);
  assert.ok(await page.locator(".cells thead").first().isVisible());
  await judge(page);
  await context.close();
  watch.check();
});

/** Headings beside fields, as far as they are shown. */
function shownHeadings(page) {
  return page.locator(".cells .heading").filter({ visible: true }).count();
}

async function judge(page) {
  const wide = await page.locator(".cells").evaluateAll((tables) =>
    tables.map((one) => one.closest(".wide-table")).map((box) => box.scrollWidth - box.clientWidth),
  );
  assert.ok(wide.every((by) => by <= 1), `tables are wider than their place by ${wide} px`);
  const { grave } = await faults(page);
  const { small } = await targets(page);
  const { by, out } = await overflow(page);
  assert.deepEqual({ grave, small, out, by: Math.max(0, by) }, { grave: [], small: [], out: [], by: 0 });
}
