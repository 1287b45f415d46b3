// SPDX-License-Identifier: Apache-2.0
// "The whole design": its text beside its answers.
import { is_json, use_answer, use_app } from "./asking.js";
import { RunFigures } from "./cable.js";
import { ModelFields, design_of } from "./model.js";
import { Busy, Choice, Field, Finding, Fold, Problems, Saved, Told, by_weight, told_of } from "./pieces.js";
import { SafetyStrip, use_check } from "./safety.js";
import { drawing } from "./safe.js";
import { TestSheet } from "./sheet.js";
import { Many, in_turns, turn } from "./turns.js";
import { html, useEffect, useLayoutEffect, useMemo, useRef, useState } from "./view.js";
import * as turns from "./turns.js";
import * as view from "./view.js";

const parts = [["findings", "Findings"], ["diagram", "Diagram"], ["schedules", "Cables and devices"],
  ["sheet", "Test sheet"], ["energy", "Energy"], ["report", "All of it"]];
const wide_parts = ["diagram", "schedules", "report"];

function Findings({ found, design, go }) {
  const { numbers } = use_app();
  const [rule, set_rule] = useState("");
  const sorted = [...found.findings].sort(by_weight);
  const open = sorted.filter((one) => one.verdict !== "pass");
  const passed = sorted.filter((one) => one.verdict === "pass");
  const few = passed.filter((one) => `${one.rule} ${one.subject} ${one.label}`.toLowerCase().includes(rule.toLowerCase()));
  const key = (one) => `${one.rule} ${one.subject} ${one.case}`;
  const item = (one) => html`<${Finding} key=${key(one)} finding=${one} design=${design} go=${go} />`;
  const { pass, caution, fail } = found.counts;
  return html`
    <p>${fail} fail, ${caution} caution, ${found.counts["not-checked"]} not checked, ${pass} pass.</p>
    ${open.length ? html`<ul class="findings"><${Many} of=${open} each=${item} /></ul>` : html`<p>Every rule that was asked passes.</p>`}
    <${Fold} title=${`What passes (${passed.length})`} render=${() => html`
      <${Field} label="Show those about" value=${rule} change=${set_rule} empty="drop, a run, a label" />
      <ul class="findings"><${Many} of=${few.slice(0, 60)} each=${item} /></ul>
      ${few.length > 60 && html`<p>and ${few.length - 60} more: say above what about.</p>`}`} />
    ${found.silences.length > 0 && html`<${Fold} title="What this profile does not ask"><ul>${found.silences.map((one) => html`<li>${one.rule}: ${one.what}</li>`)}</ul></${Fold}>`}
    ${found.assumed?.length > 0 && html`<${Fold} title=${`Assumed (${found.assumed.length})`}><ul>${found.assumed.map((one) => html`<li>${one.path}: <b>${numbers.words(one.value)}</b> ${numbers.words(one.why)}</li>`)}</ul></${Fold}>`}`;
}

/** A thing of the drawing, which names it as findings do: "run/bank to main bar", "bank". */
const thing_of = (subject) => {
  const [kind, ...name] = subject.split("/");
  return { subject, kind, name: name.join("/") || kind };
};

function Drawing({ text, chosen, choose }) {
  const { numbers } = use_app();
  const place = useRef(null), latest = useRef(null);
  latest.current = chosen;
  const press = () => {
    for (const words of place.current.querySelectorAll(".thing"))
      words.setAttribute("aria-pressed", String(words.dataset.subject === latest.current?.subject));
  };
  useLayoutEffect(() => in_turns((function* () {
    const drawn = yield* drawing(text, "drawn-", (one) => numbers.words(one));
    if (!drawn) return;
    drawn.removeAttribute("width");
    drawn.removeAttribute("height");
    drawn.setAttribute("role", "group");
    for (const words of drawn.querySelectorAll("text[data-subject]")) {
      const thing = thing_of(words.dataset.subject);
      words.setAttribute("role", "button");
      words.setAttribute("tabindex", "0");
      words.setAttribute("class", "thing");
      const label = words.lastChild.textContent;  // before it, the whole of what is cut
      words.setAttribute("aria-label", thing.kind === "run" ? `${label}, ${thing.name}` : thing.name);
      words.addEventListener("click", () => choose(thing));
      words.addEventListener("keydown", (event) => {
        if (event.key === "Enter" || event.key === " ") event.preventDefault(), choose(thing);
      });
    }
    place.current.replaceChildren(drawn);
    press();
  })()), [text, numbers]);
  useEffect(press, [chosen]);
  return html`<div class="drawing" ref=${place} role="group" tabindex="0" aria-label="Single-line diagram; it moves within itself"></div>`;
}

