// SPDX-License-Identifier: Apache-2.0
// "Will it last?": what sales is asked. Nights and days always stand with their chance; what was
// assumed stands beside them and can be changed there.
import { facts, is_json, use_answer, use_app } from "./asking.js";
import { ModelFields, design_of } from "./model.js";
import { months } from "./numbers.js";
import { Busy, Choice, Gist, Field, Fold, Kept, Problems, Radios, Slider, Table } from "./pieces.js";
import { Plot } from "./plot.js";
import { SafetyStrip, use_check } from "./safety.js";
import { Later } from "./turns.js";
import { html, useState } from "./view.js";

/** Keys of the design that this screen changes. */
export function changes(question, numbers) {
  const set = [];
  const put = (path, value) => value !== "" && set.push([path, value]);
  put("travel/driving", question.drive !== "" ? `${numbers.typed(question.drive)} h` : "");
  put("travel/every", question.every !== "" ? `${numbers.typed(question.every)} d` : "");
  put("travel/mains_nights", numbers.typed(question.mains));
  put("place/pitch", question.pitch);
  put("promise/reserve", numbers.with_unit(question.reserve, "%"));
  put("promise/arrive_at", numbers.with_unit(question.charge, "%"));
  put("promise/arrive_time", question.arrive);
  return set;
}

export const place_options = (question) => question.at ? ["--at", question.at]
  : question.place ? ["--place", question.place] : [];

function options_of(question, numbers) {
  const options = ["--format", "json", "--charge", ...place_options(question)];
  const put = (name, value) => value !== "" && options.push(name, value);
  put("--month", question.month);
  put("--people", numbers.typed(question.people));
  put("--chance", numbers.with_unit(question.chance, "%"));
  put("--age", numbers.with_unit(question.age, "y"));
  options.push("--use", question.use);
  for (const name of question.without) options.push("--without", name);
  for (const name of question.with) options.push("--with", name);
  for (const own of question.add) options.push("--add", own);
  return options;
}

const countries = [...new Set(facts.towns.map((one) => one.country))].sort().map((country) => ({ group: country,
  options: facts.towns.filter((one) => one.country === country).map((one) => [one.name, one.title]) }));

/** Towns by country, and a place of one's own. */
export function PlaceFields() {
  const { question, set } = use_app();
  const [own, set_own] = useState(Boolean(question.at));
  const [parts, set_parts] = useState(() => question.at.split(",").concat(["", "", ""]).slice(0, 3)
    .map((one) => one.replace(/\s*m\s*$/, "").trim()));
  const typed = (at, text) => {
    const next = parts.map((one, i) => (i === at ? text : one));
    set_parts(next);
    const [lat, lon, height] = next.map((one) => one.replace(",", ".").trim());
    if (lat && lon && height) set({ at: `${lat},${lon},${height} m`, place: "" });
  };
  return html`
    <${Choice} label="Place" value=${own ? "@" : question.place}
      options=${[["", "as the design says"], ["@", "latitude, longitude, height …"], ...countries]}
      change=${(name) => { set_own(name === "@"); if (name !== "@") set({ place: name, at: "" }); }} />
    ${own && html`<div class="row">
      <${Field} narrow label="Latitude" unit="°" empty="−42.1" value=${parts[0]} change=${(t) => typed(0, t)} hint="south is negative" />
      <${Field} narrow label="Longitude" unit="°" empty="146.6" value=${parts[1]} change=${(t) => typed(1, t)} hint="west is negative" />
      <${Field} narrow label="Height" unit="m" empty="730" value=${parts[2]} change=${(t) => typed(2, t)} hint="above the sea" />
    </div>`}`;
}

