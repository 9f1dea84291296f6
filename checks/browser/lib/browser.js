// The browser: Debian's chromium with a fresh profile, and what every page of it must not do.

import assert from "node:assert/strict";

import { chromium } from "playwright-core";

/** The two screens that a bench has. */
export const SIZES = {
  tablet: { viewport: { width: 1024, height: 768 }, hasTouch: true },
  phone: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
};

const QUIET = [
  "--disable-gpu",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--no-first-run",
  // No name resolves: what a page asks of elsewhere fails, and is told below.
  "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
];

/** Starts a browser whose profile is thrown away with it. */
export function openBrowser() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    chromiumSandbox: process.getuid?.() !== 0,
    args: QUIET,
  });
}

/** Longest wait for one act, on a machine that does other work beside it. */
const ACT_MS = 30_000;

/** A profile of its own on a screen, watched. */
export async function openScreen(browser, bench, size, { js = true, ...more } = {}) {
  const context = await browser.newContext({
    ...SIZES[size],
    baseURL: bench.address,
    javaScriptEnabled: js,
    ...more,
  });
  context.setDefaultTimeout(ACT_MS);
  const watch = new Watch(bench);
  watch.over(context);
  const page = await context.newPage();
  return { context, page, watch, js, size };
}

/** A picture of a whole page. What sticks to the edge of the screen would lie over a part of it. */
export async function picture(page, file, more = {}) {
  await page.evaluate(() => {
    for (const one of document.querySelectorAll(".sticky")) one.style.position = "static";
  });
  await page.screenshot({ path: file, fullPage: true, ...more });
}

/** Notes what a page asked for and what it complained of. */
export class Watch {
  constructor(bench) {
    this.hosts = new Set([bench.host]);
    this.asked = 0;
    this.wrong = [];
    this.isOff = false;
  }

  over(context) {
    context.on("request", (request) => this.request(request));
    context.on("response", (response) => this.response(response));
    context.on("console", (message) => this.console(message));
    context.on("weberror", (error) => this.note(`an error on a page: ${error.error()}`));
  }

  note(what) {
    if (!this.isOff) this.wrong.push(what);
  }

  request(request) {
    this.asked += 1;
    const url = new URL(request.url());
    if (url.protocol === "data:" || url.protocol === "about:") return;
    if (!this.hosts.has(url.host)) this.note(`a request to elsewhere: ${request.url()}`);
  }

  /** A page may answer that something is wrong with a form; what belongs to a page may not fail. */
  response(response) {
    const isPage = response.request().resourceType() === "document";
    if (response.status() >= 500 || (!isPage && response.status() >= 400)) {
      this.note(`${response.status()} for ${response.url()}`);
    }
  }

  /** A breach of the content policy is told here too. The status of a page is judged above. */
  console(message) {
    const isStatus = message.text().startsWith("Failed to load resource: the server responded");
    if (message.type() === "error" && !isStatus) this.note(`console: ${message.text()}`);
  }

  /** Fails where anything was wrong, and where nothing was seen at all. */
  check() {
    assert.deepEqual(this.wrong, []);
    assert.ok(this.asked > 0, "no request was seen, so nothing was watched");
  }
}
