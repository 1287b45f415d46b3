// SPDX-License-Identifier: Apache-2.0
// What the tests of the page share: the page opened in Debian's Chromium (or, with
// HOUSEPOWER_BROWSER=firefox, in its Firefox), from disk or, where PAGE is an address, from a server,
// with everything that it complains of or asks for noted; and counting.
import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const tools = createRequire(resolve(process.env.HOUSEPOWER_TOOLS ?? "build/pages") + "/");
const { chromium, firefox } = tools("playwright-core");

const given = process.argv[2] ?? "build/housepower.html";
export const served = /^https?:/.test(given);
export const address = served ? given : pathToFileURL(resolve(given)).href;
export const seen = resolve(process.argv[3] ?? "build/pages/seen");
mkdirSync(seen, { recursive: true });
export const axe = readFileSync(tools.resolve("axe-core/axe.min.js"), "utf8");
export const screens = { phone: [360, 740], tablet: [820, 1180], desktop: [1366, 900] };

let passed = 0, failed = 0;
export function expect(what, wrong) {
  const list = [wrong].flat().filter(Boolean);
  if (!list.length) return void passed++;
  failed++;
  console.log(what);
  for (const one of list.slice(0, 8)) console.log(`    ${String(one).slice(0, 400)}`);
}
export function done() {
  console.log(`${passed} passed, ${failed} failed`);
  process.exit(failed ? 1 : 0);
}

/** What only Chromium can be told to do: paper on the screen, a collected heap, a policy unheeded. */
export const is_chromium = (process.env.HOUSEPOWER_BROWSER ?? "chromium") === "chromium";
const launched = () => is_chromium
  ? chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
      args: ["--no-sandbox", "--js-flags=--expose-gc", "--enable-precise-memory-info"] })
  : firefox.launch({ channel: "moz-firefox", executablePath: process.env.FIREFOX ?? "/usr/bin/firefox-esr" });

/** The style by which the tool itself prepares a screenshot: the policy refuses it, rightly. */
const of_the_tool = /sha256-YjaKGiklmzC6wjXA513HAMmzus8VE61XCOT\+SmwNZWA=/;

let browser;
export const version = () => `${is_chromium ? "Chromium" : "Firefox"} ${browser.version()}`;
export async function open(fragment = "", { screen = "desktop", before = null, ...more } = {}) {
  const opened = await blank({ screen, before, ...more });
  await opened.page.goto(address + fragment);
  return opened;
}
/** A window that shows nothing yet. */
export async function blank({ screen = "desktop", before = null, ...more } = {}) {
  browser ??= await launched();
  const [width, height] = screens[screen];
  const context = await browser.newContext({ viewport: { width, height }, ...more });
  if (before) await context.addInitScript(before);
  const page = await context.newPage();
  const heard = { messages: [], asked: [] };
  const hear = heard.hear = (text) => of_the_tool.test(text) || heard.messages.push(text);
  page.on("console", (one) => ["error", "warning"].includes(one.type()) && hear(one.text()));
  page.on("pageerror", (error) => hear(`${error.message} ${error.stack ?? ""}`));
  page.on("dialog", (one) => { heard.messages.push(`a dialogue: ${one.message()}`); one.dismiss(); });
  page.on("request", (one) => /^(file|blob|data):/.test(one.url()) || one.url().split("#")[0] === address ||
    heard.asked.push(one.url()));
  return { page, context, heard, reopen: async () => {
    const next = await context.newPage();
    await next.goto(address);
    return next;
  } };
}
/** The longest piece of work of the page's own thread while `deed` is done, in ms of the processor: what
    else runs on the machine makes that hardly longer. Chromium only. */
export async function longest_work(page, deed) {
  await browser.startTracing(page, { categories: ["toplevel", "devtools.timeline"] });
  await deed();
  const { traceEvents } = JSON.parse(await browser.stopTracing());
  const first = traceEvents.find((one) => one.name === "ParseHTML" && one.args.beginData?.url.startsWith(address));
  return Math.max(...traceEvents.filter((one) => one.name === "ThreadControllerImpl::RunTask" &&
    one.tdur && one.pid === first.pid && one.tid === first.tid && one.ts >= first.ts).map((one) => one.tdur / 1000));
}
export const close = () => browser?.close();
export const shot = (page, name) => page.screenshot({ path: join(seen, `${name}.png`), fullPage: true });

/** Until the words are there; what stood instead, where they do not come. */
export async function until(page, selector, words, ms = 60000) {
  const place = page.locator(selector).filter({ hasText: words }).first();
  try {
    await place.waitFor({ timeout: ms });
    return "";
  } catch {
    return `no ${words} in ${selector}; there stands: ${(await page.locator("main").innerText()).slice(0, 300)}`;
  }
}

/** Parts that make the whole page wider than the screen. */
export const wider = (page) => page.evaluate(() => {
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= wide) return [];
  return [...document.body.querySelectorAll("*")]
    .filter((one) => one.getBoundingClientRect().right > wide + 1 && !one.closest(".table, .drawing"))
    .map((one) => `${one.tagName} ${one.className} ${one.textContent.slice(0, 60)}`)
    .concat(["the page is wider than the screen"]);
});
