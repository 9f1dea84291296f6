// Takes the pictures of the bench app that the user's guide shows, in the demo shop on a tablet:
// into docs/guide/pictures, or the folder that PICTURES names.

import { mkdir } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";

import { Bench, freshFolder } from "./lib/bench.js";
import { openBrowser, openScreen, picture } from "./lib/browser.js";
import { carbide, halfInch } from "./lib/cutters.js";
import { Hand } from "./lib/hand.js";
import * as journey from "./lib/journey.js";

const here = path.dirname(fileURLToPath(import.meta.url));
const folder = process.env.PICTURES ?? path.join(here, "../../docs/guide/pictures");

const place = await freshFolder();
const bench = await Bench.open(`${place.folder}/book.sqlite`);
const browser = await openBrowser();
try {
  await mkdir(folder, { recursive: true });
  const screen = await openScreen(browser, bench, "tablet");
  const hand = new Hand(screen);
  await hand.enterDemo();
  await hand.sayWho("IV");
  /** The upper part of a page, or what begins at a place on it, without parts half way. */
  const take = async (name, at, height = 768, from = "body") => {
    await screen.page.goto(at);
    await screen.page.waitForTimeout(300);
    const begins = (one) => Math.round(one.getBoundingClientRect().top + window.scrollY);
    const y = await screen.page.locator(from).first().evaluate(begins);
    const clip = { x: 0, y, width: 1024, height };
    await picture(screen.page, path.join(folder, `bench-${name}.png`), { clip });
  };
  await take("tray", "/");
  const planned = await hand.receive("P-1", carbide);
  await hand.seeWear(carbide);
  await journey.plan(hand, carbide);
  await take("plan", `${planned}/plan`, 1250, "#live");
  // The picture is of a mark to feed to, whichever number its step has.
  await hand.open(`${planned}/grind`);
  const pass = await journey.stepOf(hand, "primary, pass 1");
  await take("grind", `${planned}/grind?step=${pass}`);
  const taper = await hand.receive("P-2", halfInch);
  await hand.seeWear(halfInch);
  await journey.plan(hand, halfInch);
  await journey.grind(hand, "P-2");
  await journey.findTaper(hand, halfInch);
  await take("checked", `${taper}/checked`, 900);
  await journey.correct(hand, "P-2");
  await journey.handBack(hand, "P-2");
  await take("tag", `${taper}/tag`);
  console.log(`5 pictures in ${folder}`);
} finally {
  await browser.close();
  await bench.stop();
  await place.remove();
}