function OwnAppliance() {
  const { question, set, numbers } = use_app();
  const blank = { name: "", power: "", hours: "", supply: "inverter" };
  const [own, set_own] = useState(blank);
  const ready = own.name.trim() && own.power.trim() && own.hours.trim();
  const add = () => {
    const plain = own.name.replace(/[:,]/g, " ").trim();
    set({ add: [...question.add,
      `${plain}: ${numbers.with_unit(own.power, "W")}, ${numbers.with_unit(own.hours, "h")}, ${own.supply}`] });
    set_own(blank);
  };
  const put = (key) => (text) => set_own({ ...own, [key]: text });
  return html`<fieldset class="own"><legend>An appliance of their own</legend>
    <${Field} label="Name" value=${own.name} change=${put("name")} empty="Air fryer" />
    <div class="row">
      <${Field} narrow label="Power" unit="W" value=${own.power} change=${put("power")} mode="decimal" empty="1400" />
      <${Field} narrow label="Hours a day" value=${own.hours} change=${put("hours")} mode="decimal" empty=${numbers.written("0.3")} />
      <${Choice} narrow label="Fed by" value=${own.supply} change=${put("supply")}
        options=${[["inverter", "the inverter"], ["dc", "a 12 V outlet"]]} />
    </div>
    <button type="button" disabled=${!ready} onClick=${add}>Add it</button>
    ${question.add.length > 0 && html`<ul class="plain">${question.add.map((one, at) => html`<li>${one}
      <button type="button" class="small" aria-label=${`leave out ${one}`}
        onClick=${() => set({ add: question.add.filter((_, i) => i !== at) })}>leave out</button></li>`)}</ul>`}
  </fieldset>`;
}

function Appliances({ found }) {
  const { question, set } = use_app();
  const names = (found?.energy?.appliances ?? []).map((one) => one.name)
    .filter((name) => !/, own draw$/.test(name));
  for (const name of [...question.without, ...question.with]) if (!names.includes(name)) names.push(name);
  const state = (name) => question.without.includes(name) ? "without" : question.with.includes(name) ? "with" : "";
  const put = (name, value) => set({
    without: question.without.filter((one) => one !== name).concat(value === "without" ? [name] : []),
    with: question.with.filter((one) => one !== name).concat(value === "with" ? [name] : []) });
  return html`<div class="appliances" role="group" aria-label="Appliances">${names.map((name) => html`
    <label><span>${name}</span><select value=${state(name)} onChange=${(event) => put(name, event.target.value)}>
      <option value="">as designed</option><option value="with">used every day</option>
      <option value="without">left off</option></select></label>`)}</div>`;
}

const habits = [["frugal", "frugal"], ["typical", "typical"], ["heavy", "heavy"]];

function Asked({ found, stay }) {
  const { question, set, numbers } = use_app();
  const put = (key) => (value) => set({ [key]: value });
  const taken = (key, times) => stay?.assumed ? numbers.plain(times * stay.assumed[key]) : "as the design says";
  const changed = question.without.length + question.with.length + question.add.length;
  return html`<form class="asked" aria-label="What is asked" onSubmit=${(event) => event.preventDefault()}>
    <${ModelFields} />
    <${PlaceFields} />
    <${Choice} label="Month of arrival" value=${question.month} change=${put("month")}
      options=${[["", "as the design says"], ["worst", "the hardest month"], ...months.map((one) => [one.toLowerCase(), one])]} />
    <${Slider} label="People" value=${question.people} change=${put("people")} least=${1} most=${8}
      empty=${stay?.people ?? 2} />
    <${Radios} label="Habits" value=${question.use} change=${put("use")} options=${habits} />
    <${Fold} title=${`With and without${changed ? ` (${changed} changed)` : ""}`} open=${changed > 0}>
      <${Appliances} found=${found} /><${OwnAppliance} /></${Fold}>
    <${Fold} title="Driving and mains" open=${question.drive + question.every + question.mains !== ""}>
      <${Slider} label="Driving on a day of travel" value=${question.drive} change=${put("drive")} least=${0} most=${10} step=${0.5} empty=${0} unit="h" />
      <${Slider} label="One day of travel in" value=${question.every} change=${put("every")} least=${1} most=${14} empty=${3} unit="days" />
      <${Slider} label="Nights on mains a week" value=${question.mains} change=${put("mains")} least=${0} most=${7} empty=${0} unit="nights" /></${Fold}>
    <${Fold} title="Conditions">
      <${Choice} label="Pitch" value=${question.pitch} change=${put("pitch")}
        options=${[["", "as the design says"], ["open", "open"], ["part shade", "part shade"], ["under trees", "under trees"]]} />
      <div class="row">
        <${Field} narrow label="Charge on arrival" unit="%" value=${question.charge} change=${put("charge")} mode="decimal" empty=${taken("arrive_at", 100)} />
        <${Field} narrow label="Kept in reserve" unit="%" value=${question.reserve} change=${put("reserve")} mode="decimal" empty=${taken("reserve", 100)} />
        <${Field} narrow label="Arriving at" type="time" value=${question.arrive} change=${put("arrive")} />
        <${Field} narrow label="Age of the bank" unit="years" value=${question.age} change=${put("age")} mode="decimal" empty=${taken("bank_age_y", 1)} />
        <${Field} narrow label="Chance to hold" unit="%" value=${question.chance} change=${put("chance")} mode="decimal" empty=${stay ? numbers.plain(100 * stay.chance) : "90"} />
      </div></${Fold}>
  </form>`;
}

