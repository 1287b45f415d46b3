// SPDX-License-Identifier: Apache-2.0
// What must not happen: nothing leaves the page or comes in, offline alike; its policy refuses what it
// should (with a control that shows that the refusal is the policy's); names are never markup; no
// change brings it down, and it lets go of what it took.
//   node closed.mjs PAGE.html SCREENSHOTS [CHANGES]      the last line is "N passed, N failed"
import { readFileSync } from "node:fs";
import { close, done, expect, is_chromium, open, until } from "./browser.mjs";

async function offline() {
  const { page, context, heard } = await open("#cable", is_chromium ? { offline: true } : {});
  expect("offline: answers", await until(page, ".three", /mm²/));
  expect("offline: asks for nothing", heard.asked);
  await context.close();
}

/** An engine that cannot be started is told; nothing waits for it for ever. */
async function no_engine() {
  const { page, context } = await open("#stay", { before: () => {
    window.Worker = class extends window.Worker {
      postMessage(message) { super.postMessage(message.part ? { part: "####" } : message); }
    };
  } });
  expect("no engine: told", await until(page, ".problems", /this browser cannot run it/));
  await page.getByLabel("Month of arrival").selectOption("june");
  await page.waitForTimeout(600);
  expect("no engine: told to the next question too", await until(page, ".problems", /this browser cannot run it/));
  expect("no engine: not released", await until(page, ".safety", /not checked.*not released/));
  await context.close();
}

/** Whether each of these happens in the page. */
const tried = (page) => page.evaluate(async () => {
  const happens = {};
  const script = document.createElement("script");
  script.textContent = "window.ran_inline = true";
  document.head.append(script);
  happens.inline = Boolean(window.ran_inline);
  // In a task of the page's own: the tool's are allowed to.
  happens.eval = await new Promise((tell) => setTimeout(() => {
    try { tell((0, eval)("1 + 1") === 2); } catch { tell(false); }
  }));
  try { await fetch("data:text/plain,x"); happens.fetch = true; } catch { happens.fetch = false; }
  const style = document.createElement("style");
  style.textContent = "body { outline: 7px solid red }";
  document.head.append(style);
  happens.style = getComputedStyle(document.body).outlineWidth === "7px";
  return happens;
});

async function policy() {
  const { page, context } = await open("#cable");
  await until(page, ".three", /mm²/);
  for (const [what, happened] of Object.entries(await tried(page)))
    expect(`policy: refuses ${what}`, happened ? "it happens" : "");
  await context.close();
  if (!is_chromium) return;  // Firefox cannot be told to go without a policy
  const control = await open("#cable", { bypassCSP: true });
  await until(control.page, ".three", /mm²/);
  for (const [what, happened] of Object.entries(await tried(control.page)))
    expect(`without the policy ${what} happens`, happened ? "" : "it does not: the test proves nothing");
  await control.context.close();
}

async function hostile() {
  const text = readFileSync(new URL("../pages/hostile.toml", import.meta.url), "utf8");
  const { page, context, heard } = await open("#design");
  await until(page, ".answers", /pass/);
  await page.locator("input[type=file]").setInputFiles({ name: "hostile.toml", mimeType: "text/plain", buffer: Buffer.from(text) });
  await page.getByLabel("Model").selectOption("hostile.toml");
  expect("hostile names: answered", await until(page, ".answers", /fail.*caution/));
  for (const part of ["Diagram", "Cables and devices", "Test sheet", "Energy", "All of it", "Findings"]) {
    await page.getByRole("button", { name: part }).click();
    await page.waitForTimeout(1500);
    expect(`hostile names: ${part}`, await page.evaluate(() => {
      const main = document.querySelector("main");
      const made = [...main.querySelectorAll("script, iframe, img, object, embed, foreignObject, a[href^='javascript' i], link, meta")].map((one) => one.outerHTML);
      const acts = [...main.querySelectorAll("*")].filter((one) => [...one.attributes].some((a) => /^on/i.test(a.name))).map((one) => one.outerHTML.slice(0, 100));
      return [...made, ...acts, ...(window.hacked ? ["a name has run"] : [])];
    }));
  }
  for (const screen of ["Will it last?", "Is this cable right?", "What pack does it need?"]) {
    await page.getByRole("link", { name: screen }).click();
    await page.waitForTimeout(800);
    expect(`hostile names: ${screen}`, await page.evaluate(() => (window.hacked ? "a name has run" : "")));
  }
  // A link is not trusted either.
  await page.goto(page.url().split("#")[0] + "#stay?place=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E&van=__proto__&use=%22%3E%3Cb%3E&part=constructor");
  await page.reload();
  await page.waitForTimeout(1500);
  expect("a hostile link", await page.evaluate(() => document.querySelectorAll("main img, main b[onerror]").length ? "markup" : ""));
  expect("hostile: complaints", heard.messages);
  await context.close();
}

/** Numbers of the same order each time, so that a failure can be looked at again. */
function dice(seed) {
  return (n) => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    return Math.floor((seed / 2147483648) * n);
  };
}

async function restless(changes) {
  const { page, context, heard } = await open("#cable");
  await until(page, ".three", /mm²/);
  const heap = async () => {
    if (!is_chromium) return 0;  // Firefox tells nobody
    await page.evaluate(() => { for (let n = 0; n < 4; ++n) globalThis.gc?.(); });
    await page.waitForTimeout(200);
    return page.evaluate(() => performance.memory.usedJSHeapSize);
  };
  const roll = dice(19);
  const one_change = () => page.evaluate(([which, value]) => {
    const fields = [...document.querySelectorAll("main input:not([type=file]), main select")].filter((one) => one.offsetParent);
    const field = fields[which % fields.length];
    if (!field) return;
    if (field.tagName === "SELECT") {
      field.selectedIndex = value % field.options.length;
      field.dispatchEvent(new Event("change", { bubbles: true }));
    } else if (field.type === "radio" || field.type === "checkbox") field.click();
    else {
      field.value = field.type === "range" ? String(Number(field.min) + value % 5) : field.type === "time" ? "12:00"
        : ["", "1", "20", "0,5", "1e9", "-3", "abc", "<b>", "60 W"][value % 9];
      field.dispatchEvent(new Event("input", { bubbles: true }));
    }
  }, [roll(1e6), roll(1e6)]);
  const round = async (count) => {
    for (let n = 0; n < count; ++n) {
      if (n % 25 === 24) await page.getByRole("link", { name: ["Will it last?", "Is this cable right?", "What pack does it need?", "The whole design"][roll(4)] }).click();
      await one_change();
      if (n % 10 === 0) await page.waitForTimeout(60);
    }
    await page.goto(page.url().split("#")[0] + "#cable?current=20&length=5");
    await page.getByRole("link", { name: "Is this cable right?" }).click();
    await page.waitForTimeout(1500);
  };
  await round(changes / 2);  // first what is kept for good: schemas, tables, texts' own undo
  const before = await heap();
  await round(changes / 2);
  expect("changes: it still answers", await until(page, ".three", /mm²/));
  const after = await heap();
  expect(`${changes} changes: the heap comes back (${(before / 1e6).toFixed(1)} MB, then ${(after / 1e6).toFixed(1)} MB)`, after > 1.2 * before ? "it does not" : "");
  expect("changes: complaints", heard.messages);
  await context.close();
}

for (const part of [offline, no_engine, policy, hostile]) await part().catch((error) => expect(part.name, error.stack));
await restless(Number(process.argv[4] ?? 500)).catch((error) => expect("restless", error.stack));
await close();
done();
