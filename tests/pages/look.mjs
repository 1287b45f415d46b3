// SPDX-License-Identifier: Apache-2.0
// Opens each page of a folder in headless Chromium and holds it to what a reader needs: nothing is
// fetched or complained of, nothing sticks out, keys reach everything, a screen reader is served, no
// words of a drawing stand on each other. Leaves screenshots and PDFs beside the pages.
//   node look.mjs FOLDER      the last line is "N passed, N failed"
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const folder = resolve(process.argv[2]);
const screens = { phone: [360, 740], desktop: [1280, 900] };
let passed = 0, failed = 0;

function expect(page, what, wrong) {
  if (wrong.length === 0) return void passed++;
  failed++;
  console.log(`${page}: ${what}`);
  for (const one of wrong.slice(0, 8)) console.log(`    ${one}`);
  if (wrong.length > 8) console.log(`    and ${wrong.length - 8} more`);
}

/** Words of a drawing that stand on each other or off its edge, by the boxes that are really drawn. */
function crowded() {
  const wrong = [];
  for (const drawing of document.querySelectorAll("svg.hp-svg")) {
    const edge = drawing.getBoundingClientRect();
    const words = [...drawing.querySelectorAll("text")].map((text) => {
      const box = text.getBoundingClientRect();
      const inner = text.closest("svg");  // what sticks out of an inner box is not drawn
      if (inner === drawing) return { box, text: text.textContent };
      const cut = inner.getBoundingClientRect();
      return { box: new DOMRect(Math.max(box.x, cut.x), box.y,
                                Math.min(box.right, cut.right) - Math.max(box.x, cut.x), box.height),
               text: text.textContent };
    }).filter((one) => one.box.width > 0);
    const small = 0.15 * Math.min(...words.map((one) => one.box.height));  // ascent and descent
    for (let i = 0; i < words.length; ++i) {
      const a = words[i].box;
      if (a.left < edge.left - 1 || a.right > edge.right + 1 || a.top < edge.top - 1 ||
          a.bottom > edge.bottom + 1)
        wrong.push(`off the edge: ${words[i].text}`);
      for (let k = i + 1; k < words.length; ++k) {
        const b = words[k].box;
        const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (across > 0.5 && down > small + 0.5) wrong.push(`${words[i].text} | ${words[k].text}`);
      }
    }
  }
  return wrong;
}

/** Parts that make the whole page wider than the screen. */
function wider() {
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= wide) return [];
  return [...document.body.querySelectorAll("*")]
    .filter((e) => e.getBoundingClientRect().right > wide + 1 && !e.closest(".table, .drawing"))
    .map((e) => `${e.tagName} ${e.className} ${e.textContent.slice(0, 60)}`)
    .concat(["the page is wider than the screen"]);
}

async function look(browser, name) {
  const url = pathToFileURL(join(folder, name)).href;
  for (const [screen, [width, height]] of Object.entries(screens)) {
    const page = await browser.newPage({ viewport: { width, height } });
    const messages = [], asked = [];
    page.on("console", (m) => messages.push(m.text()));
    page.on("pageerror", (e) => messages.push(String(e)));
    page.on("request", (r) => r.url() === url || asked.push(r.url()));
    await page.goto(url);
    expect(name, `${screen}: messages`, messages);
    expect(name, `${screen}: asks for something`, asked);
    expect(name, `${screen}: too wide`, await page.evaluate(wider));
    if (screen === "desktop") {
      expect(name, "words of a drawing on each other", await page.evaluate(crowded));
      expect(name, "keys", await keys(page));
      expect(name, "the style is refused", (await page.evaluate(() =>
        getComputedStyle(document.querySelector("main")).maxWidth)) === "none" ? ["no style"] : []);
    }
    await page.screenshot({ path: join(folder, `${name}.${screen}.png`), fullPage: true });
    await page.close();
  }
  await print(browser, name, url);
  await served(browser, name, url);
}

/** The first key leads to the skip link; a fold opens and closes by keys. */
async function keys(page) {
  const wrong = [];
  await page.keyboard.press("Tab");
  if (!(await page.evaluate(() => document.activeElement.matches(".skip"))))
    wrong.push("the first key does not reach the link to the answer");
  const fold = page.locator("details > summary").first();
  if (await fold.count()) {
    await fold.focus();
    const open = () => page.evaluate(() => document.activeElement.parentElement.open);
    const before = await open();
    await page.keyboard.press("Enter");
    if ((await open()) === before) wrong.push("a fold does not move by keys");
    await page.keyboard.press("Enter");
  }
  return wrong;
}

async function print(browser, name, url) {
  const page = await browser.newPage();
  await page.goto(url);
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, preferCSSPageSize: false, printBackground: false });
    writeFileSync(join(folder, `${name}.${format}.pdf`), pdf);
    const sheets = pdf.toString("latin1").match(/\/Type *\/Page\b/g).length;
    // What sales hands over is one sheet; half a thousand characters of a name may need more.
    if (name.endsWith("-showroom.html") && !name.startsWith("hostile"))
      expect(name, `${format}: more than a sheet`, sheets === 1 ? [] : [`${sheets} sheets`]);
  }
  await page.emulateMedia({ media: "screen", colorScheme: "dark" });
  await page.screenshot({ path: join(folder, `${name}.dark.png`) });
  await page.close();
}

/** axe-core runs as a script, so in a window that does not heed the page's policy. */
async function served(browser, name, url) {
  for (const colorScheme of ["light", "dark"]) {
    const context = await browser.newContext({ bypassCSP: true, colorScheme });
    const page = await context.newPage();
    await page.goto(url);
    await page.evaluate(axe);
    const { violations } = await page.evaluate(() => window.axe.run());
    expect(name, `a screen reader or weak eyes, ${colorScheme}`, violations.map((v) =>
      `${v.impact}: ${v.id}: ${v.help}; ${v.nodes.length} times, first ${v.nodes[0].html.slice(0, 160)}`));
    await context.close();
  }
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });
for (const name of readdirSync(folder).filter((n) => n.endsWith(".html")).sort())
  await look(browser, name);
await browser.close();
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
