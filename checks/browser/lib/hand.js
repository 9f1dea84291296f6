// A hand at the bench: does what a person does on a screen, by finger, with what the page shows.

import assert from "node:assert/strict";

/** Longest wait for a live page to follow; what it really takes is told and not judged. */
const FOLLOW_MS = 15_000;

export class Hand {
  constructor({ page, js, size }) {
    this.page = page;
    this.js = js;
    this.size = size;
  }

  heading() {
    return this.page.locator("h1").innerText();
  }

  button(name) {
    return this.page.getByRole("button", { name, exact: true }).filter({ visible: true }).first();
  }

  link(name) {
    return this.page.getByRole("link", { name, exact: true }).filter({ visible: true }).first();
  }

  /** The button that shows the page in the other system. */
  units(system) {
    return this.page.locator(`button[name="switch"][value="${system}"]`);
  }

  /** Shows the page in a system, where it stands in the other. */
  async standIn(system) {
    const other = this.units(system);
    if ((await other.count()) > 0) await this.follow(other);
  }

  field(name) {
    return this.page.locator(`[name="${name}"]:not(button)`);
  }

  async open(path) {
    const answer = await this.page.goto(path);
    assert.equal(answer.status(), 200, path);
  }

  /** Taps something that leads to another page, and waits for that page. */
  async follow(what) {
    await Promise.all([this.page.waitForEvent("load"), what.tap()]);
  }

  /** Fills fields by name; a folded group is opened first. */
  async type(pairs) {
    for (const [name, value] of pairs) {
      await this.unfold(this.field(name));
      await this.field(name).fill(value);
    }
  }

  async unfold(field) {
    const folded = field.locator("xpath=ancestor::details[not(@open)]");
    if ((await folded.count()) > 0) await folded.first().locator("> summary").tap();
  }

  /** Chooses in a list or taps one of a few. */
  async choose(name, label) {
    await this.unfold(this.field(name).first());
    if ((await this.page.locator(`select[name="${name}"]`).count()) > 0) {
      await this.page.locator(`select[name="${name}"]`).selectOption({ label });
      return;
    }
    const taps = this.page.locator(".taps label").filter({ has: this.field(name) });
    await taps.filter({ hasText: new RegExp(`^\\s*${label}\\s*$`) }).tap();
  }

  /** Taps one of a few by what it stands for, whatever it is called on the page. */
  async pick(name, value) {
    const one = this.page.locator(`input[type="radio"][name="${name}"][value="${value}"]`);
    await this.unfold(one);
    await one.tap();
  }

  /** Ticks one of several. */
  async tick(name, value) {
    const box = this.page.locator(`input[type="checkbox"][name="${name}"][value="${value}"]`);
    await this.unfold(box);
    if (!(await box.isChecked())) await box.tap();
  }

  /** The key of the part of a form in which a hidden fact stands so. */
  async keyOf(end, value) {
    const facts = this.page.locator(`input[type="hidden"][name$="${end}"][value="${value}"]`);
    assert.equal(await facts.count(), 1, `${value} as ${end}`);
    return (await facts.getAttribute("name")).slice(0, -end.length);
  }

  /** What a page says is wrong, to be told where a test fails. */
  async problems() {
    return (await this.page.locator(".problem, .problems").allInnerTexts()).join("; ");
  }

  /** What stands in every field of the form, by name. */
  async entries() {
    return this.page.locator("#main-form").evaluate((form) => {
      const isEntry = (one) => one.name && !["hidden", "submit"].includes(one.type);
      const named = [...form.elements].filter(isEntry);
      const on = named.filter((one) => !["radio", "checkbox"].includes(one.type) || one.checked);
      return Object.fromEntries(on.map((one) => [one.name, one.value]));
    });
  }

  /** Says who is at the bench, by tapping a name or writing initials. */
  async sayWho(initials = "IV") {
    await this.open("/who");
    const known = this.page.locator(`button[name="initials"][value="${initials}"]`);
    if ((await known.count()) > 0) return this.follow(known);
    await this.type([["initials", initials]]);
    return this.follow(this.button("That is me"));
  }

  /** Goes into the invented shop, where machines and wheels are there already. */
  async enterDemo() {
    await this.open("/");
    await this.follow(this.button("Look round the demo shop"));
  }

