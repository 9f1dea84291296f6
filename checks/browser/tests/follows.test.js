// How soon the section follows a changed setting: from the key to the picture on the screen.

import assert from "node:assert/strict";
import { test } from "node:test";

import { carbide, halfInch } from "../lib/cutters.js";
import { atTheBench, handInDemo } from "../lib/start.js";

/**
 * What half of the changes take at most, in milliseconds. The goal is 100; this browser draws in
 * software, and it waits for two whole frames to be sure that the picture is there.
 */
const HALF_WITHIN_MS = 150;

/**
 * What the browser itself takes at most of that, to put the answer into the page and to draw it,
 * where nothing else runs on the machine. Where it takes longer, everything may by as many times.
 */
const BROWSER_MS = 40;

/** Changes of one setting; the first few warm the browser up and do not count. */
const CHANGES = 24;
const WARMING_UP = 4;

const here = atTheBench();

for (const [words, cutter, setting] of [
  ["a half-inch cutter's rest", halfInch, { name: "rest_inset", step: 0.0005 }],
  ["a carbide cutter's tooth", carbide, { name: "relief_setting", step: 0.05 }],
]) {
  test(`the section follows ${words}`, async (t) => {
    const { hand, page, watch, context } = await handInDemo(here);
    await hand.receive(`F-${setting.name}`, cutter);
    await hand.seeWear(cutter);
    await hand.change(() => hand.choose("machine", cutter.machine));
    await hand.unfold(hand.field(setting.name));
    const took = [];
    for (let change = 1; change <= CHANGES; change += 1) {
      const before = await hand.picture();
      const value = (setting.step * change).toFixed(4);
      took.push(await page.evaluate(followed, [setting.name, value]));
      assert.ok((await hand.picture()) !== before, `the picture did not follow ${value}`);
    }
    const counted = took.slice(WARMING_UP);
    const half = (part) => {
      const all = counted.map((times) => times[part]).sort((a, b) => a - b);
      return all[Math.floor(all.length / 2)];
    };
    const parts = ["wait", "answer", "swap", "draw"];
    const told = parts.map((part) => `${part} ${half(part).toFixed(0)}`).join(", ");
    const bytes = (counted.at(-1).bytes / 1e3).toFixed(0);
    const slowed = Math.max(1, (half("swap") + half("draw")) / BROWSER_MS);
    const within = HALF_WITHIN_MS * slowed;
    const whole = `${half("whole").toFixed(0)} ms in the median (${told}), ${bytes} kB each`;
    t.diagnostic(`${whole}; the machine is slowed down ${slowed.toFixed(1)} times`);
    assert.ok(half("whole") <= within, `${whole}, more than ${within.toFixed(0)} ms`);
    await context.close();
    watch.check();
  });
}

/**
 * Runs in the page: writes into a field as a hand does, and gives the milliseconds until the answer
 * was asked for, until it came, until it stood in the page, and until it was drawn: the second
 * frame after the swap begins when the first one, which shows it, is done.
 */
function followed([name, value]) {
  const field = document.querySelector(`#main-form [name="${name}"]`);
  const at = {};
  const once = (event, note) => document.addEventListener(event, note, { once: true });
  const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
  return new Promise((resolve) => {
    once("htmx:beforeRequest", () => { at.asked = performance.now(); });
    once("htmx:beforeSwap", (event) => {
      at.answered = performance.now();
      at.bytes = event.detail.xhr.responseText.length;
    });
    once("htmx:afterSwap", async () => {
      at.swapped = performance.now();
      await frame();
      await frame();
      const drawn = performance.now();
      resolve({
        wait: at.asked - at.typed,
        answer: at.answered - at.asked,
        swap: at.swapped - at.answered,
        draw: drawn - at.swapped,
        whole: drawn - at.typed,
        bytes: at.bytes,
      });
    });
    at.typed = performance.now();
    field.value = value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
}