const nights_of = (n) => `${n} ${n === 1 ? "night" : "nights"}`;

/** One length with its chance. */
function Length({ words, days, nights, unlimited, more, chance, could, numbers }) {
  return html`<div class="length"><p class="what">${words}</p>
    <p class="figure">${unlimited ? "no end in sight" : html`${more ? "at least " : ""}${nights_of(nights)}`}</p>
    <p class="beside">${unlimited ? "" : `${numbers.days(days)}${more ? " or more" : ""}, `}${numbers.chance(chance)} stays last that long</p>
    ${could && !unlimited && html`<p class="hint">could be ${could[0] === could[1] ? numbers.days(could[0]) : `${numbers.written(String(could[0]))} to ${numbers.days(could[1])}`}</p>`}</div>`;
}

function Levers({ stay }) {
  const { numbers } = use_app();
  const day = (d) => d >= stay.horizon_d ? `${numbers.plain(d)} or more` : numbers.plain(d);
  const rows = stay.levers.map((one) => [numbers.words(one.change), day(one.parked_d), day(one.stay_d), numbers.words(one.why)]);
  return html`<${Table} title=${`Days, ${numbers.chance(stay.chance)} stays; as it is ${day(stay.levers_base_parked_d)} parked, ${day(stay.levers_base_d)} with travel (what is told above is on the safe side of this)`}
    heads=${["change", "parked, days", "with travel, days", ""]} rows=${rows} numbers=${[1, 2]} />`;
}

function Consumers({ stay }) {
  const { numbers } = use_app();
  const few = stay.emptied_by.slice(0, 8);
  const most = Math.max(...few.map((one) => one.Wh_share));
  return html`<div class="table" role="group" tabindex="0" aria-label="What empties it"><table class="bars">
    <caption>What empties it, a day</caption>
    <thead><tr><th scope="col">what</th><th scope="col" class="n">Wh</th><th scope="col" class="n">share</th><td aria-hidden="true"></td></tr></thead>
    <tbody>${few.map((one) => html`<tr><th scope="row">${one.name}</th><td class="n">${numbers.plain(one.Wh_per_day)}</td>
      <td class="n">${numbers.share(one.Wh_share, 2)}</td>
      <td aria-hidden="true"><svg viewBox="0 0 100 10" preserveAspectRatio="none" width="100" height="10"><rect class="bar" width=${100 * one.Wh_share / most} height="10" /></svg></td></tr>`)}</tbody></table></div>`;
}

function Charge({ stay }) {
  const { numbers } = use_app();
  if (!stay.charge?.length) return null;
  return html`<${Plot} title="The charge over the stay, with the travel as stated" x="days after arrival" y="state of charge, %"
    says=${stay.charge.map((one) => `${one.name}: ${one.ended ? "" : "more than "}${numbers.plain(one.lasted_d)} days`).join("; ")}
    lines=${stay.charge.map((one) => ({ name: one.name,
      points: one.share.map((share, at) => [(at + 1) * one.step_h / 24, 100 * share]) }))}
    low=${0} high=${100} numbers=${numbers} />`;
}

/** What the answer takes for granted of the start. */
const assumed_words = {
  arrive_at: ["Charge on arrival", (value, numbers) => numbers.share(value)],
  reserve: ["Kept in reserve", (value, numbers) => numbers.share(value)],
  bank_age_y: ["Age of the bank", (value, numbers) => `${numbers.plain(value)} years`],
  pitch: ["Pitch", (value) => value],
};
function Takes({ stay }) {
  const { numbers } = use_app();
  if (!stay.assumed) return null;
  return html`<p class="takes screen">It takes: ${[`arrival at ${stay.arrive_time}`, `${stay.people} ${stay.people === 1 ? "person" : "people"}`, `${stay.use} habits`,
    ...Object.entries(assumed_words).map(([key, [name, says]]) => `${name.toLowerCase()} ${says(stay.assumed[key], numbers)}`)].join(", ")}.</p>`;
}

