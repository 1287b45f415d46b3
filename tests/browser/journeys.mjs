// SPDX-License-Identifier: Apache-2.0
// Whole ways of the three users through the page, opened from disk: sales with a customer, the
// electrician with a cutter in hand, the engineer with a design.
//   node journeys.mjs PAGE SCREENSHOTS [JOURNEY,…]      the last line is "N passed, N failed"
import { address, blank, close, done, expect, is_chromium, longest_work, open, shot, until, wider } from "./browser.mjs";

const figures = ".lengths .figure";

async function sales() {
  const { page, heard, reopen } = await open("", { screen: "tablet" });
  expect("sales: first answer", await until(page, figures, /night|no end/));
  expect("sales: the chance stands with it", await until(page, ".lengths .beside", /of 10 stays/));
  expect("sales: safety is in sight", await until(page, ".safety", /Safety:.*(pass|caution|fail)/));
  await page.getByLabel("Month of arrival").selectOption("june");
  await page.getByLabel("Place").selectOption("hobart");
  await page.getByLabel("heavy", { exact: true }).check();
  expect("sales: another place", await until(page, ".said", /Hobart, June/));
  await page.getByText("With and without").click();
  await page.getByLabel("Name", { exact: true }).fill("Air fryer");
  await page.getByLabel("Power, W").fill("1400");
  await page.getByLabel("Hours a day").fill("0,3");
  await page.getByRole("button", { name: "Add it" }).click();
  expect("sales: their own appliance", await until(page, ".bars", /Air fryer/));
  const link = await page.evaluate(() => location.href);
  expect("sales: the link says it all", ["place=hobart", "month=june", "use=heavy", "Air+fryer"]
    .filter((one) => !link.includes(one)));
  if (is_chromium) {
    await page.emulateMedia({ media: "print" });
    await shot(page, "sales.print");
    expect("sales: paper has conditions, date, chance and the safety note", await page.evaluate(() => {
      const words = document.body.innerText;
      return ["Habits", "heavy", "Date", "of 10 stays", "not an approval", "Safety:", "Air fryer"].filter((one) => !words.includes(one));
    }));
    await page.emulateMedia({ media: "screen" });
  }
  await page.close();
  const again = await reopen();
  expect("sales: a closed tab comes back with its question", await until(again, ".said", /Hobart, June/));
  expect("sales: complaints", heard.messages);
  expect("sales: nothing is asked of a network", heard.asked);
}

async function electrician() {
  const { page, heard } = await open("#cable", { screen: "phone" });
  await page.getByLabel("Current, A").fill("15");
  await page.getByLabel("Length, one way, m").fill("4,5");
  await page.getByLabel("Device at the source").selectOption("iso-8820-3-c");
  await page.getByLabel("Its rating, A").fill("20");
  expect("electrician: size, at worst too", await until(page, ".three", /at worst[^]*mm²/));
  expect("electrician: what was not said holds it back", await until(page, ".answers", /Say what you know/));
  await page.getByLabel("Insulation rated for").selectOption("90 °C");
  await page.getByLabel("How it is laid").selectOption("clipped");
  await page.getByLabel("Air around it, °C").fill("40");
  await page.getByLabel("Loaded circuits together").fill("2");
  await page.getByLabel("Lugs and joints").fill("4");
  await page.waitForFunction(() => !document.body.innerText.includes("Say what you know"));
  await page.getByText(/^Rules that pass/).click();
  await page.locator(".finding", { hasText: "drop" }).getByText("Working and source").first().click();
  expect("electrician: the working, step by step", await until(page, ".working", /=/));
  await page.getByText("Sources", { exact: true }).click();
  expect("electrician: sources", await until(page, ".source", /IEC|practice/));
  await shot(page, "electrician.phone");
  await page.getByLabel("a run of a design").check();
  expect("electrician: a run of the design", await until(page, ".three", /ampacity/));
  expect("electrician: fits the phone", await wider(page));
  await page.getByLabel("one run by itself").check();
  await page.getByText("Units and look").click();
  await page.getByLabel("Units").selectOption("us");
  expect("electrician: US units", await until(page, ".three", /AWG|kcmil/));
  await page.getByText(/^Rules that pass/).click();
  expect("electrician: the findings' words too", await until(page, ".finding", /\d AWG is rated for/));
  await page.getByLabel("Units").selectOption("metric");
  await page.getByLabel("Decimals").selectOption("comma");
  expect("electrician: a decimal comma in figures and words", await until(page, ".three", /\d,\d+ %/) || await until(page, ".finding", /voltage drop[^]*\d,\d+ %\)/));
  expect("electrician: complaints", heard.messages);
}

