// SPDX-License-Identifier: Apache-2.0
// Pieces that several screens share: fields with their names, verdicts, findings and workings, tables.
import { use_answer, use_app } from "./asking.js";
import { set_page } from "./safe.js";
import { in_turns, use_some } from "./turns.js";
import { html, useEffect, useLayoutEffect, useRef, useState } from "./view.js";

let made = 0;
/** A name of its own for an element, the same at each drawing of it. */
export function use_id() {
  const id = useRef("");
  id.current ||= `at-${++made}`;
  return id.current;
}

/** A line to type into. `unit` stands behind it; `empty` is what is taken where nothing is typed. */
export function Field({ label, value, change, unit = "", empty = "", hint = "", type = "text",
                        mode = "", list = null, narrow = false, wrong = "" }) {
  const id = use_id();
  const says = [hint && `${id}-hint`, wrong && `${id}-wrong`].filter(Boolean).join(" ");
  return html`<div class=${"field" + (narrow ? " narrow" : "")}>
    <label for=${id}>${label}${unit && html`<span class="unit">, ${unit}</span>`}</label>
    <input id=${id} type=${type} value=${value} placeholder=${empty} inputmode=${mode || undefined}
      list=${list ? `${id}-list` : undefined} autocomplete="off" spellcheck=${false}
      aria-describedby=${says || undefined} aria-invalid=${wrong ? "true" : undefined}
      onInput=${(event) => change(event.target.value)} />
    ${list && html`<datalist id=${`${id}-list`}>${list.map((one) => html`<option value=${one} />`)}</datalist>`}
    ${hint && html`<p class="hint" id=${`${id}-hint`}>${hint}</p>`}
    ${wrong && html`<p class="wrong" id=${`${id}-wrong`}>${wrong}</p>`}
  </div>`;
}

/** `options`: [value, words], or {group, options}. */
export function Choice({ label, value, change, options, hint = "", narrow = false }) {
  const id = use_id();
  const some = use_some(options.length, { first: 12, more: options.length });
  const is_in = (entry) => some >= options.length || (entry.group ? entry.options.some(([key]) => key === value) : entry[0] === value);
  const one = ([key, says]) => html`<option value=${key} selected=${key === value}>${says}</option>`;
  return html`<div class=${"field" + (narrow ? " narrow" : "")}>
    <label for=${id}>${label}</label>
    <select id=${id} value=${value} aria-describedby=${hint ? `${id}-hint` : undefined}
      onChange=${(event) => change(event.target.value)}>
      ${options.filter(is_in).map((entry) => entry.group
        ? html`<optgroup label=${entry.group}>${entry.options.map(one)}</optgroup>` : one(entry))}
    </select>
    ${hint && html`<p class="hint" id=${`${id}-hint`}>${hint}</p>`}
  </div>`;
}

/** Few choices, all in sight. */
export function Radios({ label, value, change, options }) {
  const id = use_id();
  return html`<fieldset class="radios"><legend>${label}</legend>
    ${options.map(([key, says]) => html`<label><input type="radio" name=${id} value=${key}
      checked=${key === value} onChange=${() => change(key)} /><span>${says}</span></label>`)}
  </fieldset>`;
}

export function Ticks({ label, chosen, change, options, empty = "" }) {
  const turn = (key) => change(chosen.includes(key) ? chosen.filter((one) => one !== key)
                                                    : [...chosen, key]);
  return html`<fieldset class="ticks"><legend>${label}</legend>
    ${options.length ? options.map(([key, says]) => html`<label><input type="checkbox"
        checked=${chosen.includes(key)} onChange=${() => turn(key)} /><span>${says}</span></label>`)
      : html`<p class="hint">${empty}</p>`}
  </fieldset>`;
}

/** Slider and figure of the same value. */
export function Slider({ label, value, change, least, most, step = 1, empty, unit = "" }) {
  const id = use_id();
  const { numbers } = use_app();
  const now = value === "" ? empty : numbers.typed(value);
  return html`<div class="field slider">
    <label for=${id}>${label}</label>
    <input id=${id} type="range" min=${least} max=${most} step=${step} value=${Number(now) || least}
      aria-valuetext=${value === "" ? "as the design says" : `${value} ${unit}`}
      onInput=${(event) => change(event.target.value)} />
    <output for=${id}>${value === "" ? html`<i>as the design says</i>` : `${numbers.written(String(now))} ${unit}`}
      ${value !== "" && html` <button type="button" class="small" onClick=${() => change("")}
        aria-label=${`${label}: back to what the design says`}>back</button>`}</output>
  </div>`;
}

