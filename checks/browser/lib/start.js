// What most tests begin with: the program on a fresh book, a browser, and the demo shop entered.

import { after, before } from "node:test";

import { Bench, freshFolder } from "./bench.js";
import { openBrowser, openScreen } from "./browser.js";
import { Hand } from "./hand.js";

/** Starts all of it before the tests of a file, and takes it down behind them. */
export function atTheBench() {
  const here = {};
  before(async () => {
    here.place = await freshFolder();
    here.book = `${here.place.folder}/book.sqlite`;
    here.bench = await Bench.open(here.book);
    here.browser = await openBrowser();
  });
  after(async () => {
    await here.browser?.close();
    await here.bench?.stop();
    await here.place?.remove();
  });
  return here;
}

/** A hand with its own browser profile, who has said who it is in the demo shop. */
export async function handInDemo(here, size = "tablet", { who = "IV", ...more } = {}) {
  const screen = await openScreen(here.browser, here.bench, size, more);
  const hand = new Hand(screen);
  await hand.enterDemo();
  await hand.sayWho(who);
  return { ...screen, hand };
}