async function engineer() {
  const { page, heard } = await open("#design?van=marrowick.toml");
  expect("engineer: findings", await until(page, ".answers", /fail.*caution.*pass/));
  const text = page.locator(".cm-content");
  await text.click();
  await page.keyboard.press("Control+Home");
  await page.keyboard.type("scema = 1\n");
  expect("engineer: a slip is told", await until(page, ".problems", /scema/));
  expect("engineer: at its line", (await page.locator(".cm-lint-marker-error").count()) ? "" : "no mark beside the text");
  expect("engineer: not released meanwhile", await until(page, ".safety", /not released/));
  for (let n = 0; n < 12 && /scema/.test(await text.innerText()); ++n) await page.keyboard.press("Control+z");
  expect("engineer: undone", await until(page, ".safety", /pass/));
  await page.getByRole("button", { name: "Diagram" }).click();
  expect("engineer: the diagram", await until(page, ".drawing text", /W05/));
  await page.locator(".drawing .thing[data-subject='run/main bar to night panel']").focus();
  await page.keyboard.press("Enter");
  expect("engineer: a run of it is chosen by keys", await until(page, ".three caption", /night panel/));
  await shot(page, "engineer.diagram");
  await page.getByRole("button", { name: "Cables and devices" }).click();
  expect("engineer: schedules", await until(page, ".told caption", /Cable schedule/));
  await page.getByRole("button", { name: "Test sheet" }).click();
  await page.getByLabel(/^W13\+,/).first().fill("300");
  expect("engineer: what a reading means", await until(page, ".diagnosis", /joint|device|reading/));
  await shot(page, "engineer.sheet");
  await page.locator("input[type=file]").setInputFiles({ name: "own.toml", mimeType: "text/plain",
    buffer: Buffer.from('schema = 1\nextends = "marrowick.toml"\n[vehicle]\nname = "Own pack"\n[bank]\nquantity = 3\n') });
  expect("engineer: a pack that was dropped in", await until(page, ".safety .van", /Own pack/));
  await page.locator("input[type=file]").setInputFiles({ name: "warm.toml", mimeType: "text/plain",
    buffer: Buffer.from('schema = 1\nextends = "marrowick.toml"\n[vehicle]\nname = "Warm"\n[place]\nrecord_low = "15 °C"\n') });
  expect("engineer: a warning stands beside the answer, with its line", await until(page, ".warned", /record_low.*\(warm\.toml, line 6\)/s));
  await page.getByRole("link", { name: "What pack does it need?" }).click();
  expect("engineer: complaints", heard.messages);
}

async function pack() {
  const { page, heard } = await open("#pack?van=pellibri.toml&packs=sizing%2Fpellibri.toml");
  await page.getByRole("button", { name: "Find the packs" }).click();
  expect("pack: packs as a curve", await until(page, ".plot", /Packs/, 180000));
  expect("pack: one is chosen", await until(page, ".chosen", /Mass/));
  await shot(page, "pack.desktop");
  await page.getByRole("button", { name: "Save it as an option pack" }).click();
  expect("pack: kept", await until(page, ".chosen", /Kept as/, 180000));
  await page.getByRole("button", { name: "Ask: will it last?" }).click();
  expect("pack: it lasts", await until(page, figures, /night|no end/));
  expect("pack: complaints", heard.messages);
}

/** The page's own thread is never long at one piece of work, whatever it opens with. */
async function still() {
  if (!is_chromium) return;
  const stay = ["#stay?van=marrowick.toml&month=july", ".deeds button", /Print/];
  const openings = { "will it last": stay, "will it last, asked before": stay, "is this cable right": ["#cable", ".three", /mm²/],
    "the whole design": ["#design?van=quondelay.toml", ".cm-content", /./], "its report": ["#design?van=quondelay.toml&part=report", ".told", /Sources/],
    "its test sheet": ["#design?van=quondelay.toml&part=sheet", ".points", /./] };
  let window = null;
  for (const [what, [fragment, there, words]] of Object.entries(openings)) {
    if (fragment !== stay[0]) window = null;
    window ??= await blank();
    const page = await window.context.newPage();
    let wrong;
    const longest = await longest_work(page, async () => {
      await page.goto(address + fragment);
      wrong = await until(page, there, words);
      await page.waitForTimeout(1500);
    });
    expect(`still: ${what} is there`, wrong);
    expect(`still: ${what}`, !(longest <= 50) ? `${longest.toFixed(0)} ms at a stretch` : "");
    await page.close();
  }
}

/** What has not had its turn when the page is printed is made at once. */
async function paper() {
  const held = () => {
    const { port1, port2 } = new MessageChannel();
    port2.postMessage = () => {};
    window.MessageChannel = class { port1 = port1; port2 = port2; };
  };
  const printed = (page, place) => page.evaluate((where) => {
    const before = document.querySelector(where);
    dispatchEvent(new Event("beforeprint"));
    return [before && "the test proves nothing: it stands there before", !document.querySelector(where) && "it is not there"];
  }, place);
  const { page } = await open("#stay?van=marrowick.toml&month=july", { before: held });
  expect("paper: what is asked", await printed(page, ".asked"));
  expect("paper: the first figures", await until(page, ".lengths .length:not(.coarse-figure) .figure", /night|no end/));
  expect("paper: all that stands below them", await printed(page, ".bars"));
  await page.goto(`${address}#design?van=marrowick.toml&part=schedules`);
  await page.reload();
  await printed(page, ".answers");
  await page.locator(".told").waitFor({ state: "attached", timeout: 120000 });
  expect("paper: a whole schedule", await printed(page, ".told table"));
}

const few = process.argv[4]?.split(",");
for (const journey of [sales, electrician, engineer, pack, still, paper].filter((one) => few?.includes(one.name) ?? true))
  await journey().catch((error) => expect(journey.name, error.stack));
await close();
done();
