// Takes a picture of every page on both screens into the folder that SHOTS names, to be looked at.

import { mkdir } from "node:fs/promises";
import path from "node:path";

import { Bench, freshFolder } from "./lib/bench.js";
import { openBrowser, openScreen, picture, SIZES } from "./lib/browser.js";
import { Hand } from "./lib/hand.js";
import { everyPage, present } from "./lib/pages.js";

const folder = process.env.SHOTS;
if (!folder) {
  console.error("name a folder: SHOTS=FOLDER npm run shots");
  process.exit(1);
}

/** A hand in the demo shop on that screen. */
async function inDemo(browser, bench, size) {
  const screen = await openScreen(browser, bench, size);
  const hand = new Hand(screen);
  await hand.enterDemo();
  await hand.sayWho("IV");
  return { ...screen, hand };
}

const place = await freshFolder();
const bench = await Bench.open(`${place.folder}/book.sqlite`);
const browser = await openBrowser();
try {
  await mkdir(folder, { recursive: true });
  const walked = await inDemo(browser, bench, "tablet");
  const { there, missing } = await present(walked.page, await everyPage(walked.hand));
  for (const size of Object.keys(SIZES)) {
    const { page } = await inDemo(browser, bench, size);
    for (const { name, path: at } of there) {
      await page.goto(at);
      await page.waitForTimeout(150);
      await picture(page, path.join(folder, `${size}-${name}.png`));
    }
  }
  console.log(`${there.length} pages on ${Object.keys(SIZES).length} screens in ${folder}`);
  if (missing.length > 0) console.log(`not there yet: ${missing.join(", ")}`);
} finally {
  await browser.close();
  await bench.stop();
  await place.remove();
}
