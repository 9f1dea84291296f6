// Every page of the bench, with a cutter at each stage, for whoever looks at all of them.

import assert from "node:assert/strict";

import { carbide, halfInch, hopeless } from "./cutters.js";
import * as journey from "./journey.js";

/** Pages that stand by themselves. */
const PLAIN = [
  ["tray", "/"],
  ["tray-back", "/?stage=handed%20back"],
  ["order", "/order"],
  ["study", "/study"],
  ["who", "/who"],
  ["search", "/search?q=K-1"],
  ["search-nothing", "/search?q=ZZ-9"],
  ["receive", "/receive"],
  ["receive-unknown", "/receive?number=ZZ-9"],
  ["receive-new", "/receive/new?number=ZZ-9"],
  ["take-in", "/take-in"],
  ["wheels", "/wheels"],
  ["wheel-new", "/wheels/new"],
  ["machines", "/machines"],
  ["machine-new", "/machines/new"],
  ["tables", "/tables"],
  ["topic", "/tables/shrink"],
  ["prices", "/prices"],
  ["people", "/people"],
  ["day", "/day"],
  ["book", "/book"],
  ["no-page", "/nowhere"],
];

/** Walks cutters up to each stage in the demo shop; gives names and paths of all pages. */
export async function everyPage(hand) {
  const pages = [...PLAIN];
  const add = (at, ...names) => {
    for (const name of names) pages.push([name.replaceAll("/", "-").replace("?", "-"), at + name]);
  };
  const worn = await hand.receive("P-1", halfInch);
  add(worn, "/receive", "/wear", "/change");
  await hand.seeWear(halfInch);
  add(worn, "/plan", "/plan?rest_inset=0.01", "/cost", "/cost?change=25&parts[0]=120&wear[0]=0.2 mm");
  await studied(hand, worn);
  const planned = await hand.receive("P-2", carbide);
  await hand.seeWear(carbide);
  await journey.plan(hand, carbide);
  add(planned, "/sheet", "/view", "/grind?step=1", "/grind?step=9", "/grind?step=99", "/check");
  const back = await journey.whole(hand, "P-3", halfInch);
  add(back.at, "", "/checked", "/back", "/tag", "/record");
  const corrected = await again(hand, "P-5");
  add(corrected, "/checked", "/grind?step=1", "/grind?step=2", "/sheet");
  const ended = await withEnd(hand, "P-6");
  add(ended.at, "/plan?end=ground%20too", "/sheet", ...ended.steps, "/grind?step=99", "/back");
  const left = await journey.unground(hand, "P-4", hopeless);
  add(left.at, "/plan", "");
  return unique(pages);
}

/** A cutter whose corrective grind is set up. */
async function again(hand, number) {
  const at = await hand.receive(number, halfInch);
  await hand.seeWear(halfInch);
  await hand.follow(hand.button("Keep this plan"));
  await journey.grind(hand, number);
  const land = await journey.expectedLand(hand);
  await hand.readLands((share) => String((land + halfInch.wide * share).toFixed(4)));
  await hand.weigh();
  await hand.follow(hand.button("Set up the corrective grind"));
  return at;
}

/** A cutter whose end is planned too; its first steps at the end are done. */
async function withEnd(hand, number) {
  const at = await hand.receive(number, halfInch);
  await hand.seeWear(halfInch);
  await hand.change(() => hand.choose("machine", "universal bench"));
  await hand.change(() => hand.choose("end", "ground too"));
  await hand.page.getByText("the end is planned too").waitFor({ state: "attached" });
  // What comes off the length stands on the sheet alone, so the answer itself is waited for.
  const answered = hand.page.waitForResponse((answer) => answer.url().includes("/plan/live"));
  await hand.type([["off_length", "0.010"]]);
  await answered;
  await hand.follow(hand.button("Keep this plan"));
  const first = await journey.stepOf(hand, "wheel for the end");
  const last = await journey.stepOf(hand, "end secondary");
  const steps = [first, first + 1, first + 2, first + 3, last].map((step) => `/grind?step=${step}`);
  await hand.open(`${at}${steps[0]}`);
  assert.match(await hand.heading(), /wheel for the end/);
  await hand.step();
  await hand.open(`${at}${steps[0]}`);
  assert.equal(await hand.button("Undo this step").count(), 1, "the end's first step is not done");
  return { at, steps };
}

/** Studies a plan, and waits until the answer stands on its page. */
export async function studied(hand, at) {
  await hand.open(`${at}/plan`);
  await hand.follow(hand.button("Which setting matters?"));
  for (let turn = 0; turn < 300; turn += 1) {
    await hand.open("/study");
    if ((await hand.page.locator("main svg").count()) > 0) return;
    await hand.page.waitForTimeout(500);
  }
  throw new Error("the study has no end");
}

function unique(pages) {
  const taken = new Map();
  return pages.map(([name, path]) => {
    const plain = name.replace(/^-/, "") || "cutter";
    const count = (taken.get(plain) ?? 0) + 1;
    taken.set(plain, count);
    return { name: count > 1 ? `${plain}-${count}` : plain, path };
  });
}

/** Keeps those that the program has; a page that is not there yet is told by name. */
export async function present(page, pages) {
  const there = [];
  const missing = [];
  for (const one of pages) {
    const status = (await page.request.get(one.path)).status();
    if (status === 200 || one.name === "no-page") there.push(one);
    else missing.push(`${one.name} (${status})`);
  }
  return { there, missing };
}
