// What most tests begin with: the program on a fresh book, a browser, and the demo shop entered.

import assert from "node:assert/strict";
import { after, before } from "node:test";

import { Bench, freshFolder } from "./bench.js";
import { openBrowser, openScreen } from "./browser.js";
import { Hand } from "./hand.js";

/** The address of a server with an empty book, as checks/postgres.sh sets it. */
const SERVER = "BOOK_POSTGRES";
/** Set by whoever has no PostgreSQL and knows it. */
const WITHOUT = "BOOK_WITHOUT_POSTGRES";

/** Where a book may lie: in a file of its own, and on a server unless it is said that none is there. */
export const PLACES = process.env[WITHOUT] ? ["in a file"] : ["in a file", "on a server"];

/** The book on the server, which all tests of a run share. */
export function serverBook() {
  const server = process.env[SERVER];
  assert.ok(server, `run this through checks/postgres.sh, which sets ${SERVER}, or set ${WITHOUT}=1`);
  return server;
}

/** Starts all of it before the tests of a file or a suite, and takes it down behind them. */
export function atTheBench(where = "in a file") {
  const here = {};
  before(async () => {
    here.place = await freshFolder();
    const isOnServer = where === "on a server";
    here.book = isOnServer ? serverBook() : `${here.place.folder}/book.sqlite`;
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