/** What was asked, for paper: the fields themselves are not printed. */
function Conditions({ stay }) {
  const { question, files, numbers } = use_app();
  const rows = [["Model", files.title(question.van)],
    ["Options", question.packs.map((one) => files.title(one)).join("; ") || "none"],
    ["Place", town(stay.place)], ["Month of arrival", stay.month], ["Arriving at", stay.arrive_time],
    ["People", String(stay.people)], ["Habits", stay.use],
    ["Left off", question.without.join(", ")], ["Used every day", question.with.join(", ")],
    ["Besides", question.add.join("; ")],
    ["Driving", question.drive && `${question.drive} h, one day in ${question.every || "as designed"}`],
    ...Object.entries(assumed_words).map(([key, [name, says]]) => [name, stay.assumed && says(stay.assumed[key], numbers)])]
    .filter(([, value]) => value);
  return html`<dl class="conditions paper">${rows.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}
    <div><dt>Date</dt><dd>${numbers.today()}</dd></div></dl>`;
}

/** The first figure: between which lengths the answer will lie. */
function First({ stay }) {
  const { numbers } = use_app();
  const horizon = stay.horizon_d ?? 30;
  const between = ([low, high]) => {
    const a = numbers.days(low), b = numbers.days(high);
    if (low >= horizon) return `${a} or more`;
    return a === b ? `about ${a}` : `${a.replace(/ days?$/, "")} to ${b}`;
  };
  return html`<div class="answer"><h2 class="said">${stay.design?.name}, ${town(stay.place)}, ${stay.month}</h2>
    <div class="lengths">
      <div class="length coarse-figure"><p class="what">parked, on the sun alone</p><p class="figure">${between(stay.parked_between_d)}</p>
        <p class="beside">${numbers.chance(stay.chance)} stays last that long</p></div>
      <div class="length coarse-figure"><p class="what">with the travel and mains as stated</p><p class="figure">${between(stay.stay_between_d)}</p>
        <p class="beside">${numbers.chance(stay.chance)} stays last that long</p></div></div>
    <p class="coarse"><b>First look</b>, from few years of weather. The full figure, with nights, is being worked out.</p></div>`;
}

function Answer({ stay, old }) {
  const { numbers } = use_app();
  const both = stay.headline_d !== stay.parked_headline_d || stay.unlimited !== stay.parked_unlimited || stay.stay_d > stay.parked_d;
  const at_end = (d) => d >= stay.horizon_d;
  return html`<div class=${old ? "answer old" : "answer"}>
    <h2 class="said">${stay.design.name}, ${town(stay.place)}, ${stay.month}</h2>
    <div class="lengths">
      <${Length} words="parked, on the sun alone" days=${stay.parked_headline_d} nights=${stay.parked_nights}
        unlimited=${stay.parked_unlimited} more=${at_end(stay.parked_headline_d)} chance=${stay.chance} could=${stay.parked_could_be_d} numbers=${numbers} />
      ${both && html`<${Length} words="with the travel and mains as stated" days=${stay.headline_d} nights=${stay.nights}
        unlimited=${stay.unlimited} more=${at_end(stay.headline_d)} chance=${stay.chance} could=${stay.could_be_d} numbers=${numbers} />`}
    </div>
    ${!both && html`<p>Travel and mains, as stated, change nothing.</p>`}
    <p>Worst 1 of 100: ${numbers.days(stay.parked_first_percentile_d)} parked, ${numbers.days(stay.first_percentile_d)} with travel.
      ${stay.promise_met_chance !== null ? ` The promised stay is kept ${numbers.share(stay.promise_met_chance, 2)} of the time.` : ""}
      ${" "}${stay.starts} arrivals in ${stay.years} years of weather (${stay.weather_kind}).</p>
    <${Later}><${Conditions} stay=${stay} /></${Later}>
    <${Whole} stay=${stay} />
  </div>`;
}
const town = (name) => (name ? name[0].toUpperCase() + name.slice(1) : "");

