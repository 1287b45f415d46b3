// SPDX-License-Identifier: Apache-2.0
// "Is this cable right?": one run by six inputs, or a run of the design. First size, device and drop,
// as assumed and at worst; then what was assumed; then every step.
import { facts, is_json, use_answer, use_app } from "./asking.js";
import { ModelFields, design_of } from "./model.js";
import { Busy, Choice, Field, Finding, Fold, Gist, Kept, Problems, Radios, Source, Table, Verdict, by_weight } from "./pieces.js";
import { SafetyStrip, use_check } from "./safety.js";
import { html } from "./view.js";

const lies = [["", "not said"], ["free", "free in air"], ["clipped", "clipped to a surface"],
  ["conduit", "in conduit"], ["touching-insulation", "touching thermal insulation"],
  ["in-insulation", "inside thermal insulation"]];
const insulations = [["", "not said"], ["60 °C", "60 °C (PVC)"], ["75 °C", "75 °C"], ["90 °C", "90 °C (cross-linked)"],
  ["105 °C", "105 °C"]];

function options_of(q, numbers) {
  const options = [];
  const put = (name, value) => value && options.push(name, value);
  const typed = (value, unit) => value !== "" ? numbers.with_unit(value, unit) : "";
  if (q.power !== "") put("--power", typed(q.power, "W"));
  else put("--current", typed(q.current, "A"));
  put("--length", typed(q.length, numbers.length_unit));
  put("--voltage", typed(q.voltage, "V"));
  if (q.fuse !== "" && q.fuse_type) put("--fuse", `${q.fuse_type} ${typed(q.fuse, "A")}`);
  put("--laid", q.laid);
  put("--insulation", q.insulation);
  put("--drop", typed(q.drop, "%"));
  put("--ambient", typed(q.ambient, numbers.temperature_unit));
  put("--circuits-together", numbers.typed(q.together));
  put("--joints", numbers.typed(q.joints));
  put("--conductor", q.conductor && typed(q.conductor, q.sizes === "awg" || (numbers.us && !q.sizes) ? "AWG" : "mm2"));
  put("--terminals", q.terminals === "none" ? "none" : typed(q.terminals, numbers.temperature_unit));
  put("--sizes", q.sizes || (numbers.us ? "awg" : ""));
  put("--bank-resistance", typed(q.bank, "mohm"));
  return [...options, "--format", "json", ...numbers.options];
}

const fuse_types = facts.tables.filter(({ name, title }) => /\bfuse\b/.test(title) && !name.includes("/"))
  .map(({ name, title }) => [name, title]);

function Asked({ assumed }) {
  const { question, set, numbers } = use_app();
  const put = (key) => (value) => set({ [key]: value });
  const as = (path) => assumed?.find((one) => one.path === path)?.value ?? "not said";
  const own = question.of === "own";
  return html`<form class="asked" aria-label="What is asked" onSubmit=${(event) => event.preventDefault()}>
    <${Radios} label="Which run" value=${question.of} change=${put("of")} options=${[["own", "one run by itself"], ["design", "a run of a design"]]} />
    ${own ? html`
      <div class="row">
        <${Field} narrow label="Current" unit="A" value=${question.current} mode="decimal" change=${(t) => set({ current: t, power: "" })} />
        <${Field} narrow label="or power" unit="W" value=${question.power} mode="decimal" change=${put("power")} />
      </div>
      <div class="row">
        <${Field} narrow label="Length, one way" unit=${numbers.length_unit} value=${question.length} mode="decimal" change=${put("length")} />
        <${Field} narrow label="System voltage" unit="V" value=${question.voltage} mode="decimal" change=${put("voltage")} empty="12" />
      </div>
      <${Choice} label="Device at the source" value=${question.fuse_type} change=${put("fuse_type")}
        options=${[["", "not said"], ...fuse_types]} />
      ${question.fuse_type && html`<${Field} label="Its rating" unit="A" value=${question.fuse} mode="decimal" change=${put("fuse")}
        wrong=${question.fuse === "" ? "Type its rating, then the device is judged." : ""} />`}
      <${Choice} label="Insulation rated for" value=${question.insulation} change=${put("insulation")} options=${insulations} />
      <${Choice} label="How it is laid" value=${question.laid} change=${put("laid")} options=${lies} />
      <${Fold} title="Assumed, until you say" open=${true}>
        <div class="row">
          <${Field} narrow label="Air around it" unit=${numbers.temperature_unit} value=${question.ambient} mode="decimal" change=${put("ambient")} empty=${as("ambient")} />
          <${Field} narrow label="Loaded circuits together" value=${question.together} mode="numeric" change=${put("together")} empty=${as("circuits_together")} />
          <${Field} narrow label="Lugs and joints" value=${question.joints} mode="numeric" change=${put("joints")} empty=${as("joints")} />
          <${Field} narrow label="Drop allowed" unit="%" value=${question.drop} mode="decimal" change=${put("drop")} empty=${as("drop")} />
          <${Field} narrow label="Terminals rated for" unit=${numbers.temperature_unit} value=${question.terminals} change=${put("terminals")} empty=${as("terminals")} />
          <${Field} narrow label="Size in hand" value=${question.conductor} change=${put("conductor")} empty="the smallest" />
          <${Field} narrow label="Least resistance of the bank" unit="mΩ" value=${question.bank} mode="decimal" change=${put("bank")} empty="not said" />
        </div>
        <${Choice} label="Sizes" value=${question.sizes} change=${put("sizes")} options=${[["", numbers.us ? "AWG, as units are US" : "metric"], ["metric", "metric, mm²"], ["awg", "AWG"]]} />
      </${Fold}>`
    : html`<${ModelFields} /><${RunChoice} />`}
  </form>`;
}

