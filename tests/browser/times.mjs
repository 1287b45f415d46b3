// SPDX-License-Identifier: Apache-2.0
// How long the page takes, and the program to the same questions in the same run: the first answer
// after opening, the next to a changed question, and how long the page itself stands still meanwhile.
//   node times.mjs PAGE.html SCREENSHOTS [PROGRAM] [TIMES]
// Prints milliseconds: the middle of several, then the least and the most. It judges nothing, for what
// else runs on the machine counts too.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { mkdirSync } from "node:fs";
import { address, blank, close, is_chromium, longest_work, open, until, version } from "./browser.mjs";

const program = resolve(process.argv[4] ?? "build/housepower");
const times = Number(process.argv[5] ?? 7);

/** Runs in the page before its own script: notes questions and answers of the workers, when what is
    looked for first stands there, and the longest while in which nothing else could run. */
function watch() {
  const log = window.watched = { answers: [], first: {}, longest: 0, ready: 0 };
  window.Worker = class extends window.Worker {
    constructor(...all) {
      super(...all);
      this.asked = new Map();
      this.addEventListener("message", ({ data }) => {
        if (data.ready) log.ready ||= performance.now();
        const asked = this.asked.get(data.id);
        if (asked) log.answers.push({ ...asked, took: data.took, ms: performance.now() - asked.at });
      });
    }
    postMessage(message, ...more) {
      if (message.request) this.asked.set(message.id, { request: message.request, at: performance.now() });
      super.postMessage(message, ...more);
    }
  };
  const places = { stay: ".lengths .figure", full: ".lengths .length:not(.coarse-figure) .figure", cable: ".three", safety: ".safety .verdict" };
  const look = () => {
    for (const [key, place] of Object.entries(places))
      if (!log.first[key] && document.querySelector(place)) log.first[key] = performance.now();
  };
  new MutationObserver(look).observe(document, { childList: true, subtree: true });
  // A turn every 4 ms: by how much one comes too late, the page stood still.
  let due = performance.now();
  const turn = () => {
    const now = performance.now();
    log.longest = Math.max(log.longest, now - due);
    due = now + 4;
    setTimeout(turn, 4);
  };
  turn();
}

/** Milliseconds of the processor that each child of this process and theirs has taken so far. */
function processor_time() {
  const of = new Map();
  for (const pid of readdirSync("/proc").filter((name) => /^\d+$/.test(name))) {
    try {
      const rest = readFileSync(`/proc/${pid}/stat`, "utf8").replace(/^.*\) /s, "").split(" ");
      of.set(Number(pid), { parent: Number(rest[1]), ticks: Number(rest[11]) + Number(rest[12]) });
    } catch { /* it has ended */ }
  }
  const ours = (pid) => { for (let n = 0; pid > 1 && n < 40; ++n, pid = of.get(pid)?.parent ?? 0) if (pid === process.pid) return true; return false; };
  return new Map([...of].filter(([pid]) => pid !== process.pid && ours(pid)).map(([pid, one]) => [pid, one.ticks * 10]));
}
const spent_since = (before) =>
  [...processor_time()].reduce((sum, [pid, ms]) => sum + Math.max(0, ms - (before.get(pid) ?? 0)), 0);


function tell(what, list, native = null) {
  if (!list.length) return console.log(`${what}: not seen`);
  const sorted = [...list].sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)];
  const ratio = native ? `   program ${native.took.toFixed(0)} (processor ${native.spent}); ratio of the least ${(sorted[0] / native.took).toFixed(1)}` : "";
  console.log(`${what.padEnd(58)}${middle.toFixed(0).padStart(6)}   ${sorted[0].toFixed(0)} to ${sorted.at(-1).toFixed(0)}${ratio}`);
}