function Thing({ thing, found, design }) {
  const { numbers } = use_app();
  if (thing.kind === "run") return html`<${RunFigures} checked=${found} name=${thing.name} design=${design} />`;
  const list = { node: "nodes", bank: "nodes", appliance: "appliances" }[thing.kind];
  const rows = found.wiring.cases.map((one) => [one.name, one[list]?.find((it) => it.name === thing.name)])
    .filter(([, it]) => it);
  const mine = found.findings.filter((one) => one.subject === thing.subject || one.subject.startsWith(`${thing.subject}/`)).sort(by_weight);
  return html`<h2 class="sub">${thing.name}</h2>
    ${rows.length > 0 && html`<div class="table"><table><thead><tr><th scope="col">case</th><th scope="col" class="n">voltage</th>${thing.kind === "appliance" && html`<th scope="col" class="n">lost on the way</th>`}</tr></thead>
      <tbody>${rows.map(([name, it]) => html`<tr><th scope="row">${name}</th><td class="n">${numbers.of(it.voltage_V, "V")}</td>
        ${thing.kind === "appliance" && html`<td class="n">${numbers.of(it.path_drop_V, "V")} (${numbers.share(it.path_drop_share)})</td>`}</tr>`)}</tbody></table></div>`}
    ${rows.length + mine.length === 0 && html`<p>Nothing is judged there by itself.</p>`}
    <ul class="findings">${mine.map((one) => html`<${Finding} key=${one.rule + one.case} finding=${one} design=${design} />`)}</ul>`;
}

function Diagram({ found, design }) {
  const { question, set } = use_app();
  const [thing, choose] = useState(null);
  const cases = found.wiring.cases.map((one) => one.name);
  const { answer, busy, broken } = use_answer(design.request(["diagram"],
    question.case ? ["--case", question.case] : []), { slot: "diagram" });
  const figures = useRef(null);
  useEffect(() => { if (thing) figures.current?.scrollIntoView({ block: "nearest" }); }, [thing]);
  return html`
    <${Choice} label="Voltages and currents of" value=${question.case} change=${(one) => set({ case: one })}
      options=${[["", "the case where a consumer loses most"], ...cases.map((one) => [one, one])]} />
    <p class="hint screen">Choose a label such as W01, or a name, to see its figures.</p>
    <${Busy} busy=${busy} /><${Problems} answer=${answer} broken=${broken} />
    ${answer?.out && html`<${Drawing} text=${answer.out} chosen=${thing} choose=${choose} />
      <p class="deeds"><${Saved} name="diagram.svg" text=${answer.out} kind="image/svg+xml">Save the drawing</${Saved}></p>`}
    <div ref=${figures} role="region" aria-live="polite" aria-label="Figures of what is chosen">${thing && html`<${Thing} thing=${thing} found=${found} design=${design} />`}</div>`;
}

/** A part that the engine tells as a page of its own. */
function TellIt({ design, command, options = [], slot, name, save = "" }) {
  const { answer, busy, broken } = use_answer(design.request(command, options), { slot });
  return html`<${Busy} busy=${busy} /><${Problems} answer=${answer?.exit > 1 ? answer : null} broken=${broken} />
    ${answer?.out && html`<${Told} text=${answer.out} name=${name} />
      ${save && html`<p class="deeds"><${Saved} name=${save} text=${answer.out} kind="text/html">Save this page</${Saved}></p>`}`}`;
}

const sheets = [["cables", "cables"], ["devices", "devices"], ["labels", "labels"], ["findings", "findings"], ["sources", "sources"]];
function Schedules({ design }) {
  const [sheet, set_sheet] = useState("cables");
  const csv = use_answer(design.request(["schedule"], ["--sheet", sheet, "--format", "csv"]), { slot: "schedule csv" });
  return html`<${Choice} label="Schedule of" value=${sheet} change=${set_sheet} options=${sheets} />
    <${TellIt} design=${design} command=${["schedule"]} options=${["--sheet", sheet, "--format", "html"]} slot="schedule" name=${`Schedule of ${sheet}`} />
    ${csv.answer?.out && html`<p class="deeds"><${Saved} name=${`${sheet}.csv`} text=${csv.answer.out} kind="text/csv">Save it as CSV</${Saved}></p>`}`;
}

/** The editor is large: it comes in scripts of its own, read when a text is to be seen, a script at a turn. */
let loaded = null;
async function load_editor() {
  globalThis.page_modules = { "./turns.js": turns, "./view.js": view };
  for (const { textContent } of document.querySelectorAll("script.editor")) {
    await turn();
    const script = document.createElement("script");
    script.textContent = textContent;
    document.head.append(script);
  }
  await turn();
  return page_modules["./editor.js"].Editor;
}
function LazyEditor(its) {
  const [Editor, set_editor] = useState(null);
  useEffect(() => { (loaded ??= load_editor()).then((one) => set_editor(() => one)); }, []);
  return Editor && html`<${Editor} ...${its} />`;
}

const severity = { fail: "error", caution: "warning", "not-checked": "info" };
function problems_in(name, answer) {
  const json = answer?.json;
  const list = told_of(answer).filter((one) => one.file === name)
    .map((one) => ({ line: one.line, column: one.column, severity: one.severity === "warning" ? "warning" : "error",
                     message: (one.key ? `${one.key} ` : "") + one.message + (one.hint ? ` (${one.hint})` : "") }));
  for (const one of json?.findings ?? [])
    if (one.verdict !== "pass" && one.at?.file === name && one.at.line > 0)
      list.push({ ...one.at, severity: severity[one.verdict], message: `${one.verdict}: ${one.rule}: ${one.message}` });
  return list;
}