export const verdict_words = { pass: "pass", caution: "caution", fail: "fail", "not-checked": "not checked" };
/** The word itself, with a sign of its own shape; colour is only besides. */
const signs = { pass: "●", caution: "▲", fail: "■", "not-checked": "◇" };
export function Verdict({ of }) {
  return html`<span class=${`verdict is-${of}`}><span aria-hidden="true">${signs[of]}</span> ${verdict_words[of] ?? of}</span>`;
}

/** What the engine refuses, or warns of beside its answer: {severity, file, line, column, key, message, hint}. */
export const told_of = (answer) => answer?.json?.diagnostics ?? answer?.warned?.diagnostics ?? [];

/** Problems with what was asked, in the engine's words; beside an answer, what it warns of. */
export function Problems({ answer, broken = "" }) {
  const { numbers } = use_app();
  const answered = !broken && answer?.exit <= 1;
  const list = told_of(answer);
  const said = list.length ? "" : answer?.err?.trim();
  if (!list.length && !said && !broken) return null;
  return html`<div class=${answered ? "problems warned" : "problems"} role=${answered ? "note" : "alert"}><h2 class="sub">${answered ? "The design was taken as it is written, but look at this" : "This cannot be answered yet"}</h2>
    ${list.map((one) => html`<p><b>${one.severity}</b>: ${one.key && html`<code>${one.key}</code> `}${numbers.words(one.message)}${one.file && !one.file.startsWith("--")
      ? html` <span class="where">(${one.file}, line ${one.line})</span>` : ""}${one.hint && html`<br /><span class="hint">${numbers.words(one.hint)}</span>`}</p>`)}
    ${said && html`<pre>${said}</pre>`}
    ${broken && html`<p>The engine stopped: ${broken}. Your question is kept; change it to ask anew.</p>`}
  </div>`;
}

/** Above what was kept from an earlier time: that it was, and when. */
export function Kept({ at, numbers }) {
  return at && html`<p class="coarse" role="status"><b>Kept from ${numbers.moment(at)}</b>, when the same was asked of the same design and engine. It is being worked out anew.</p>`;
}

/** On a narrow screen, where the question fills it: the answer in a line, and the way to it. */
export function Gist({ says, safety = "" }) {
  const go = (event) => {
    event.preventDefault();
    const there = document.querySelector(".answers");
    there.scrollIntoView();
    there.focus({ preventScroll: true });
  };
  return html`<p class="gist screen"><a href="#answers" onClick=${go}>${says || "To the answer"}</a>
    ${safety && html`<span class="of-safety">Safety: <${Verdict} of=${safety} />${safety === "pass" ? "" : ", not released"}</span>`}</p>`;
}

/** What is going on, for eyes and for a screen reader, without moving anything. */
export function Busy({ busy, words = "working it out" }) {
  const [long, set_long] = useState(false);
  useEffect(() => {
    if (!busy) return void set_long(false);
    const timer = setTimeout(() => set_long(true), 400);
    return () => clearTimeout(timer);
  }, [busy]);
  return html`<p class="busy" role="status">${long ? `${words} …` : ""}</p>`;
}

export function Source({ of }) {
  if (!of?.title) return null;
  return html`<span class="source">${of.kind}: ${of.title}${of.where ? `, ${of.where}` : ""}</span>`;
}

/** A calculation, step by step. */
export function Working({ steps }) {
  const { numbers } = use_app();
  if (!steps?.length) return html`<p class="hint">Nothing is calculated here.</p>`;
  return html`<ol class="working">${steps.map((step) => html`<li>
    <b>${step.symbol}</b>, ${step.meaning}:
    <span class="sum">${step.formula && html`${step.formula} = `}${numbers.sum(step.with)}${typeof step.value === "number"
      && step.formula && step.with !== numbers.of(step.value, step.unit)
      && html` = <b>${numbers.of(step.value, step.unit)}</b>`}</span>
    <br /><${Source} of=${step.source} /></li>`)}</ol>`;
}

