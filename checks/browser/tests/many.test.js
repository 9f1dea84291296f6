// Eight browsers at once: nothing that was acknowledged is lost, and who comes second is told.

import assert from "node:assert/strict";
import { describe, test } from "node:test";

import { bookCheck } from "../lib/bench.js";
import { openScreen } from "../lib/browser.js";
import { halfInch } from "../lib/cutters.js";
import { Hand } from "../lib/hand.js";
import { atTheBench, PLACES } from "../lib/start.js";

const HANDS = 8;
const NOTES = 3;

/** Writes a note; gives whether the bench took it, and fails on any other answer. */
async function note(hand, at, words) {
  const summary = hand.page.locator("main details > summary", { hasText: "Note something" });
  await hand.open(at);
  await summary.tap();
  await hand.page.locator("#note").fill(words);
  const answered = hand.page.waitForResponse((answer) => answer.request().method() === "POST");
  await hand.follow(hand.button("Note it"));
  const status = (await answered).status();
  if (status === 409) {
    assert.equal(await hand.heading(), "Somebody else wrote first");
    return false;
  }
  assert.equal(status, 303, words);
  return true;
}

/** Writes it again until it is taken: told of a conflict, a hand looks again. */
async function insist(hand, at, words) {
  let refused = 0;
  while (!(await note(hand, at, words))) {
    refused += 1;
    assert.ok(refused < 100, "it is never taken");
  }
  return refused;
}

for (const where of PLACES) {
  describe(`a book ${where}`, () => {
    const here = atTheBench(where);

    test("eight hands write to cutters of their own and to one of all", async (t) => {
      const screens = await Promise.all(
        Array.from({ length: HANDS }, () => openScreen(here.browser, here.bench, "tablet")),
      );
      const hands = screens.map((screen) => new Hand(screen));
      for (const [at, hand] of hands.entries()) await hand.sayWho(`H${at}`);
      const shared = await hands[0].receive("M-ALL", halfInch);
      const own = await Promise.all(hands.map((hand, at) => hand.receive(`M-${at}`, halfInch)));
      const told = await Promise.all(
        hands.map(async (hand, at) => {
          let refused = 0;
          for (let turn = 0; turn < NOTES; turn += 1) {
            refused += await insist(hand, shared, `all ${at}.${turn}`);
            assert.equal(await insist(hand, own[at], `own ${at}.${turn}`), 0);
          }
          return refused;
        }),
      );
      t.diagnostic(`${told.reduce((sum, one) => sum + one)} conflicts were told`);
      await hands[0].open(`${shared}/record`);
      const kept = await hands[0].page.locator("main tbody").innerText();
      for (let at = 0; at < HANDS; at += 1) {
        await hands[at].open(`${own[at]}/record`);
        const ofOwn = await hands[at].page.locator("main tbody").innerText();
        for (let turn = 0; turn < NOTES; turn += 1) {
          assertOnce(kept, `all ${at}.${turn}`);
          assertOnce(ofOwn, `own ${at}.${turn}`);
        }
      }
      for (const { context, watch } of screens) {
        await context.close();
        watch.check();
      }
    });

    test("two who looked at the same page do not both write", async () => {
      const open = async () => new Hand(await openScreen(here.browser, here.bench, "tablet"));
      const [first, second] = [await open(), await open()];
      await first.sayWho("A");
      await second.sayWho("B");
      const at = await first.receive("M-TWO", halfInch);
      for (const hand of [first, second]) await hand.open(`${at}/wear`);
      await first.seeWear(halfInch);
      const answered = second.page.waitForResponse((answer) => answer.request().method() === "POST");
      await second.seeWear(halfInch);
      assert.equal((await answered).status(), 409);
      assert.match(await second.page.locator("main").innerText(), /Nothing of yours was written/);
    });

    test("the book is sound afterwards", async () => {
      assert.deepEqual(await here.bench.stop(), { code: 0, signal: null });
      const { code, said } = bookCheck(here.book);
      assert.equal(code, 0, said);
    });
  });
}

function assertOnce(text, words) {
  assert.equal(text.split(words).length - 1, 1, `${words} stands there once`);
}