function Whole({ stay }) {
  const { numbers } = use_app();
  return html`<${Takes} stay=${stay} />
    <div class="pair"><${Later}><${Consumers} stay=${stay} /></${Later}><${Later}><${Charge} stay=${stay} /></${Later}></div>
    <${Later}>${stay.asked.length > 0 && html`<h3>What one thing more, or one less, would do (${numbers.chance(stay.chance)} stays)</h3>
      <ul class="asked-of">${stay.asked.map((one) => html`<li>${numbers.words(one)}</li>`)}</ul>`}
    ${stay.levers.length > 0 && html`<${Fold} title="The same in figures, as simulated" name="screen"><${Levers} stay=${stay} /></${Fold}>`}
    ${stay.to_stay_on.length > 0 && html`<p>To stay on without end, one of these each day: ${stay.to_stay_on.map((one) => one.hours_a_day === null ? `${one.by} alone does not do it` : `${one.by} ${numbers.plain(one.hours_a_day)} h`).join("; ")}.</p>`}</${Later}>
    <${Later}><${Fold} title="What this rests on" open=${true} name="rests">
      <ul>${stay.assumptions.map((one) => html`<li>${numbers.words(one)}</li>`)}</ul>
      <${Fold} title="Fine print"><ul>${stay.notes.map((one) => html`<li>${numbers.words(one)}</li>`)}</ul></${Fold}></${Fold}></${Later}>`;
}

const gist_of = (stay, numbers) => `${stay.unlimited ? "no end in sight" : `${stay.headline_d >= stay.horizon_d ? "at least " : ""}${nights_of(stay.nights)}`}, ${numbers.chance(stay.chance)}`
  + (stay.parked_nights !== stay.nights ? `; parked ${nights_of(stay.parked_nights)}` : "");

export function Stay() {
  const app = use_app();
  const { question, numbers } = app;
  const set = changes(question, numbers);
  const design = design_of(app, set);
  const checked = use_check(design, { verdicts: true });
  const options = options_of(question, numbers);
  const whole = use_answer(design.request(["stay"], options), { slot: "stay", wait: 250, keep: "stay" });
  const first = use_answer(whole.kept ? null : design.request(["stay"], [...options.filter((one) => one !== "--charge"), "--first"]), { slot: "stay first", soon: true });
  const found = is_json(checked.answer) ? checked.answer.json : null;
  // What was kept, or else the first figure, stands until the whole answer to the same question is there.
  const whole_ready = is_json(whole.answer) && !whole.busy;
  const first_ready = is_json(first.answer) && !first.busy;
  const last = is_json(whole.answer) ? whole.answer.json : null;
  const spoken = whole_ready ? `${nights_of(last.parked_nights)} parked, ${numbers.chance(last.chance)} stays; ${nights_of(last.nights)} with travel.` : "";
  return html`
    <div class="columns">
      <${Asked} found=${found} stay=${last} />
      <div class="answers" tabindex="-1">
        <${SafetyStrip} checked=${checked} />
        <p class="hidden" role="status" aria-live="polite">${spoken}</p>
        ${!whole.busy && html`<${Problems} answer=${whole.answer} broken=${whole.broken} />`}
        <${Kept} at=${whole.kept} numbers=${numbers} />
        ${!whole_ready && first_ready && !whole.kept && html`<${First} stay=${first.answer.json} />`}
        ${last && (whole_ready || whole.kept || !first_ready) && html`<${Answer} stay=${last} old=${!whole_ready && !whole.kept} />`}
        <${Busy} busy=${whole.busy} words=${first_ready ? "the full answer is being worked out" : "working it out"} />
        ${whole_ready && html`<p class="deeds"><button type="button" onClick=${() => print()}>Print for the customer</button></p>`}
        <${Gist} says=${whole_ready ? gist_of(last, numbers) : whole.kept ? `kept: ${gist_of(last, numbers)}` : first_ready && !first.busy ? `first look: parked ${numbers.days(first.answer.json.parked_between_d[0])} or more` : whole.busy ? "being worked out" : ""} safety=${found?.verdict_safety} />
      </div>
    </div>`;
}