function RunChoice() {
  const app = use_app();
  const { question, set } = app;
  const checked = use_check(design_of(app), { slot: "runs" });
  const names = is_json(checked.answer) ? runs_of(checked.answer.json) : [];
  return html`<${Choice} label="Run" value=${question.run || names[0]} change=${(run) => set({ run })}
    options=${names.map((name) => [name, name])} />`;
}
const runs_of = (checked) => (checked.wiring?.cases[0]?.runs ?? []).map((run) => run.name);

/** Of a conductor, as the reader writes it. */
const size = (name, numbers) => numbers.words((name ?? "none suffices").replace(/\bawg\b/, "AWG"));

/** Size, device and drop, twice. */
function Three({ found }) {
  const { numbers } = use_app();
  const worst = found.at_worst;
  const device = (one) => one.largest_fuse_A ? `at most ${numbers.of(one.largest_fuse_A, "A")}` : "not known";
  const drop = (one) => one.voltage_drop_V === null ? "no working point"
    : `${numbers.of(one.voltage_drop_V, "V")} (${numbers.share(one.voltage_drop_share)})`;
  const rows = [["size", size(found.smallest, numbers), size(worst.smallest, numbers)],
    ["device", device(found), device(worst)], ["drop", drop(found), drop(worst)]];
  return html`<table class="three"><caption>${numbers.of(found.current_A, "A")} with ${size(found.conductor, numbers)}</caption>
    <thead><tr><td></td><th scope="col">as assumed</th><th scope="col">at worst</th></tr></thead>
    <tbody>${rows.map(([name, one, two]) => html`<tr><th scope="row">${name}</th><td>${one}</td><td>${two}</td></tr>`)}</tbody></table>`;
}

const more = [["copper", "nominal_area_mm2", "mm²"], ["resistance", "resistance_ohm_per_km", "mΩ/m"],
  ["conductor temperature", "conductor_temperature_C", "°C"], ["resistance, out and back", "loop_resistance_ohm", "Ω"],
  ["voltage at the load", "voltage_at_load_V", "V"], ["power lost", "power_lost_W", "W"],
  ["ampacity as installed", "ampacity_A", "A"]];

/** What was stated, for paper: the fields themselves are not printed. */
function Stated() {
  const { question: q, numbers } = use_app();
  const with_unit = (value, unit) => value && numbers.words(numbers.with_unit(value, unit));
  const named = (options, value) => options.find(([key]) => key === value)?.[1];
  const rows = [q.power !== "" ? ["Power", with_unit(q.power, "W")] : ["Current", with_unit(q.current, "A")],
    ["Length, one way", with_unit(q.length, numbers.length_unit)], ["System voltage", with_unit(q.voltage, "V")],
    ["Device at the source", q.fuse_type && q.fuse && `${named(fuse_types, q.fuse_type)}, ${with_unit(q.fuse, "A")}`],
    ["Insulation rated for", named(insulations, q.insulation)], ["How it is laid", named(lies, q.laid)],
    ["Air around it", with_unit(q.ambient, numbers.temperature_unit)], ["Loaded circuits together", q.together],
    ["Lugs and joints", q.joints], ["Size in hand", q.conductor], ["Date", numbers.today()]].filter(([, value]) => value);
  return html`<dl class="conditions paper">${rows.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>`;
}