/** What is folded is made when it is opened first: the page is there sooner. */
export function Fold({ title, children, open = false, render = null, name = "" }) {
  const [seen, set_seen] = useState(open);
  return html`<details class=${name} open=${open} onToggle=${(event) => event.target.open && set_seen(true)}>
    <summary>${title}</summary>${(open || seen) && (render ? render() : children)}</details>`;
}

function AskedWorking({ finding, design }) {
  const { answer, busy } = use_answer({ ...design.request(["check"],
    ["--why", `${finding.rule} ${finding.subject}`, "--format", "json"]) },
    { slot: `why ${finding.rule} ${finding.subject}`, wait: 0 });
  const found = answer?.json?.findings?.find((one) => one.rule === finding.rule &&
    one.subject === finding.subject && one.case === finding.case) ?? answer?.json?.findings?.[0];
  return html`<${Busy} busy=${busy} />${found && html`<${Working} steps=${found.working} />`}`;
}

/** A cure names options of the command; here they are fields. */
const fields_of = { insulation: "what the insulation is rated for", laid: "how it is laid", "circuits-together": "the loaded circuits together",
  ambient: "the air around it", joints: "lugs and joints", terminals: "what terminals bear", fuse: "the device" };
export const in_fields = (text) => text.replace(/--([a-z][a-z-]*)/g, (_, name) => fields_of[name] ?? name.replace(/-/g, " "));

/** One finding; its working is here, or asked for when it is unfolded. */
export function Finding({ finding, design = null, go = null }) {
  const { numbers } = use_app();
  const judged = finding.measured !== null && finding.limit !== null;
  return html`<li class=${`finding is-${finding.verdict}`}>
    <p class="head"><${Verdict} of=${finding.verdict} /> <b>${finding.rule}</b>
      ${finding.label && html` <span class="label">${finding.label}</span>`}
      <span class="where"> ${[design && finding.subject, design && finding.case && `case ${finding.case}`, finding.safety && "of safety"].filter(Boolean).join(", ")}</span>
      ${go && finding.at?.line > 0 && html` <button type="button" class="small" onClick=${() => go(finding.at)}
        aria-label=${`line ${finding.at.line} of ${finding.at.file}`}>line ${finding.at.line}</button>`}</p>
    <p>${numbers.words(finding.message)}</p>
    ${finding.cure && finding.verdict !== "pass" && html`<p class="cure"><b>What to do:</b> ${in_fields(numbers.words(finding.cure))}</p>`}
    ${judged && html`<p class="judged">found ${numbers.of(finding.measured, finding.unit)}; ${finding.bound}
      ${" "}${numbers.of(finding.limit, finding.unit)}</p>`}
    <${Fold} title="Working and source" render=${() => html`
      <p><${Source} of=${finding.source} /></p>
      ${finding.working ? html`<${Working} steps=${finding.working} />`
        : design && html`<${AskedWorking} finding=${finding} design=${design} />`}`} />
  </li>`;
}

const order = ["fail", "caution", "not-checked", "pass"];
export const by_weight = (a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict) || b.safety - a.safety;

/** A page that the engine made, set into this one. */
export function Told({ text, name }) {
  const { numbers } = use_app();
  const place = useRef(null);
  const id = use_id();
  useLayoutEffect(() => in_turns(set_page(place.current, text, `${id}-`, (one) => numbers.words(one))), [text, numbers]);
  return html`<div class="told" ref=${place} role="group" aria-label=${name}></div>`;
}

export function Table({ title, heads, rows, numbers = [], name = "" }) {
  const id = use_id();
  return html`<div class="table" role="group" tabindex="0" aria-labelledby=${id}>
    <table class=${name}><caption id=${id}>${title}</caption>
      <thead><tr>${heads.map((head, at) => !head ? html`<td></td>` : html`<th scope="col" class=${numbers.includes(at) ? "n" : ""}>${head}</th>`)}</tr></thead>
      <tbody>${rows.map((row) => html`<tr>${row.map((cell, at) => at === 0
        ? html`<th scope="row">${cell}</th>` : html`<td class=${numbers.includes(at) ? "n" : ""}>${cell}</td>`)}</tr>`)}</tbody>
    </table></div>`;
}

export function Saved({ name, text, kind = "text/plain", children }) {
  const save = () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: kind }));
    link.download = name.split("/").pop();
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  };
  return html`<button type="button" onClick=${save}>${children}</button>`;
}
