// SPDX-License-Identifier: Apache-2.0
// The engine of the page against the program: every answer of every example, numbers equal to 1e-9 of
// their size, texts letter for letter, the exit code the same. Needs Debian's Node and nothing else.
//   node tests/browser/same_numbers.mjs [PROGRAM [GLUE]]
import { execFile } from "node:child_process";
import { readFileSync, readdirSync, mkdtempSync, rmSync, existsSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { basename, dirname, join, resolve } from "node:path";
import { performance } from "node:perf_hooks";

const program = resolve(process.argv[2] ?? "build/housepower");
const glue = resolve(process.argv[3] ?? "build/browser/housepower.js");
const tolerance = 1e-9;

/** Names and texts below a folder, as both are asked for them. */
function texts_below(folder) {
  const names = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile()).map((one) => join(one.parentPath ?? one.path, one.name));
  return Object.fromEntries(names.map((name) => [name, readFileSync(name, "utf8")]));
}

/** What one would type about each example. */
function questions(files) {
  const toml = Object.keys(files).filter((name) => name.endsWith(".toml")).sort();
  const within = (folder) => toml.filter((name) => dirname(name) === folder);
  const own = within("examples").filter((name) => basename(name) !== "parts.toml");
  const packs = within("examples/packs"), json = ["--format", "json"];
  const all = [];
  const ask = (...words) => all.push(words);
  for (const van of [...own, ...packs]) {
    ask("check", van, ...json);
    ask("check", van, "--quick", ...json);
    ask("check", van);
    ask("energy", van, ...json);
    ask("wiring", van, "--quick", ...json);
    ask("stay", van, "--years", "20", ...json);
    ask("stay", van, "--first", ...json);
    ask("test-sheet", van, ...json);
    ask("diagram", van);
    ask("schedule", van, ...json);
    ask("build-list", van, ...json);
    ask("looms", van, ...json);
  }
  for (const van of own) {
    ask("wiring", van, ...json);
    ask("stay", van, "--month", "all", "--years", "10", ...json);
    ask("report", van, "--for", "showroom");
    ask("mend", van, ...json);
  }
  for (const van of within("examples/faulty")) {
    ask("check", van, ...json);
    ask("stay", van, "--first", ...json);
  }
  for (const van of within("examples/sizing")) ask("size", van, ...json);
  ask("compare", ...own.slice(0, 2), ...json);
  ask("range", "examples", "--stays", "none", ...json);
  ask("range", "examples", "--stays", "none", "--format", "csv");
  ask("check", "examples/nowhere.toml", ...json);
  ask("check", "examples", ...json);
  ask("check", "examples/parts.toml");
  ask("cable", "--current", "15 A", "--length", "4 m", "--drop", "3 %", ...json);
  ask("cable", "--current", "180 A", "--length", "1.2 m", "--drop", "2 %");
  ask("size", own[0], "-o", "-");
  ask("wiring", "examples/marrowick.toml", "-o", "wired.toml", "--quick");
  ask("explain", ...json);
  ask("formula", ...json);
  ask("tables", ...json);
  ask("help");
  ask("chek", own[0]);
  ask("schema", "--of", "answers");
  return all;
}

/** Runs the program where nothing of ours is written over. */
function by_program(words, folder) {
  const began = performance.now();
  return new Promise((done) => {
    execFile(program, words, { cwd: folder, maxBuffer: 1 << 28, env: { PATH: process.env.PATH } },
      (error, out, err) => {
        const exit = error ? error.code : 0;
        const output = words[words.indexOf("-o") + 1];
        const written = words.includes("-o") && output !== "-" && existsSync(join(folder, output));
        const made = written ? { [output]: readFileSync(join(folder, output), "utf8") } : {};
        done({ exit, out, err, made, took: performance.now() - began });
      });
  });
}

let largest = 0;  // of all differences, as a share
/** Where two values differ; empty where they are the same. */
function difference(a, b, at = "") {
  if (typeof a === "number" && typeof b === "number") {
    const share = a === b ? 0 : Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b));
    largest = Math.max(largest, share);
    return share <= tolerance ? "" : `${at}: ${a} against ${b}`;
  }
  if (a && b && typeof a === "object" && typeof b === "object") {
    const keys = Object.keys(a);
    if (Array.isArray(a) !== Array.isArray(b) || keys.join("\n") !== Object.keys(b).join("\n"))
      return `${at}: other keys`;
    for (const key of keys) {
      const found = difference(a[key], b[key], `${at}/${key}`);
      if (found) return found;
    }
    return "";
  }
  return a === b ? "" : `${at}: ${JSON.stringify(a)} against ${JSON.stringify(b)}`.slice(0, 300);
}

function value_of(text) {
  if (text[0] !== "{") return text.split("\n");
  try {
    return JSON.parse(text);
  } catch {
    return text.split("\n");
  }
}
const compared = ({ exit, out, err, made }) => ({ exit, out: value_of(out), err: err.split("\n"),
  made: Object.fromEntries(Object.entries(made).map(([name, text]) => [name, text.split("\n")])) });

async function engine() {
  const { require } = { require: createRequire(import.meta.url) };
  const wasmBinary = readFileSync(glue.replace(/js$/, "wasm"));
  return require(glue)({ wasmBinary });
}

const began = performance.now();
const asked = await engine();
const opened = performance.now() - began;
const files = texts_below("examples");
const list = questions(files);
const folder = mkdtempSync(join(tmpdir(), "same-numbers-"));
const { cpSync } = await import("node:fs");
cpSync("examples", join(folder, "examples"), { recursive: true });
let passed = 0, failed = 0;
const took = {};
for (const words of list) {
  const natively = await by_program(words, folder);
  const before = performance.now();
  let found, answer;
  try {
    answer = asked.ask({ arguments: words, files });
    found = difference(compared(natively), compared(answer));
  } catch (error) {
    found = String(error.stack ?? error);
  }
  const verb = `${words[0]}${words.includes("--quick") ? " --quick" : ""}${words.includes("--first") ? " --first" : ""}`;
  const sums = took[verb] ??= { times: 0, page: 0, program: 0 };
  sums.times += 1;
  sums.page += performance.now() - before;
  sums.program += natively.took;
  found ? ++failed : ++passed;
  if (found) console.log(`housepower ${words.join(" ")}\n  ${found}`);
}
rmSync(folder, { recursive: true });
for (const [verb, { times, page, program: native }] of Object.entries(took))
  console.log(`${verb.padEnd(18)} ${String(times).padStart(4)} ×  page ${(page / times).toFixed(0).padStart(6)} ms` +
    `  program ${(native / times).toFixed(0).padStart(6)} ms`);
console.log(`opened in ${opened.toFixed(0)} ms; heap ${(asked.HEAPU8.length / 1e6).toFixed(1)} MB; ` +
  `the largest difference is ${largest.toExponential(1)} of its value`);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
