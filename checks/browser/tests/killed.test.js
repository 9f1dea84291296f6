// The program is killed in the middle of a journey; after a start all that was acknowledged is
// there, and the journey goes on.

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

import { Bench, bookCheck, freshFolder, program } from "../lib/bench.js";
import { openBrowser, openScreen } from "../lib/browser.js";
import { halfInch } from "../lib/cutters.js";
import { Hand } from "../lib/hand.js";
import { record } from "../lib/journey.js";
