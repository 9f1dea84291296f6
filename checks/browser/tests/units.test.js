// Inches and millimetres change places in the middle of a form, and nothing that was typed is lost.

import assert from "node:assert/strict";
import { test } from "node:test";

import { halfInch } from "../lib/cutters.js";
import { atTheBench, handInDemo } from "../lib/start.js";

const here = atTheBench();

/** What a hand has typed so far: fractions, a unit of its own, and something that is wrong. */
const HALF = [
  ["cutter.number", "U-1"],
  ["cutter.diameter", "1-1/4"],
  ["cutter.teeth", "6"],
  ["cutter.helix", "30"],
  ["cutter.flute_length", "2 1/2"],
  ["cutter.overall_length", "101.6 mm"],
  ["cutter.shank_diameter", "no idea"],
  ["_from", "mill 2"],
];

for (const js of [true, false]) {
  test(`a half-filled form keeps all of it, ${js ? "with" : "without"} scripts`, async () => {
    const { hand, watch, context } = await handInDemo(here, "tablet", { js });
    await hand.open("/receive/new?number=U-1");
    await hand.standIn("in");
    await hand.type(HALF);
    await hand.choose("cutter.helix_hand", "left");
    await hand.choose("cutter.material", "HSS");
    const typed = await hand.entries();
    await hand.follow(hand.units("mm"));
    const inMm = await hand.entries();
    assert.equal(inMm["cutter.diameter"], "1-1/4 in", "a fraction of an inch stays one");
    assert.equal(inMm["cutter.flute_length"], "2 1/2 in");
    assert.equal(inMm["cutter.overall_length"], "101.6 mm");
    assert.equal(inMm["cutter.shank_diameter"], "no idea");
    assertAlike(inMm, typed, ["cutter.diameter", "cutter.flute_length"]);
    await hand.follow(hand.units("in"));
    assertAlike(await hand.entries(), inMm, []);
    await hand.type([["cutter.shank_diameter", "1-1/4"], ["cutter.rake", "10"]]);
    await hand.follow(hand.button("Receive it"));
    assert.equal(await hand.heading(), "Wear of U-1");
    assert.match(await hand.page.locator("main").innerText(), /1[- ]1\/4 in/);
    await hand.open("/search?q=U-1");
    await hand.follow(hand.page.getByRole("link", { name: "Put it right" }));
    await hand.type([["_why", "taken away again"], ["cutter.number", `U-${js}`]]);
    await hand.follow(hand.button("Put it right"));
    await context.close();
    watch.check();
  });
}

test("readings that were typed in inches are weighed as inches after the switch", async () => {
  const { hand, watch, context } = await handInDemo(here, "phone");
  const at = await hand.receive("U-9", halfInch);
  await hand.type(halfInch.wear);
  await hand.follow(hand.units("mm"));
  await hand.follow(hand.button("That is how it looks"));
  await hand.open(at);
  await hand.follow(hand.units("in"));
  assert.match(await hand.page.locator("main").innerText(), /0\.4965 in/);
  await context.close();
  watch.check();
});

/** Every entry as it was, but for those of the given names. */
function assertAlike(entries, before, but) {
  const rest = (all) => Object.entries(all).filter(([name]) => !but.includes(name));
  assert.deepEqual(Object.fromEntries(rest(entries)), Object.fromEntries(rest(before)));
}
