// SPDX-License-Identifier: Apache-2.0
// Each screen for weak eyes, screen readers and keys: axe-core without a violation on phone, tablet and
// desktop, light and dark; no sideways scrolling at 360 px and at 200 % zoom; all by the keyboard.
//   node eyes_and_hands.mjs PAGE.html SCREENSHOTS [SCREEN,…]      the last line is "N passed, N failed"
import { axe, close, done, expect, open, screens, shot, until, wider } from "./browser.mjs";

const questions = {
  stay: ["#stay?month=july", ".lengths .figure"], cable: ["#cable?fuse_type=iso-8820-3-c&fuse=25", ".three"],
  pack: ["#pack", ".safety .verdict"], findings: ["#design?van=quondelay.toml", ".findings, .answer p"],
  diagram: ["#design?part=diagram", ".drawing .thing"], schedules: ["#design?part=schedules", ".told table"],
  sheet: ["#design?part=sheet", ".points"],
};

const few = process.argv[4]?.split(",");
for (const [name, [fragment, there]] of Object.entries(questions).filter(([name]) => few?.includes(name) ?? true))
  for (const [screen, size] of Object.entries(screens))
    for (const colorScheme of screen === "desktop" ? ["light", "dark"] : ["light"]) {
      // axe-core runs as a script, so in a window that does not heed the page's policy.
      const { page, context, heard } = await open(fragment, { screen, colorScheme, bypassCSP: true, reducedMotion: "reduce" });
      const about = `${name}, ${screen}, ${colorScheme}`;
      expect(`${about}: is there`, await until(page, there, /./));
      expect(`${about}: too wide`, await wider(page));
      await page.evaluate(axe);
      const { violations } = await page.evaluate(() => window.axe.run());
      expect(`${about}: axe-core`, violations.map((v) => `${v.impact}: ${v.id}: ${v.help}; ${v.nodes.length} times, first ${v.nodes[0].html.slice(0, 160)} ${v.nodes[0].failureSummary.slice(0, 200)}`));
      await shot(page, `${name}.${screen}.${colorScheme}`);
      expect(`${about}: complaints`, heard.messages);
      await context.close();
    }

// A reading is typed on a phone without a sideways move.
{
  const { page, context } = await open("#design?part=sheet", { screen: "phone" });
  expect("a phone's sheet: is there", await until(page, ".points", /./));
  expect("a phone's sheet: its boxes are in sight", await page.evaluate(() => [...document.querySelectorAll(".points input")]
    .filter((one) => one.getBoundingClientRect().right > innerWidth).length ? "they are not" : ""));
  await context.close();
}

// 200 % zoom of a desktop is half its width.
{
  const { page, context } = await open("#stay?month=july", { screen: "desktop", viewport: { width: 640, height: 450 } });
  expect("200 %: is there", await until(page, ".lengths .figure", /./));
  expect("200 %: too wide", await wider(page));
  await context.close();
}

// Keys alone: from the top to another question, a field, a radio and back.
{
  const { page, context } = await open("#stay");
  await until(page, ".bars", /Wh/);
  await page.keyboard.press("Tab");
  expect("keys: the first reaches the way to the answer", (await page.evaluate(() => document.activeElement.matches(".skip"))) ? "" : "it does not");
  const reached = new Set();
  for (let n = 0; n < 60; ++n) {
    await page.keyboard.press("Tab");
    reached.add(await page.evaluate(() => {
      const one = document.activeElement;
      return one.labels?.[0]?.textContent ?? one.textContent.slice(0, 40);
    }));
  }
  const all = [...reached].join("|");
  expect("keys: reach every kind of thing", ["Is this cable right?", "Model", "Place", "Month of arrival", "People", "typical",
    "With and without", "Conditions", "Print for the customer"].filter((one) => !all.includes(one)));
  await context.close();
}
await close();
done();
