// SPDX-License-Identifier: Apache-2.0
// The last answer is kept for the next opening: shown at once and marked so, and only to the same
// question of the same design and engine; a store that is refused, full or spoiled does no harm.
//   node kept.mjs PAGE SCREENSHOTS      the last line is "N passed, N failed"
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { close, done, expect, is_chromium, open, served, shot, until } from "./browser.mjs";

const full = ".lengths .length:not(.coarse-figure) .figure", asked = "#stay?van=marrowick.toml&month=july";

/** Runs before the page's script: no question reaches the engine until `let_ask()`. */
function hold() {
  const held = [];
  window.let_ask = () => { window.let_ask = null; for (const [send, message] of held.splice(0)) send(message); };
  window.Worker = class extends window.Worker {
    postMessage(message, ...more) {
      const send = (one) => super.postMessage(one, ...more);
      if (message.request && window.let_ask) held.push([send, message]);
      else send(message);
    }
  };
}
const record = (page, name) => page.evaluate((key) => localStorage.getItem(key), `housepower.answer ${name}`);
const answered = async (page) => {
  const wrong = await until(page, full, /night|no end/) || await until(page, ".deeds button", /Print/);
  await page.waitForFunction(() => localStorage.getItem("housepower.answer stay") && localStorage.getItem("housepower.answer check"));
  return wrong;
};
/** Another tab of the same browser, its engine held. */
async function next_tab(context, address, heard = null, before = "") {
  const page = await context.newPage();
  page.on("pageerror", (error) => heard?.hear(error.message));
  await page.addInitScript(hold);
  if (before) await page.addInitScript(before);
  await page.goto(address);
  await page.locator("form").first().waitFor();
  await page.waitForTimeout(300);
  return page;
}
const figures = (page) => page.evaluate((place) => [...document.querySelectorAll(place)].map((one) => one.innerText), full);
const nothing_kept = async (page) => [(await figures(page)).length && "an answer is shown",
  await page.getByText("Kept from").count() && "marked as kept"];

async function shown() {
  const { page, context, heard } = await open(asked);
  expect("kept: the first time", await answered(page));
  const address = page.url(), told = await figures(page), verdict = await page.locator(".safety .verdict").first().innerText();
  await page.close();

  const again = await next_tab(context, address, heard);
  expect("kept: shown at once", (await figures(again)).join() === told.join() ? "" : `${await figures(again)} for ${told}`);
  expect("kept: marked, with its time", await until(again, ".coarse", /Kept from \d.* at \d/, 2000));
  expect("kept: the safety verdict is in sight, and marked", [
    (await again.locator(".safety .verdict").first().innerText()) !== verdict && "another verdict",
    await until(again, ".safety", /as found on .*being checked anew/, 2000)]);
  expect("kept: not offered for print", await again.getByRole("button", { name: "Print for the customer" }).count() ? "it is" : "");
  await shot(again, "kept.desktop");
  await again.getByLabel("Month of arrival").selectOption("june");
  await again.waitForTimeout(200);
  expect("kept: not for the next question", await nothing_kept(again));
  await again.getByLabel("Month of arrival").selectOption("july");
  await again.evaluate(() => let_ask());
  expect("kept: answered anew", await until(again, ".deeds button", /Print/));
  expect("kept: then no longer marked", (await again.getByText("Kept from").count()) + (await again.getByText("as found on").count()) ? "it is" : "");
  expect("kept: the same figures", (await figures(again)).join() === told.join() ? "" : `${await figures(again)} for ${told}`);
  await again.close();

  for (const [what, other] of [["month", address.replace("july", "may")], ["van", address.replace("marrowick", "pellibri")], ["people", `${address}&people=4`]]) {
    const tab = await next_tab(context, other);
    expect(`kept: not for another ${what}`, await nothing_kept(tab));
    await tab.close();
  }
  const changed = await next_tab(context, address, heard, `if (/^(file|http)/.test(location.protocol)) localStorage.setItem("housepower.files",
    JSON.stringify({ "marrowick.toml": "# changed\\n" }))`);
  expect("kept: not for another text of the design", await nothing_kept(changed));
  await changed.evaluate(() => localStorage.removeItem("housepower.files"));
  await changed.close();
  expect("kept: complaints", heard.messages);
  await context.close();
}

/** Firefox gives each file a store of its own. */
async function another_engine() {
  if (!is_chromium || served) return;
  const { page, context } = await open(asked);
  await answered(page);
  const path = decodeURIComponent(new URL(page.url()).pathname), copy = path.replace(/\.html$/, "-other.html");
  const html = readFileSync(path, "utf8");
  for (const [digest, wrong] of [[/data-engine="(\w+)"/.exec(html)[1], async (tab) => ((await figures(tab)).length ? "" : "the test proves nothing")], ["0".repeat(32), nothing_kept]]) {
    writeFileSync(copy, html.replace(/data-engine="\w+"/, `data-engine="${digest}"`));
    const tab = await next_tab(context, page.url().replace(/\.html/, "-other.html"));
    expect(`kept: ${digest[0] === "0" ? "not for another engine" : "for another file of the same engine"}`, await wrong(tab));
    await tab.close();
  }
  rmSync(copy);
  await context.close();
}

async function spoiled() {
  const { page, context, heard } = await open(asked);
  await answered(page);
  const address = page.url(), good = await record(page, "stay");
  const { text, sum } = JSON.parse(good);
  await page.close();
  const bad = {
    "cut off": good.slice(0, good.length / 2), "a digit": JSON.stringify({ text: text.replace(/"nights":\d+/, '"nights":99'), sum }),
    "no text": '{"text":5,"sum":"5"}', "no object": "[7]", nothing: "null",
    "another shape": JSON.stringify({ text: '{"answer":7}', sum }),
  };
  for (const [what, value] of Object.entries(bad)) {
    const tab = await next_tab(context, address, heard, `if (/^(file|http)/.test(location.protocol)) localStorage.setItem("housepower.answer stay", ${JSON.stringify(value)})`);
    expect(`spoiled, ${what}: not shown`, await nothing_kept(tab));
    await tab.close();
  }
  const all = await next_tab(context, address.split("#")[0], heard, `if (/^(file|http)/.test(location.protocol)) for (const [name, value] of Object.entries({
    question: '{"screen":"toString","packs":3,"van":{},"without":[{}],"place":7}', settings: '"x"', files: '{"marrowick.toml":5,"a.toml":{}}',
    "readings marrowick.toml": '{"a":null}', "answer check": "{" })) localStorage.setItem("housepower." + name, value)`);
  await all.evaluate(() => let_ask());
  expect("spoiled: all of the store; it answers", await until(all, full, /night|no end/));
  expect("spoiled: complaints", heard.messages);
  await context.close();
}

const refused = () => Object.defineProperty(window, "localStorage", { get() { throw new DOMException("refused", "SecurityError"); } });
const no_room = () => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; };
async function unkept() {
  for (const [what, before] of Object.entries({ refused, no_room })) {
    const { page, context, heard } = await open(asked, { before });
    expect(`${what}: it answers`, await until(page, ".deeds button", /Print/));
    await page.waitForTimeout(800);
    expect(`${what}: complaints`, heard.messages);
    await context.close();
  }
}

for (const part of [shown, another_engine, spoiled, unkept]) await part().catch((error) => expect(part.name, error.stack));
await close();
done();
