// The first day of a shop: a machine is described and a wheel entered in an empty book, through the
// forms alone, and a cutter goes from arrival to tag; on a book in a file, and on a server.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { Bench, bookCheck, freshFolder } from "../lib/bench.js";
import { openBrowser, openScreen } from "../lib/browser.js";
import { halfInch, hopeless } from "../lib/cutters.js";
import { machine, wheel } from "../lib/firstday.js";
import { Hand } from "../lib/hand.js";
import { check, grind, handBack, record, unground } from "../lib/journey.js";
import { PLACES, serverBook } from "../lib/start.js";

let browser;
before(async () => {
  browser = await openBrowser();
});
after(() => browser?.close());

test("a first day with a book in a file, on a tablet", async () => {
  const place = await freshFolder();
  const book = `${place.folder}/book.sqlite`;
  await firstDay(book, "tablet", true);
  const { code, said } = bookCheck(book);
  assert.equal(code, 0, said);
  await place.remove();
});

test("a first day without scripts, on a telephone", async () => {
  const place = await freshFolder();
  await firstDay(`${place.folder}/book.sqlite`, "phone", false);
  await place.remove();
});

test("a first day with a book on a server, three cutters on a tablet", async (t) => {
  if (!PLACES.includes("on a server")) return t.skip("there is no server");
  await firstDay(serverBook(), "tablet", true, async (hand) => {
    const done = await oneCutter(hand, "N-2");
    assert.ok(done.some((line) => /handed back/i.test(line)), done.join("; "));
    const left = await unground(hand, "N-3", hopeless);
    assert.ok(!left.done.some((line) => /^ground/i.test(line)), "the record says it was ground");
  });
  const { code, said } = bookCheck(serverBook());
  assert.equal(code, 0, said);
});

async function firstDay(book, size, js, more = async () => {}) {
  const bench = await Bench.open(book);
  try {
    const { page, watch, context } = await openScreen(browser, bench, size, { js });
    const hand = new Hand({ page, js, size });
    await hand.open("/");
    assert.match(await page.locator("main").innerText(), /The book is still empty/);
    await hand.sayWho("IV");
    await describeMachine(hand);
    await enterWheel(hand);
    const done = await oneCutter(hand, "N-1");
    for (const of of [/received/i, /wear/i, /plan/i, /ground/i, /check/i, /handed back/i]) {
      assert.ok(done.some((line) => of.test(line)), `${of} in ${done}`);
    }
    await more(hand);
    await context.close();
    watch.check();
  } finally {
    await bench.stop();
  }
}

async function describeMachine(hand) {
  await hand.open("/");
  await hand.follow(hand.link("Describe your machine"));
  await hand.standIn("in");
  await hand.type(machine.typed);
  for (const [name, label] of machine.taps) await hand.choose(name, label);
  for (const [name, value] of machine.ticks) await hand.tick(name, value);
  for (const [role, dial] of Object.entries(machine.axes)) {
    const key = await hand.keyOf(".role", role);
    await hand.type(Object.entries(dial).map(([name, value]) => [`${key}.${name}`, value]));
  }
  const feed = await hand.keyOf(".role", "cross feed");
  await hand.pick(`${feed}.reads`, "radius");
  const head = await hand.keyOf(".role", "head swivel");
  await hand.pick(`${head}.zero`, "parallel to travel");
  await hand.follow(hand.page.locator("#main-form button.main"));
  assert.equal(await hand.heading(), machine.name, await hand.problems());
}

async function enterWheel(hand) {
  await hand.open("/wheels/new");
  await hand.standIn("in");
  await hand.type(wheel.typed);
  for (const [name, label] of wheel.taps) await hand.choose(name, label);
  await hand.follow(hand.button("Put it on the rack"));
  assert.equal(await hand.heading(), wheel.number, await hand.problems());
  assert.equal(await hand.page.getByText("No use on").count(), 0);
}

async function oneCutter(hand, number) {
  await hand.receive(number, halfInch);
  await hand.seeWear(halfInch);
  const live = hand.page.locator("#live");
  assert.match(await live.innerText(), /expect/i, await live.innerText());
  await hand.follow(hand.button("Keep this plan"));
  await grind(hand, number);
  await check(hand, number, halfInch);
  await handBack(hand, number);
  return record(hand);
}