/** The program's milliseconds for a question that the page asked: the least of several. */
function native(request) {
  const folder = mkdtempSync(join(tmpdir(), "housepower-"));
  for (const [name, text] of Object.entries(request.files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  const runs = [];
  for (let n = 0; n < 5; ++n) {
    const before = performance.now();
    // The shell's `times` tells in its second line what its children have spent.
    const { stdout } = spawnSync("bash", ["-c", '"$@" >/dev/null; times', "_", program, ...request.arguments], { cwd: folder, encoding: "utf8" });
    const took = performance.now() - before;
    const spent = [...stdout.matchAll(/(\d+)m([\d.]+)s/g)].slice(2).reduce((sum, one) => sum + 60e3 * one[1] + 1e3 * one[2], 0);
    runs.push({ took, spent: Math.round(spent) });
  }
  return runs.reduce((a, b) => (b.took < a.took ? b : a));
}

async function opening(what, fragment, key) {
  const first = [], ready = [], longest = [], spent = [];
  for (let n = 0; n < times; ++n) {
    const before = processor_time();
    const { page, context } = await open(fragment, { before: watch });
    await page.waitForFunction((name) => window.watched.first[name], key);
    spent.push(spent_since(before));
    const log = await page.evaluate(() => window.watched);
    first.push(log.first[key]), ready.push(log.ready), longest.push(log.longest);
    await context.close();
  }
  tell(`${what}: the first figure after opening`, first);
  tell(`${what}: the engine is ready`, ready);
  tell(`${what}: the page's longest standstill`, longest);
  tell(`${what}: the processor's time, all of the browser`, spent);
}

/** The same question again, in another tab of the same browser: what was kept is shown. */
async function returning(what, fragment, key, kept) {
  const { page, context } = await open(fragment, { before: watch });
  await page.waitForFunction((name) => localStorage.getItem(`housepower.answer ${name}`), kept);
  const address = page.url(), first = [], longest = [], anew = [];
  for (let n = 0; n < times; ++n) {
    const tab = await context.newPage();
    await tab.goto(address);
    await tab.waitForFunction((name) => window.watched.first[name], key);
    await tab.waitForFunction(() => window.watched.answers.length);
    const log = await tab.evaluate(() => window.watched);
    first.push(log.first[key]), longest.push(log.longest), anew.push(log.ready);
    await tab.close();
  }
  tell(`${what}, asked before: the first figure after opening`, first);
  tell(`${what}, asked before: the engine is ready`, anew);
  tell(`${what}, asked before: the page's longest standstill`, longest);
  await context.close();
}

const set_value = ([label, value]) => {
  const field = [...document.querySelectorAll("label")].find((one) => one.textContent.startsWith(label));
  const input = document.getElementById(field.htmlFor);
  input.value = value;
  window.watched.changed = performance.now();
  input.dispatchEvent(new Event(input.tagName === "SELECT" ? "change" : "input", { bubbles: true }));
};
const answers_of = (page, ...words) => page.evaluate((list) => window.watched.answers.filter(({ request }) =>
  list.every((one) => (one[0] === "!" ? !request.arguments.includes(one.slice(1)) : request.arguments.includes(one)))), words);

/** Until what stands at `place` is another text; the milliseconds since the change. */
const changed = (page, place, old) => page.waitForFunction(([where, text]) => {
  const now = document.querySelector(where)?.innerText;
  return now && now !== text && !document.querySelector(".answer.old") ? performance.now() - window.watched.changed : 0;
}, [place, old], { polling: "raf", timeout: 120000 }).then((one) => one.jsonValue());

async function cable() {
  const { page, context } = await open("#cable", { before: watch });
  await until(page, ".three", /mm²/);
  await page.waitForTimeout(1500);
  const list = [];
  await page.evaluate(() => { window.watched.longest = 0; window.watched.answers = []; });
  for (let n = 0; n < 3 * times; ++n) {
    const old = await page.locator(".three").innerText();
    await page.evaluate(set_value, ["Current", String(21 + n)]);
    list.push(await changed(page, ".three", old));
  }
  const answers = await answers_of(page, "cable");
  const slow = native(answers[0].request);
  tell("a cable: from the change to its figures", list, slow);
  tell("a cable: in the worker", answers.map((one) => one.took), slow);
  tell("a cable: the page's longest standstill", [await page.evaluate(() => window.watched.longest)]);
  await context.close();
}

async function stay() {
  const { page, context } = await open("#stay?van=marrowick.toml&month=march", { before: watch });
  await until(page, ".lengths .length:not(.coarse-figure) .figure", /./);
  await page.waitForTimeout(1500);
  const first = [], full = [];
  await page.evaluate(() => { window.watched.longest = 0; window.watched.answers = []; });
  for (const month of ["April", "May", "June", "July", "August", "September", "October"].slice(0, times)) {
    await page.evaluate(set_value, ["Month of arrival", month.toLowerCase()]);
    first.push(await page.waitForFunction((name) => document.querySelector(".answer:not(.old) .said")?.innerText.endsWith(name) ?
      performance.now() - window.watched.changed : 0, month, { polling: "raf" }).then((one) => one.jsonValue()));
    full.push(await page.waitForFunction((name) => document.querySelector(".answer:not(.old) .said")?.innerText.endsWith(name) &&
      !document.querySelector(".coarse-figure") ? performance.now() - window.watched.changed : 0, month, { polling: "raf", timeout: 120000 }).then((one) => one.jsonValue()));
    await page.waitForTimeout(300);
  }
  const in_first = await answers_of(page, "stay", "--first"), in_full = await answers_of(page, "stay", "!--first");
  tell("a stay: from the change to its first figure", first, native(in_first[0].request));
  tell("a stay, first figure: in the worker", in_first.map((one) => one.took), native(in_first[0].request));
  tell("a stay: from the change to its full answer", full, native(in_full[0].request));
  tell("a stay, full answer: in the worker", in_full.map((one) => one.took), native(in_full[0].request));
  tell("a stay: the page's longest standstill", [await page.evaluate(() => window.watched.longest)]);
  await context.close();
}

async function check() {
  const { page, context } = await open("#design?van=quondelay.toml", { before: watch });
  await until(page, ".findings, .answer p", /./);
  await page.waitForTimeout(8000);
  const quick = await answers_of(page, "check", "--quick"), whole = await answers_of(page, "check", "!--quick");
  tell("a check, the verdicts: in the worker", quick.map((one) => one.took), native(quick[0].request));
  if (whole.length) tell("a check, all of it: in the worker", whole.map((one) => one.took), native(whole[0].request));
  tell("the whole design: the page's longest standstill", [await page.evaluate(() => window.watched.longest)]);
  await context.close();
}

/** What the page's own thread works at a stretch, counted by the processor: the goal for its standstill is
    50 ms, which another program's work makes longer, and this not. */
async function at_a_stretch() {
  const openings = { "Will it last?": ["#stay?van=marrowick.toml&month=july", ".deeds button"], "Is this cable right?": ["#cable", ".three"],
    ...Object.fromEntries([["findings", ".cm-content"], ["diagram", ".thing"], ["schedules", ".told table"], ["sheet", ".points"], ["energy", ".told p"], ["report", ".told p"]]
      .map(([part, there]) => [`the whole design, ${part}`, [`#design?van=quondelay.toml&part=${part}`, there]])) };
  for (const [what, [fragment, there]] of Object.entries(openings)) {
    const list = [];
    for (let n = 0; n < times; ++n) {
      const { page, context } = await blank();
      list.push(await longest_work(page, async () => {
        await page.goto(address + fragment);
        await page.locator(there).first().waitFor({ timeout: 120000 });
        await page.waitForTimeout(1500);
      }));
      await context.close();
    }
    tell(`${what}: at a stretch, processor (goal: 50)`, list);
  }
}

const load_before = loadavg()[0];
await opening("Will it last?", "#stay?van=marrowick.toml&month=july", "stay");
await opening("Is this cable right?", "#cable", "cable");
await returning("Will it last?", "#stay?van=marrowick.toml&month=july", "full", "stay");
await returning("Is this cable right?", "#cable", "cable", "cable");
for (const part of [cable, stay, check]) await part();
if (is_chromium) await at_a_stretch();
console.log(`${version()}; ms: the middle of ${times}, least to most; load ${load_before.toFixed(1)} to ${loadavg()[0].toFixed(1)} on the machine`);
await close();
