// What a page must be for whoever cannot use it the usual way: measured in the page itself.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** WCAG 2.2, success criterion 2.5.8. */
const TARGET_PX_MIN = 24;

/** What gloves would wish. */
const TARGET_PX_WISHED = 44;

/** What axe finds, each in a line with its weight. */
export async function faults(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(async () => {
    const { violations } = await globalThis.axe.run(document, { resultTypes: ["violations"] });
    const places = (nodes) => nodes.slice(0, 3).map((node) => node.target.join(" ")).join("; ");
    return violations.map(({ id, impact, help, nodes }) => ({
      impact,
      words: `${id}: ${help} (${nodes.length} times: ${places(nodes)})`,
    }));
  });
  const isGrave = ({ impact }) => impact === "serious" || impact === "critical";
  const words = (all) => all.map((one) => `${one.impact}: ${one.words}`);
  return {
    grave: words(found.filter(isGrave)),
    minor: words(found.filter((one) => !isGrave(one))),
  };
}

/** Links, buttons and fields that are too small, and those smaller than gloves would wish. */
export async function targets(page) {
  const all = await page.evaluate(() => {
    const shown = (one) => one.checkVisibility({ visibilityProperty: true });
    const inText = (one) =>
      one.matches("a") && getComputedStyle(one).display === "inline" && one.closest("p, td, li");
    return [...document.querySelectorAll("a, button, input, select, textarea, summary")]
      .filter((one) => shown(one) && !one.matches(".skip, [type=hidden]") && !inText(one))
      .map((one) => {
        const inLabel = one.matches("[type=radio], [type=checkbox]") && one.closest("label");
        const { width, height } = (inLabel || one).getBoundingClientRect();
        const words = (one.innerText || one.name || "").trim().replace(/\s+/g, " ").slice(0, 40);
        return { words: `${one.tagName.toLowerCase()} “${words}”`, width, height };
      });
  });
  const told = ({ words, width, height }) =>
    `${words} ${width.toFixed(0)} by ${height.toFixed(0)} px`;
  const below = (px) => all.filter(({ width, height }) => Math.min(width, height) < px - 0.5);
  return {
    small: below(TARGET_PX_MIN).map(told),
    wished: below(TARGET_PX_WISHED).map(told),
  };
}

/** How far the page is wider than the screen, and what sticks out. */
export function overflow(page) {
  return page.evaluate(() => {
    const root = document.documentElement;
    const by = root.scrollWidth - root.clientWidth;
    const held = (one) => one.closest(".wide-table, .picture, pre, svg, .hide, .skip, .view3d");
    const out = [...document.querySelectorAll("body *")]
      .filter((one) => !held(one) && one.getBoundingClientRect().right > root.clientWidth + 1)
      .map((one) => `${one.tagName.toLowerCase()}.${one.className}`);
    return { by, out: by > 0 ? out.slice(0, 5) : [] };
  });
}

/** Goes through a page by the tabulator key: what is never reached, and what shows no focus. */
export async function tabbing(page) {
  const all = await page.evaluate(() => {
    const can = "a[href], button, input:not([type=hidden]), select, textarea, summary";
    const shown = (one) => one.checkVisibility({ visibilityProperty: true });
    // Of a group of radio buttons the key reaches one; arrows do the rest.
    const isOfGroup = (one) => one.type === "radio";
    const reachable = [...document.querySelectorAll(can)].filter(shown);
    const wanted = reachable.filter((one) => !isOfGroup(one) && one.tabIndex >= 0);
    wanted.forEach((one, at) => (one.dataset.tabbed = at));
    document.activeElement?.blur();
    return wanted.map((one) => (one.innerText || one.name || one.tagName).trim().slice(0, 30));
  });
  const reached = new Set();
  const unseen = [];
  for (let press = 0; press < all.length * 2 + 20 && reached.size < all.length; press += 1) {
    await page.keyboard.press("Tab");
    const now = await page.evaluate(() => {
      const one = document.activeElement;
      if (!one || one === document.body) return null;
      const { outlineStyle, outlineWidth } = getComputedStyle(one);
      const { right, bottom } = one.getBoundingClientRect();
      const isSeen = outlineStyle !== "none" && parseFloat(outlineWidth) >= 2;
      return { at: one.dataset.tabbed, isSeen: isSeen && right > 0 && bottom > 0 };
    });
    if (now?.at !== undefined) {
      reached.add(Number(now.at));
      if (!now.isSeen) unseen.push(all[Number(now.at)]);
    }
  }
  return { missed: all.filter((_, at) => !reached.has(at)), unseen, count: all.length };
}
