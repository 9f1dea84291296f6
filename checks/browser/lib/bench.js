// The program under test: started on a fresh book and a free port, stopped politely or killed.

import { spawn, spawnSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../../", import.meta.url));

/** The built program: what TOOTHREST names, else the release build. */
export const program =
  process.env.TOOTHREST ??
  path.join(process.env.CARGO_TARGET_DIR ?? path.join(root, "target"), "release", "toothrest");

/** How long the program may take to say where it is; builds for debugging are slow. */
const START_MS = 20_000;

/** A folder that nobody else has. */
export async function freshFolder() {
  const folder = await mkdtemp(path.join(tmpdir(), "toothrest-browser-"));
  return { folder, remove: () => rm(folder, { recursive: true, force: true }) };
}

/** One running program. */
export class Bench {
  constructor(child, address) {
    this.child = child;
    this.address = address;
    this.ended = new Promise((resolve) => {
      child.once("exit", (code, signal) => resolve({ code, signal }));
    });
  }

  /** Starts the program on the book at that path; port 0 takes any that is free. */
  static async open(book, { port = 0, more = [] } = {}) {
    const words = ["serve", "--book", book, "--listen", String(port), ...more];
    const child = spawn(program, words, { stdio: ["ignore", "pipe", "pipe"] });
    return new Bench(child, await address(child));
  }

  get host() {
    return new URL(this.address).host;
  }

  get port() {
    return Number(new URL(this.address).port);
  }

  /** Tells it to stop, and says how it ended. */
  stop() {
    this.child.kill("SIGTERM");
    return this.ended;
  }

  /** Takes it away without a word, as a power cut would. */
  kill() {
    this.child.kill("SIGKILL");
    return this.ended;
  }
}

/** The address that the program prints. What it said instead is the error. */
function address(child) {
  return new Promise((resolve, reject) => {
    let said = "";
    const give = (why) => reject(new Error(`${program} ${why}; it said: ${said}`));
    const late = setTimeout(() => {
      child.kill("SIGKILL");
      give("did not say where it is");
    }, START_MS);
    const read = (bytes) => {
      said += bytes;
      const found = /(http:\/\/\S+)/.exec(said);
      if (found) {
        clearTimeout(late);
        resolve(found[1]);
      }
    };
    child.stdout.on("data", read);
    child.stderr.on("data", read);
    child.once("error", (error) => give(`cannot be started (${error.message})`));
    child.once("exit", (code) => give(`ended with ${code}`));
  });
}

/** The program's own integrity check of a book. */
export function bookCheck(book) {
  const run = spawnSync(program, ["book", "--book", book, "check"], { encoding: "utf8" });
  return { code: run.status, said: run.stdout + run.stderr };
}