function Texts({ answer, jump }) {
  const app = use_app();
  const { files, put_files, question, engine, set } = app;
  const chain = useMemo(() => {
    const list = [];
    for (const top of [...question.packs].reverse().concat(question.van))
      for (let name = top; name && files.has(name) && !list.includes(name); name = files.base(name)) list.push(name);
    return [...list, ...files.parts];
  }, [files, question.van, question.packs]);
  const [name, set_name] = useState(chain[0]);
  const file = chain.includes(name) ? name : chain[0];
  useEffect(() => { if (jump && chain.includes(jump.file)) set_name(jump.file); }, [jump]);
  const problems = useMemo(() => problems_in(file, answer), [file, answer]);
  const schemas = useRef(new Map());
  const schema_of = () => {
    const of = files.parts.includes(file) ? "parts" : files.base(file) ? "pack" : "design";
    if (!schemas.current.has(of))
      schemas.current.set(of, engine.ask({ arguments: ["schema", "--of", of], files: {} }).then((one) => one.json, () => null));
    return schemas.current.get(of);
  };
  const pick = useRef(null);
  const take = async (list) => {
    let next = files, last = "";
    for (const one of list) {
      if (one.size > 2e6) continue;
      next = next.with(one.name, await one.text());
      last = one.name;
    }
    put_files(next);
    if (!last) return;
    const root = next.root(last);
    if (next.vans.includes(root)) set({ van: root, packs: root === last ? [] : [last] });
    set_name(last);
  };
  const drop = (event) => { event.preventDefault(); take([...event.dataTransfer.files]); };
  return html`<div class="texts" onDragOver=${(event) => event.preventDefault()} onDrop=${drop}>
    <${Choice} label="Text of" value=${file} change=${set_name}
      options=${chain.map((one) => [one, one + (files.is_changed(one) ? " (changed)" : "")])} />
    <${LazyEditor} name=${file} text=${files.texts[file] ?? ""} problems=${problems} schema_of=${schema_of} jump=${jump}
      change=${(text) => put_files(files.with(file, text))} />
    <p class="deeds">
      <${Saved} name=${file} text=${files.texts[file] ?? ""}>Save this file</${Saved}>
      <button type="button" onClick=${() => pick.current.click()}>Open files …</button>
      <input type="file" hidden multiple accept=".toml,text/plain" ref=${pick} onChange=${(event) => take([...event.target.files])} />
      ${files.is_changed(file) && html`<button type="button" onClick=${() => put_files(files.came_with(file) !== undefined ? files.with(file, files.came_with(file)) : files.without(file))}>
        ${files.came_with(file) !== undefined ? "Back to how it came" : "Take this file away"}</button>`}</p>
    <p class="hint">Files can be dropped here, packs that extend a model too. Changes are kept in this browser, and go nowhere else.</p></div>`;
}

export function Design() {
  const app = use_app();
  const { question, set } = app;
  const design = design_of(app);
  const checked = use_check(design, { whole: true });
  const [jump, set_jump] = useState(null);
  const found = is_json(checked.answer) ? checked.answer.json : null;
  const go = (at) => set_jump({ ...at });
  const part = parts.some(([key]) => key === question.part) ? question.part : "findings";
  // Beside what is narrow enough, unless told otherwise.
  const [told, set_text] = useState(null);
  const text = told ?? (!wide_parts.includes(part) && matchMedia("(min-width: 64rem)").matches);
  const show_text = (at) => { set_text(true); go(at); };
  return html`<div class="model-row"><${ModelFields} /></div>
    <${SafetyStrip} checked=${checked} />
    <p class="deeds screen"><button type="button" class="small" aria-expanded=${String(text)} onClick=${() => set_text(!text)}>${text ? "Hide the text" : "Show the text"}</button></p>
    <div class=${text ? "beside-text" : ""}>
      ${text && html`<${Texts} answer=${checked.answer} jump=${jump} />`}
      <div class="answers">
        <nav class="parts" aria-label="Parts of the design">${parts.map(([key, says]) => html`<button type="button" aria-pressed=${String(key === part)} onClick=${() => { set({ part: key }); set_text(null); }}>${says}</button>`)}</nav>
        <${Problems} answer=${checked.answer} broken=${checked.broken} />
        <${Busy} busy=${checked.busy} />
        ${found && html`<div class=${checked.busy ? "answer old" : "answer"}>
          ${part === "findings" && html`<${Findings} found=${found} design=${design} go=${show_text} />`}
          ${part === "diagram" && html`<${Diagram} found=${found} design=${design} />`}
          ${part === "schedules" && html`<${Schedules} design=${design} />`}
          ${part === "sheet" && html`<${TestSheet} design=${design} />`}
          ${part === "energy" && html`<${TellIt} design=${design} command=${["energy"]} options=${["--format", "html"]} slot="energy" name="Energy" />`}
          ${part === "report" && html`<${TellIt} design=${design} command=${["report"]} slot="report" name="Report" save="report.html" />`}
        </div>`}
      </div>
    </div>`;
}