function OwnAnswer({ found, busy }) {
  const { numbers } = use_app();
  const worst = found.at_worst;
  const open = found.findings.filter((one) => one.verdict !== "pass").sort(by_weight);
  const passed = found.findings.filter((one) => one.verdict === "pass");
  return html`<div class=${busy ? "answer old" : "answer"}>
    <p class="headline">This run: <${Verdict} of=${found.verdict} /> <span class="service">safety <${Verdict} of=${found.verdict_safety} />, service <${Verdict} of=${found.verdict_service} /></span></p>
    <${Three} found=${found} />
    <${Stated} />
    ${found.unsaid?.length > 0 && html`<p>Say what you know, then the worst no longer counts: ${found.unsaid.map(spoken).join(", ")}.</p>`}
    ${!found.fuse && html`<p>No device was given, so none was judged.</p>`}
    <h2>To look at</h2>
    ${open.length ? html`<ul class="findings">${open.map((one) => html`<${Finding} key=${one.rule + one.subject + one.case} finding=${one} />`)}</ul>` : html`<p>Nothing.</p>`}
    <${Fold} title=${`Rules that pass (${passed.length})`}><ul class="findings">${passed.map((one) => html`<${Finding} key=${one.rule + one.subject + one.case} finding=${one} />`)}</ul></${Fold}>
    <${Table} title="More figures" heads=${["", "as assumed", "at worst"]} numbers=${[1, 2]} rows=${[
      ...more.map(([name, key, unit]) => [name, numbers.of(found[key], unit), numbers.of(worst[key], unit)]),
      ["ampacity from", `${found.ampacity_table}, row ${found.ampacity_row}`, `${worst.ampacity_table}, row ${worst.ampacity_row}`],
      ["smallest for the drop", size(found.smallest_for_drop, numbers), size(worst.smallest_for_drop, numbers)],
      ["smallest for the current", size(found.smallest_for_ampacity, numbers), size(worst.smallest_for_ampacity, numbers)],
      ...Object.keys(found.factors).map((key) => [`factor: ${factor_words[key] ?? key}`, numbers.plain(found.factors[key]), numbers.plain(worst.factors[key])])]} />
    <h2>Assumed</h2>
    <dl class="conditions">${found.assumed.filter((one) => assumed_words[one.path]).map((one) => html`<div><dt>${assumed_words[one.path]}</dt><dd>${numbers.words(one.value)}</dd></div>`)}</dl>
    <${Fold} title="Sources"><ul>${found.sources.map((one) => html`<li><${Source} of=${one} /></li>`)}</ul></${Fold}>
  </div>`;
}
/** As the fields call them; what is no question of the run is left out. */
const assumed_words = { voltage: "System voltage", drop: "Drop allowed", ampacity_table: "Table of ampacities", insulation: "Insulation rated for", ambient: "Air around it",
  circuits_together: "Loaded circuits together", laid: "How it is laid", sizes: "Sizes", joints: "Lugs and joints", terminals: "Terminals rated for", conductor: "Size in hand" };
const factor_words = { ambient: "air around it", terminal: "terminals", grouping: "circuits together", laid: "how it is laid" };
const spoken = (option) => ({ "--insulation": "insulation", "--laid": "how it is laid", "--circuits-together": "loaded circuits together",
  "--ambient": "the air around it", "--joints": "lugs and joints" }[option] ?? option.replace(/^--/, "").replace(/-/g, " "));

