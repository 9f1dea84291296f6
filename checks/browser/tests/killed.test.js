// The program is killed in the middle of a journey; after a start all that was acknowledged is
// there, and the journey goes on.

import assert from "node:assert/strict";
import { describe, test } from "node:test";

import { Bench, bookCheck } from "../lib/bench.js";
import { openScreen } from "../lib/browser.js";
import { halfInch } from "../lib/cutters.js";
import { Hand } from "../lib/hand.js";
import { record } from "../lib/journey.js";
import { atTheBench, PLACES } from "../lib/start.js";

/** Takes the program away and starts it again where it was. */
async function powerCut(here) {
  const { port } = here.bench;
  await here.bench.kill();
  here.bench = await Bench.open(here.book, { port });
}

/** Sends a note as a form does; whether the bench said that it has it. */
async function noted(address, hand, at, words) {
  const headers = { origin: address };
  try {
    const shown = await hand.page.request.get(at);
    const [, seen] = /name="seen" value="(\d+)"/.exec(await shown.text());
    const form = { seen, words };
    const sent = { form, headers, maxRedirects: 0 };
    return (await hand.page.request.post(`${at}/note`, sent)).status() === 303;
  } catch {
    return false;
  }
}

for (const where of PLACES) {
  describe(`a book ${where}`, () => {
    const here = atTheBench(where);

    test("nothing that was acknowledged is missing after a kill", async () => {
      const { context, page, ...screen } = await openScreen(here.browser, here.bench, "tablet");
      const hand = new Hand({ page, ...screen });
      await hand.sayWho("KC");
      const at = await hand.receive("KILL-1", halfInch);
      await powerCut(here);
      await hand.seeWear(halfInch);
      await hand.open(`${at}/record`);
      const before = await record(hand);
      await powerCut(here);
      await hand.open(`${at}/record`);
      assert.deepEqual(await record(hand), before);
      assert.ok(before.some((line) => /received/i.test(line)), `no arrival in ${before}`);
      assert.ok(before.some((line) => /wear/i.test(line)), `no wear in ${before}`);
      await context.close();
    });

    test("a kill among quick writes loses none that was answered", async () => {
      const { context, page, ...screen } = await openScreen(here.browser, here.bench, "tablet");
      const hand = new Hand({ page, ...screen });
      await hand.sayWho("KC");
      const at = await hand.receive("KILL-2", halfInch);
      const answered = [];
      const cut = setTimeout(() => here.bench.child.kill("SIGKILL"), 1500);
      for (let turn = 0; turn < 500 && here.bench.child.signalCode === null; turn += 1) {
        if (await noted(here.bench.address, hand, at, `note ${turn}.`)) answered.push(`note ${turn}.`);
      }
      clearTimeout(cut);
      assert.ok(answered.length > 0, "it was killed before anything was written");
      await powerCut(here);
      await hand.open(`${at}/record`);
      const kept = (await record(hand)).join("\n");
      for (const words of answered) assert.ok(kept.includes(words), `${words} is lost`);
      await context.close();
    });

    test("the book is sound after all that", async () => {
      await here.bench.stop();
      const { code, said } = bookCheck(here.book);
      assert.equal(code, 0, said);
    });
  });
}
