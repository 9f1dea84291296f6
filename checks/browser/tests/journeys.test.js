// Three cutters from arrival to tag, on both screens, with scripts and without.

import assert from "node:assert/strict";
import { test } from "node:test";

import { SIZES } from "../lib/browser.js";
import { carbide, halfInch, hopeless } from "../lib/cutters.js";
import { unground, whole } from "../lib/journey.js";
import { atTheBench, handInDemo } from "../lib/start.js";

const here = atTheBench();

for (const size of Object.keys(SIZES)) {
  for (const js of [true, false]) {
    test(`three cutters on a ${size}, ${js ? "with" : "without"} scripts`, async (t) => {
      const { hand, watch, context } = await handInDemo(here, size, { js });
      const letter = `${size[0]}${js ? "s" : "p"}`.toUpperCase();
      for (const [at, cutter] of [halfInch, carbide].entries()) {
        const { times, steps, done } = await whole(hand, `${letter}-${at + 1}`, cutter);
        for (const [what, ms] of times) t.diagnostic(`${what}: ${ms.toFixed(0)} ms to a new picture`);
        assert.ok(steps > 5, `only ${steps} steps`);
        assertInOrder(done, [/received/i, /wear/i, /plan/i, /ground/i, /check/i, /handed back/i]);
      }
      const { done } = await unground(hand, `${letter}-3`, hopeless);
      assertInOrder(done, [/received/i, /wear/i, /plan/i, /handed back/i]);
      assert.ok(!done.some((line) => /^ground/i.test(line)), "the record says it was ground");
      await context.close();
      watch.check();
    });
  }
}

/** Whether lines that match stand in that order, the oldest first or the latest. */
function assertInOrder(lines, expected) {
  const places = expected.map((of) => lines.findIndex((line) => of.test(line)));
  const told = `in order ${places} of ${JSON.stringify(lines)}`;
  assert.ok(places.every((place) => place >= 0), told);
  const up = places.every((place, at) => at === 0 || place > places[at - 1]);
  const down = places.every((place, at) => at === 0 || place < places[at - 1]);
  assert.ok(up || down, told);
}
