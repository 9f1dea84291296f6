// The way of one cutter from arrival to tag, as tests and screenshots walk it.

import assert from "node:assert/strict";

/** The land that the page of readings says to expect. */
export async function expectedLand(hand) {
  const words = await hand.page.locator("main").innerText();
  const found = /after the secondary:.*?Expect ([\d.]+) (?:in|mm)/s.exec(words);
  assert.ok(found, "the page of readings does not say what land to expect");
  return Number(found[1]);
}

/** Chooses machine and relief, tries another setting and takes it back, and keeps the plan. */
export async function plan(hand, cutter) {
  const figures = () => hand.page.locator("#live").innerText();
  const times = [];
  const changed = async (what, act) => times.push([what, await hand.change(act)]);
  await changed("machine", () => hand.choose("machine", cutter.machine));
  await changed("relief", () => hand.choose("relief", cutter.relief));
  const asPlanned = await hand.picture();
  await changed("trial", () => hand.type(Object.entries(cutter.trial)));
  assert.ok((await hand.picture()) !== asPlanned, "the section did not follow the setting");
  assert.match(await figures(), /so set/, "no figure tells what the trial gives");
  const untried = Object.keys(cutter.trial).map((name) => [name, ""]);
  await changed("trial taken back", () => hand.type(untried));
  assert.ok((await hand.picture()) === asPlanned, "the section did not come back");
  await hand.follow(hand.button("Keep this plan"));
  return times;
}

/** The number of the step of the grind whose title has these words. */
export async function stepOf(hand, words) {
  const dots = hand.page.locator(".steps a");
  const names = await dots.evaluateAll((all) => all.map((one) => one.ariaLabel ?? ""));
  const at = names.findIndex((name) => name.includes(words));
  assert.ok(at >= 0, `no step is called ${words}: ${names.join("; ")}`);
  return at + 1;
}

/** Every step, with the first one undone and done again. */
export async function grind(hand, number) {
  await hand.step();
  await hand.follow(hand.link("Step before"));
  await hand.follow(hand.button("Undo this step"));
  assert.equal(await hand.button("Undo this step").count(), 0, "the step still counts as done");
  const steps = await hand.grind();
  assert.equal(await hand.heading(), `${number}: is it ground?`);
  assert.equal(await hand.page.getByText("not marked as done").count(), 0);
  await hand.follow(hand.button("It is ground: go on to the check"));
  return steps;
}

/** Writes a number as a hand reads a land. */
const width = (value) => String(Number(value.toFixed(4)));

/** Lands too wide toward the shank, weighed: what to do about it stands on the page. */
export async function findTaper(hand, cutter) {
  const land = await expectedLand(hand);
  await hand.readLands((share) => width(land + cutter.wide * share));
  assert.match(await hand.weigh(), /Something is wrong, and the readings say what/);
  const card = hand.page.locator("main .card").first();
  assert.match(await card.innerText(), /taper/i, "no correction of the taper is shown");
}

/** The same, then the corrective grind, and lands as planned. */
export async function check(hand, number, cutter) {
  await findTaper(hand, cutter);
  await correct(hand, number);
}

/** The corrective grind after a check, and lands as planned. */
export async function correct(hand, number) {
  await hand.follow(hand.button("Set up the corrective grind"));
  await hand.grind();
  await hand.follow(hand.button("It is ground: go on to the check"));
  const again = await expectedLand(hand);
  await hand.readLands(() => width(again));
  assert.match(await hand.weigh(), new RegExp(`${number}: Sound`));
}

/** The tag, and the record behind it. */
export async function handBack(hand, number) {
  await hand.follow(hand.link("Hand it back"));
  await hand.follow(hand.button("That is its size"));
  await hand.follow(hand.button("That is how it is ground"));
  await hand.type([["_to", "tool crib"]]);
  await hand.follow(hand.button("Hand it back with its tag"));
  assert.equal(await hand.heading(), `Tag of ${number}`);
  await hand.follow(hand.link("Its record"));
}

/** What the record says was done, in the order in which it stands there. */
export async function record(hand) {
  const rows = hand.page.locator("main tbody tr");
  return rows.evaluateAll((all) => all.map((row) => row.cells[3].innerText));
}

/** A cutter that is worth grinding. Gives times and the path of its page. */
export async function whole(hand, number, cutter) {
  const at = await hand.receive(number, cutter);
  await hand.seeWear(cutter);
  const times = await plan(hand, cutter);
  const steps = await grind(hand, number);
  await check(hand, number, cutter);
  await handBack(hand, number);
  return { at, times, steps, done: await record(hand) };
}

/** A cutter that is not worth it, and goes back as it came. */
export async function unground(hand, number, cutter) {
  const at = await hand.receive(number, cutter);
  await hand.seeWear(cutter);
  assert.match(await hand.page.locator("#live").innerText(), /nothing to grind/);
  await hand.follow(hand.button("Keep this plan"));
  assert.equal(await hand.heading(), number);
  await hand.open(`${at}/back`);
  await hand.follow(hand.button("It leaves unground"));
  await hand.open(`${at}/record`);
  return { at, done: await record(hand) };
}