  /** A new cutter comes in, in the units it was made in. Gives the path of its page. */
  async receive(number, cutter) {
    await this.open("/receive");
    await this.type([["number", number]]);
    await this.follow(this.button("Find it"));
    await this.follow(this.link("Enter it as a new cutter"));
    await this.standIn(cutter.system);
    assert.equal(await this.field("cutter.number").inputValue(), number);
    await this.type(cutter.typed);
    for (const [name, label] of Object.entries(cutter.taps)) await this.choose(name, label);
    await this.follow(this.button("Receive it"));
    assert.equal(await this.heading(), `Wear of ${number}`);
    return new URL(this.page.url()).pathname.replace("/wear", "");
  }

  async seeWear(cutter) {
    await this.type(cutter.wear);
    await this.follow(this.button("That is how it looks"));
  }

  /** What the live part of a plan shows: words and drawings, without passing marks of a swap. */
  shown() {
    return this.page.locator("#live").evaluate(shownIn);
  }

  /** Waits until the live part is another one than before; gives the milliseconds. */
  async change(act) {
    const before = await this.shown();
    const began = performance.now();
    await act();
    if (!this.js) await this.follow(this.button("Show it"));
    while ((await this.shown()) === before) {
      assert.ok(performance.now() - began < FOLLOW_MS, "the plan did not follow");
      await this.page.waitForTimeout(5);
    }
    return performance.now() - began;
  }

  picture() {
    return this.page.locator("#live .picture svg").first().innerHTML();
  }

  /** Steps of the grind: each dial is read off and typed, the way the bench shows it. */
  async grind() {
    let steps = 0;
    while ((await this.page.locator(`#mark, ${STEP}`).count()) > 0) {
      await this.step();
      steps += 1;
      assert.ok(steps < 60, "the steps have no end");
    }
    return steps;
  }

  /** One step, done. */
  async step() {
    const stood = this.page.locator("#stood");
    if ((await stood.count()) > 0) {
      const mark = await this.page.locator("#mark").innerText();
      await this.key(stood, asTyped(mark));
    }
    await this.follow(this.page.locator(`${STEP} button.main`));
  }

  /** By the big keys where scripts run, by the tablet's own where they do not. */
  async key(field, text) {
    if (!this.js) return field.fill(text);
    for (const character of `${text}0`) {
      await this.page.locator(`[data-key="${character}"]`).tap();
    }
    await this.page.locator('[data-key="back"]').tap();
    assert.equal(await field.inputValue(), text);
  }

  /** Readings of the land after the secondary: one width for each place along the flute. */
  async readLands(widths) {
    const stage = this.page.locator('input[type="hidden"][name$=".stage"][value="after secondary"]');
    const key = (await stage.first().getAttribute("name")).replace(".stage", "");
    const cells = this.page.locator(`input[name^="${key}.at["][name*=".teeth["]`);
    const names = await cells.evaluateAll((all) => all.map((one) => one.name));
    const place = (name) => Number(/at\[(\d+)\]/.exec(name)[1]);
    const last = Math.max(...names.map(place));
    await this.type(names.map((name) => [name, widths(place(name) / Math.max(last, 1))]));
  }

  async weigh() {
    await this.follow(this.button("Weigh these readings"));
    return this.heading();
  }
}

/** The form of a step: one tap, or what the primary measures. */
const STEP = "form:is([action$='/grind/done'], [action$='/grind/read'])";

/** A mark as a hand types it: "90 deg 30 min" has no keys for its words, so it becomes 90.5. */
export function asTyped(mark) {
  const parts = /^(-?)(\d+(?:\.\d+)?) deg(?: (\d+(?:\.\d+)?) min)?$/.exec(mark.trim());
  if (!parts) return mark.trim().replace(/ (in|mm)$/, "");
  const [, sign, degrees, minutes = "0"] = parts;
  return `${sign}${Number((Number(degrees) + Number(minutes) / 60).toFixed(4))}`;
}

/** Runs in the page. */
function shownIn(live) {
  const drawn = [...live.querySelectorAll("svg")].map((svg) => svg.innerHTML);
  return live.textContent + drawn.join("");
}
