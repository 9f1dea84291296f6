// Runs every test of this folder, one file after the other: browsers are large.

import { spawnSync } from "node:child_process";
import { existsSync, readdirSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

import { program } from "./lib/bench.js";

const here = path.dirname(fileURLToPath(import.meta.url));
const wanted = process.argv.slice(2);

if (Number(process.versions.node.split(".")[0]) < 20) {
  console.error(`these checks need node 20 or later; this is ${process.version}`);
  process.exit(1);
}
if (!existsSync(program)) {
  console.error(`no program at ${program}; build it, or name another with TOOTHREST`);
  process.exit(1);
}
const isWanted = (name) => wanted.length === 0 || wanted.some((word) => name.includes(word));
const files = readdirSync(path.join(here, "tests")).filter((name) => name.endsWith(".test.js"));
const chosen = files.filter(isWanted).map((name) => path.join("tests", name));
if (chosen.length === 0) {
  console.error(`no file of tests is named ${wanted.join(" or ")}`);
  process.exit(1);
}
const words = ["--test", "--test-concurrency=1", "--test-reporter=spec", ...chosen];
const run = spawnSync(process.execPath, words, { cwd: here, stdio: "inherit" });
process.exit(run.status ?? 1);