/** A run of the design: what `check` found of it. */
export function RunFigures({ checked, name, design }) {
  const { numbers } = use_app();
  const rows = checked.wiring.cases.map((one) => [one.name, one.runs.find((run) => run.name === name)])
    .filter(([, run]) => run && run.current_A !== null);
  const most = rows.reduce((a, b) => (!a || Math.abs(b[1].current_A) > Math.abs(a[1].current_A) ? b : a), null);
  const devices = checked.wiring.devices.filter((one) => one.run === name);
  const mine = checked.findings.filter((one) => one.subject === `run/${name}` || one.subject.startsWith(`run/${name}/`)).sort(by_weight);
  const open = mine.filter((one) => one.verdict !== "pass");
  if (!most) return html`<p>No current flows there in any case.</p>`;
  const [in_case, run] = most;
  return html`
    <table class="three"><caption>${name}: ${size(run.conductor, numbers)}, ${numbers.of(run.length_m, "m")} one way</caption>
      <thead><tr><td></td><th scope="col">found</th><th scope="col">limit</th></tr></thead><tbody>
      <tr><th scope="row">current</th><td>${numbers.of(Math.abs(run.current_A), "A")} (${in_case})</td><td>ampacity ${numbers.of(run.ampacity_A, "A")}</td></tr>
      <tr><th scope="row">device</th><td>${devices.map((one) => `${one.type} ${numbers.of(one.rating_A, "A")}`).join(", ") || "none of its own"}</td><td>${devices.length ? `breaks ${devices.map((one) => numbers.of(one.breaking_capacity_A, "A")).join(", ")}` : ""}</td></tr>
      <tr><th scope="row">drop</th><td>${numbers.of(Math.abs(run.drop_V), "V")} (${numbers.share(Math.abs(run.drop_share))})</td><td>judged at the appliance</td></tr></tbody></table>
    <h2 class="sub">Findings of this run</h2>
    ${open.length ? html`<ul class="findings">${open.map((one) => html`<${Finding} key=${one.rule + one.subject + one.case} finding=${one} design=${design} />`)}</ul>` : html`<p>Nothing to look at: every rule that was asked of it passes.</p>`}
    <${Fold} title=${`Rules that pass (${mine.length - open.length})`} render=${() => html`<ul class="findings">${mine.filter((one) => one.verdict === "pass").map((one) => html`<${Finding} key=${one.rule + one.subject + one.case} finding=${one} design=${design} />`)}</ul>`} />
    <${Table} title="In each case" heads=${["case", "current", "drop", "copper at", "ampacity"]} numbers=${[1, 2, 3, 4]}
      rows=${rows.map(([in_case, one]) => [in_case, numbers.of(one.current_A, "A"), numbers.of(one.drop_V, "V"), numbers.of(one.conductor_temperature_C, "°C"), numbers.of(one.ampacity_A, "A")])} />
    ${devices.length > 0 && html`<${Table} title="Its devices in a fault" heads=${["device", "largest fault", "smallest fault", "opens within", "lets through", "conductor withstands"]} numbers=${[1, 2, 3, 4, 5]}
      rows=${devices.map((one) => [`${one.type} ${numbers.of(one.rating_A, "A")}`, numbers.of(one.prospective_max_A, "A"), numbers.of(one.prospective_min_A, "A"), numbers.of(one.clearing_s, "s"), numbers.of(one.let_through_A2s, "A²s"), numbers.of(one.withstand_A2s, "A²s")])} />`}`;
}

function DesignRun() {
  const app = use_app();
  const design = design_of(app);
  const checked = use_check(design);
  const found = is_json(checked.answer) ? checked.answer.json : null;
  const names = found ? runs_of(found) : [];
  const name = names.includes(app.question.run) ? app.question.run : names[0];
  return html`<${SafetyStrip} checked=${checked} />
    <${Problems} answer=${checked.answer} broken=${checked.broken} />
    ${found && name && html`<${RunFigures} checked=${found} name=${name} design=${design} />`}
    <${Busy} busy=${checked.busy} />`;
}

function OwnRun({ asked }) {
  const { answer, busy, broken, kept } = asked;
  const found = is_json(answer) ? answer.json : null;
  const { numbers } = use_app();
  const said = found && !busy ? `${size(found.smallest, numbers)}, device at most ${numbers.of(found.largest_fuse_A, "A")}, drop ${numbers.share(found.voltage_drop_share)}; at worst ${size(found.at_worst.smallest, numbers)}.` : "";
  return html`<p class="hidden" role="status" aria-live="polite">${said}</p>
    <${Problems} answer=${answer} broken=${broken} />
    <${Kept} at=${kept} numbers=${numbers} />
    ${found && html`<${OwnAnswer} found=${found} busy=${busy && !kept} />`}
    <${Busy} busy=${busy} />`;
}

export function Cable() {
  const { question, numbers } = use_app();
  const own = question.of === "own";
  const ready = own && question.length !== "" && (question.current !== "" || question.power !== "");
  const asked = use_answer(ready ? { arguments: ["cable", ...options_of(question, numbers)], files: {} } : null,
    { slot: "cable", soon: true, keep: "cable" });
  return html`<div class="columns"><${Asked} assumed=${asked.answer?.json?.assumed} />
    <div class="answers" tabindex="-1">${own && ready && html`<${Gist} says=${is_json(asked.answer) ? `${size(asked.answer.json.smallest, numbers)}; at worst ${size(asked.answer.json.at_worst.smallest, numbers)}` : ""} safety=${is_json(asked.answer) ? asked.answer.json.verdict_safety : ""} />`}${!own ? html`<${DesignRun} />` : ready ? html`<${OwnRun} asked=${asked} />`
      : html`<p>Type a current, or a power, and a length.</p>`}</div></div>`;
}
