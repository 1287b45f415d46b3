// SPDX-License-Identifier: Apache-2.0
// The test sheet with boxes for what was read, and what the readings mean. A sheet is handed to the
// engine as the file that one fills in by hand: CSV.
import { is_json, use_answer, use_app } from "./asking.js";
import { Busy, Choice, Field, Fold, Problems, Saved, Verdict } from "./pieces.js";
import { Later, Many } from "./turns.js";
import { store, stored } from "./stored.js";
import { html, useEffect, useMemo, useState } from "./view.js";

const cell = (text) => (/[",\n]/.test(text) ? `"${String(text).replace(/"/g, '""')}"` : String(text));

/** The readings as a file; nothing where nothing is typed. */
export function readings_csv(cases, typed, numbers) {
  const rows = [];
  for (const one of cases)
    for (const point of one.points) {
      const read = (typed[one.name]?.[point.path] ?? "").trim();
      if (read) rows.push([one.name, point.path, point.label, numbers.typed(read), point.unit_read]);
    }
  if (!rows.length) return "";
  return ["case,point,label,read,unit", ...rows.map((row) => row.map(cell).join(","))].join("\n") + "\n";
}

/** What a meter shows is read in mV below half a volt. */
const shown = (point) => point.unit === "V" && point.high < 0.5
  ? { ...point, unit_read: "mV", times: 1000 } : { ...point, unit_read: point.unit, times: 1 };

function Point({ point, read, put, judged }) {
  const { numbers } = use_app();
  const label = `${point.label}, ${point.leads}`;
  const of = (value) => numbers.plain(value * point.times);
  return html`<tr class=${judged && !judged.in_band ? "off" : ""}><th scope="row">${point.label} <span class="leads on-phone">${point.leads}</span></th><td class="leads">${point.leads}</td>
    <td class="n expected">${of(point.expected)}</td><td class="n">${of(point.low)} to ${of(point.high)}</td>
    <td class="read"><input aria-label=${`${label}, read in ${point.unit_read}`} value=${read} inputmode="decimal" autocomplete="off" onInput=${(event) => put(event.target.value)} /> ${point.unit_read}
      ${judged && html` <span>${judged.in_band ? "in band" : html`<b>out of band</b>`}</span>`}</td></tr>`;
}

function Diagnosis({ found }) {
  const { numbers } = use_app();
  return html`<section class="diagnosis" aria-label="What the readings say" aria-live="polite">
    <h2 class="sub">What the readings say: <${Verdict} of=${found.verdict} /></h2>
    ${found.causes.length ? html`<ol>${found.causes.map((one) => html`<li><b>${one.what}</b>, ${one.label ?? ""} ${one.element}
      ${one.value !== null && html`: ${numbers.of(one.value, one.unit)}`}
      ${one.heat_full_W > 0 && html`, ${numbers.of(one.heat_full_W, "W")} of heat at full load`}; odds ${numbers.plain(Math.min(one.odds, 1e6))} to 1
      ${one.cannot_be_told_from?.length > 0 && html`<br />cannot be told from: ${one.cannot_be_told_from.map((it) => it.element ?? it).join(", ")}`}</li>`)}</ol>`
      : html`<p>No cause is found${found.unexplained ? ", yet readings are off: read them again" : ""}.</p>`}
    ${(found.findings ?? []).filter((one) => one.verdict !== "pass").map((one) => html`<p><${Verdict} of=${one.verdict} /> ${numbers.words(one.message)}</p>`)}
    ${found.could_hide.length > 0 && html`<${Fold} title="What would not have shown"><ul>${found.could_hide.slice(0, 12).map((one) =>
      html`<li>${one.element}${one.value !== null ? `, up to ${numbers.of(one.value, one.unit)}` : ", not tested at all"}</li>`)}</ul></${Fold}>`}
  </section>`;
}

/** By switch-on, then by point: what was typed. */
const kept_readings = (key) => Object.fromEntries(Object.entries(stored(key)).map(([name, points]) =>
  [name, Object.fromEntries(Object.entries(points ?? {}).filter(([, text]) => typeof text === "string"))]));

export function TestSheet({ design }) {
  const { numbers, question } = use_app();
  const key = `readings ${design.file}`;
  const [typed, set_typed] = useState(() => kept_readings(key));
  const [resting, set_resting] = useState("");
  useEffect(() => { store(key, Object.keys(typed).length ? typed : undefined); }, [typed]);
  const sheet = use_answer(design.request(["test-sheet"], ["--format", "json",
    ...(resting ? ["--resting-voltage", numbers.with_unit(resting, "V")] : [])]), { slot: "sheet" });
  const found = is_json(sheet.answer) ? sheet.answer.json : null;
  const cases = useMemo(() => (found?.switch_ons ?? []).map((one) => ({ ...one, points: one.points.map(shown) })), [found]);
  const csv = readings_csv(cases, typed, numbers);
  const told = use_answer(csv ? design.request(["test-sheet"], ["--readings", "readings.csv", "--format", "json"], { "readings.csv": csv }) : null,
    { slot: "readings", wait: 400 });
  const means = is_json(told.answer) ? told.answer.json : null;
  const judged = new Map((means?.readings ?? []).map((one) => [`${one.case} ${one.path}`, one]));
  const [about, set_about] = useState("");
  const wanted = (point) => `${point.label} ${point.leads}`.toLowerCase().includes(about.toLowerCase());
  const put = (name, path) => (text) => set_typed({ ...typed, [name]: { ...typed[name], [path]: text } });
  return html`<${Busy} busy=${sheet.busy} /><${Problems} answer=${sheet.answer} broken=${sheet.broken} />
    ${found && html`
      <div class="row"><${Field} narrow label="Bank at rest, measured" unit="V" value=${resting} change=${set_resting} mode="decimal" empty=${numbers.plain(found.load.resting_V)} />
        <${Field} narrow label="Show points about" value=${about} change=${set_about} empty="a run, a panel" /></div>
      ${csv ? html`<${Problems} answer=${told.answer} broken=${told.broken} /><${Busy} busy=${told.busy} words="looking for the cause" />${means && html`<${Diagnosis} found=${means} />`}`
        : html`<p class="screen">Type what the meter shows: from the second or third reading on, the cause is told here.</p>`}
      ${cases.map((one) => html`<${Later} key=${one.name}><h2 class="sub">Switch on: ${one.name} (${numbers.of(one.bank_current_A, "A")} from the bank)</h2>
        <p class="hint">${one.running.join(", ")}</p>
        <div class="table" role="group" tabindex="0" aria-label=${`Points to read, ${one.name}`}><table class="points"><thead><tr><th scope="col">point</th><th scope="col" class="leads">leads</th><th scope="col" class="n expected">expected</th>
          <th scope="col" class="n">band</th><th scope="col">read</th></tr></thead>
          <tbody><${Many} of=${one.points.filter(wanted)} each=${(point) => html`<${Point} key=${point.path} point=${point} read=${typed[one.name]?.[point.path] ?? ""}
            put=${put(one.name, point.path)} judged=${judged.get(`${one.name} ${point.path}`)} />`} /></tbody></table></div></${Later}>`)}
      <${Fold} title=${`Dead tests, before it is live (${found.dead_tests.length})`}><ul>${found.dead_tests.map((one) => html`<li>${one.what}: ${numbers.words(one.how)}</li>`)}</ul></${Fold}>
      ${found.untested.length > 0 && html`<${Fold} title=${`Not tested by it (${found.untested.length})`}><ul>${found.untested.map((one) => html`<li>${one.label} ${one.run}: ${one.why}</li>`)}</ul></${Fold}>`}
      <p class="deeds">${csv && html`<${Saved} name="readings.csv" text=${csv} kind="text/csv">Save the readings</${Saved}>
        <button type="button" onClick=${() => set_typed({})}>Clear the readings</button>`}
        <button type="button" onClick=${() => print()}>Print the sheet</button></p>`}`;
}
