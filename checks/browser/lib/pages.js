// Every page of the bench, with a cutter at each stage, for whoever looks at all of them.

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
  const planned = await hand.receive("P-2", carbide);
  await hand.seeWear(carbide);
  await journey.plan(hand, carbide);
  add(planned, "/sheet", "/view", "/grind?step=1", "/grind?step=9", "/grind?step=99", "/check");
  const back = await journey.whole(hand, "P-3", halfInch);
  add(back.at, "", "/checked", "/back", "/tag", "/record");
  const left = await journey.unground(hand, "P-4", hopeless);
  add(left.at, "/plan", "");
  return unique(pages);
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
