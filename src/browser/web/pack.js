// SPDX-License-Identifier: Apache-2.0
// "What pack does it need?": a promise in; the packs that keep it, and those just below and above, as
// a curve; one is chosen, its parts and wiring shown, and saved as an option pack.
import { is_json, use_answer, use_app } from "./asking.js";
import { ModelFields, design_of } from "./model.js";
import { months } from "./numbers.js";
import { Busy, Choice, Field, Fold, Problems, Radios, Saved, Table, Ticks, Verdict } from "./pieces.js";
import { Plot } from "./plot.js";
import { SafetyStrip, use_check } from "./safety.js";
import { PlaceFields, place_options } from "./stay.js";
import { html, useEffect, useState } from "./view.js";

function options_of(question, numbers) {
  const options = [...place_options(question)];
  const put = (name, value) => value !== "" && options.push(name, value);
  if (question.promised !== "") put(question.promise === "stay" ? "--stay" : "--autonomy", numbers.with_unit(question.promised, "d"));
  put("--chance", numbers.with_unit(question.chance, "%"));
  put("--age", numbers.with_unit(question.age, "y"));
  put("--month", question.month);
  put("--people", numbers.typed(question.people));
  put("--least", question.least);
  put("--catalogue", question.catalogue);
  for (const name of question.keep) options.push("--keep", name);
  return options;
}

function Asked({ ask, current, kept_offered }) {
  const { files, question, set, numbers } = use_app();
  const put = (key) => (value) => set({ [key]: value });
  return html`<form class="asked" aria-label="What is asked" onSubmit=${(event) => { event.preventDefault(); ask(); }}>
    <${ModelFields} />
    <${Radios} label="Promised" value=${question.promise} change=${put("promise")} options=${[["stay", "a stay, with the weather"], ["autonomy", "time without any charging"]]} />
    <div class="row">
      <${Field} narrow label="How long" unit="days" value=${question.promised} change=${put("promised")} mode="decimal" empty="as promised" />
      ${question.promise === "stay" && html`<${Field} narrow label="Chance to hold" unit="%" value=${question.chance} change=${put("chance")} mode="decimal" empty="as promised" />`}
      <${Field} narrow label="Age of the bank" unit="years" value=${question.age} change=${put("age")} mode="decimal" empty="as promised" />
    </div>
    <${PlaceFields} />
    <${Choice} label="Month of arrival" value=${question.month} change=${put("month")}
      options=${[["", "as the design says"], ["worst", "the hardest month"], ...months.map((one) => [one.toLowerCase(), one])]} />
    <${Field} label="People" value=${question.people} change=${put("people")} mode="numeric" empty="as the design says" />
    <${Choice} label="Parts to choose from" value=${question.catalogue} change=${put("catalogue")}
      options=${[["", "as the design says, else its own parts"], ...files.parts.map((one) => [one, one])]} />
    <${Radios} label="Least" value=${question.least} change=${put("least")} options=${[["", "as the design says"], ["mass", "mass"], ["price", "price"]]} />
    ${kept_offered.length > 0 && html`<${Ticks} label="Stays as it is" chosen=${question.keep} change=${put("keep")} options=${kept_offered.map((one) => [one, one])} />`}
    <p class="deeds"><button type="submit">${current ? "Find the packs again" : "Find the packs"}</button></p>
  </form>`;
}

const named = (count, part, one, many) => `${count} ${count === 1 ? one : many}${part === "as designed" ? "" : ` ${part}`}`;
const title_of = (c) => `${named(c.batteries, c.battery, "battery", "batteries")}, ${named(c.modules, c.module, "module", "modules")}`;
const key_of = (c) => JSON.stringify([c.batteries, c.battery, c.modules, c.module, c.equipment]);

function reached(choice, { measure, asked_d }, numbers) {
  return measure === "chance" ? `${numbers.share(Math.floor(1000 * choice.chance) / 1000)} of stays last ${numbers.days(asked_d)}`
                              : `${numbers.days(choice.autonomy_d)} without charging`;
}

function Chosen({ choice, found, design, options, best }) {
  const { files, put_files, set, question, numbers } = use_app();
  const [saving, set_saving] = useState(null);
  useEffect(() => set_saving(null), [key_of(choice)]);
  const name = `packs/${files.title(question.van).toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/-+$/, "")}-sized.toml`;
  // Any pack of the curve is the least one for just what it reaches.
  const promise = best ? [] : found.measure === "chance"
    ? ["--chance", `${Math.min(99.9, Math.floor(1e4 * choice.chance) / 100)} %`] : ["--autonomy", `${Math.floor(1e4 * choice.autonomy_d) / 1e4} d`];
  const without = options.filter((one, at) => !(promise.length && (one === promise[0] || options[at - 1] === promise[0])));
  const saved = use_answer(saving && design.request(["size"], [...without, ...promise, "-o", name, "--format", "json"]), { slot: "size save" });
  const text = saved.answer?.made?.[name];
  useEffect(() => { if (text) put_files(files.with(name, text)); }, [text]);
  return html`<section class="chosen" aria-label="The chosen pack">
    <h2 class="sub">${title_of(choice)}</h2>
    <dl class="conditions"><div><dt>Reaches</dt><dd>${reached(choice, found, numbers)}</dd></div>
      ${choice.stay_d !== null && html`<div><dt>At the promised chance</dt><dd>a stay of ${numbers.days(choice.stay_d)}, ${numbers.days(choice.parked_d)} parked</dd></div>`}
      ${choice.autonomy_d !== null && html`<div><dt>Without charging</dt><dd>${numbers.days(choice.autonomy_d)}</dd></div>`}
      <div><dt>Mass</dt><dd>${numbers.of(choice.mass_kg, "kg")}, cable ${numbers.of(choice.cable_kg, "kg")} besides</dd></div>
      ${choice.price !== null && html`<div><dt>Price</dt><dd>${numbers.plain(choice.price, 6)} ${choice.currency}</dd></div>`}
      <div><dt>Every rule</dt><dd><${Verdict} of=${choice.verdict} /> ${numbers.words(choice.against ?? "")}</dd></div>
      <div><dt>Judged at</dt><dd>${choice.place}, ${choice.month}</dd></div></dl>
    ${choice.parts.length > 0 && html`<p>Parts: ${choice.parts.map((one) => `${one.equipment}: ${one.part}`).join("; ")}.</p>`}
    <p>${choice.wiring.length ? html`Wiring to change:` : "Its runs stay as the design has them."}</p>
    ${choice.wiring.length > 0 && html`<ul>${choice.wiring.map((one) => html`<li>${typeof one === "string" ? one : `${one.path ?? one.run}: ${one.from ?? ""} ${one.to ? `to ${one.to}` : ""} ${one.why ?? ""}`}</li>`)}</ul>`}
    <p class="deeds"><button type="button" disabled=${Boolean(saving)} onClick=${() => set_saving({})}>Save it as an option pack</button>
      ${text && html`<${Saved} name=${name} text=${text}>Save the file</${Saved}>
        <button type="button" onClick=${() => set({ screen: "stay", packs: [name] })}>Ask: will it last?</button>`}</p>
    <${Busy} busy=${Boolean(saving) && saved.busy} words="wiring it and writing the pack" />
    ${saving && html`<${Problems} answer=${saved.answer?.exit > 1 ? saved.answer : null} broken=${saved.broken} />`}
    ${text && html`<p role="status">Kept as ${name}; it is among the options now.</p>`}</section>`;
}

function Found({ found, design, options, old }) {
  const { numbers } = use_app();
  const by_price = found.least === "price" && found.choices.every((one) => one.price !== null);
  const all = found.choices;
  const best_key = found.best ? key_of(found.best) : "";
  const [picked, pick] = useState(best_key);
  const choice = all.find((one) => key_of(one) === picked) ?? found.best ?? all[0];
  const y = (one) => found.measure === "chance" ? 100 * one.chance : one.autonomy_d;
  const x = (one) => by_price ? one.price : numbers.us ? one.mass_kg / 0.45359237 : one.mass_kg;
  const sorted = [...all].sort((a, b) => x(a) - x(b));
  const says = found.best ? `The least that keeps the promise: ${title_of(found.best)}.` : "None keeps the promise.";
  return html`<div class=${old ? "answer old" : "answer"}>
    ${old && html`<p class="coarse"><b>The question has changed.</b> What stands here answers the one before.</p>`}
    <p class="headline" role="status">${found.best ? html`<b>${title_of(found.best)}</b> keeps the promise: ${reached(found.best, found, numbers)} at ${found.best.place} in ${found.best.month}.` : html`<b>No pack keeps this promise</b> within the limits.`}</p>
    ${all.length > 0 && html`
      <${Plot} title=${`Packs: what they reach for their ${by_price ? "price" : "mass"}`} says=${says} x=${by_price ? `price, ${all[0].currency}` : `mass, ${numbers.us ? "lb" : "kg"}`}
        y=${found.measure === "chance" ? "stays that last as promised, %" : "days without charging"} numbers=${numbers}
        lines=${[{ name: "least packs", points: sorted.map((one) => [x(one), y(one)]) }]} high=${found.measure === "chance" ? 100 : null}
        marks=${sorted.map((one) => ({ at: [x(one), y(one)], name: title_of(one), chosen: one === choice, pick: () => pick(key_of(one)) }))} />
      <${Radios} label="Packs of the curve" value=${choice ? key_of(choice) : ""} change=${pick}
        options=${sorted.map((one) => [key_of(one), `${title_of(one)}: ${reached(one, found, numbers)}, ${numbers.of(one.mass_kg, "kg")}${one.price !== null ? `, ${numbers.plain(one.price, 6)} ${one.currency}` : ""}${key_of(one) === best_key ? " (keeps it, least)" : ""}`])} />
      <${Chosen} choice=${choice} found=${found} design=${design} options=${options} best=${key_of(choice) === best_key} />`}
    ${found.marginal.length > 0 && html`<${Table} title="One more, one less" heads=${["change", "mass", "reaches", "every rule"]} numbers=${[1]}
      rows=${found.marginal.map((one) => [one.change, one.choice ? numbers.of(one.mass_kg, "kg") : "", one.choice ? reached(one.choice, found, numbers) : one.why_not ?? "",
        one.choice ? html`<${Verdict} of=${one.choice.verdict} /> ${numbers.words(one.choice.against ?? "")}` : ""])} />`}
    ${found.binding.length > 0 && html`<h2 class="sub">What binds</h2><ul>${found.binding.map((one) => html`<li>${numbers.words(one)}</li>`)}</ul>`}
    ${found.nearest && html`<p>The nearest: ${typeof found.nearest === "string" ? found.nearest : found.nearest.why ?? title_of(found.nearest.choice ?? found.nearest)}</p>`}
    <${Fold} title="What was looked at" open=${true}><p>${found.effort.choices} combinations; ${found.effort.within_limits} within the limits; ${found.effort.simulated} simulated; ${found.effort.judged} wired and judged by every rule.</p>
      <ul>${[...found.notes, ...found.warnings].map((one) => html`<li>${numbers.words(typeof one === "string" ? one : one.message)}</li>`)}</ul></${Fold}>
  </div>`;
}

export function Pack() {
  const app = use_app();
  const { question, files, numbers } = app;
  const design = design_of(app);
  const options = options_of(question, numbers);
  const catalogue = question.catalogue && files.has(question.catalogue) ? { [question.catalogue]: files.texts[question.catalogue] } : {};
  const now = JSON.stringify(design.request(["size"], [...options, "--format", "json"], catalogue));
  const [asked, set_asked] = useState(null);
  const sized = use_answer(asked && JSON.parse(asked), { slot: "size", wait: 0 });
  const checked = use_check(design, { verdicts: true });
  const found = is_json(sized.answer) ? sized.answer.json : null;
  const check = is_json(checked.answer) ? checked.answer.json : null;
  const equipment = ["bank", ...(check?.wiring?.inverters ?? []).map((one) => one.name).filter(Boolean)];
  return html`<div class="columns">
    <${Asked} ask=${() => set_asked(now)} current=${Boolean(asked)} kept_offered=${equipment} />
    <div class="answers" tabindex="-1">
      <${SafetyStrip} checked=${checked} />
      ${!asked && html`<p>Say what is promised, then let the packs be found. Several hundred combinations are tried, and the likely ones simulated and wired: it takes some seconds, and goes on while you look at other things of this screen.</p>`}
      ${asked && !sized.busy && html`<${Problems} answer=${found ? null : sized.answer} broken=${sized.broken} />`}
      <${Busy} busy=${Boolean(asked) && sized.busy} words="trying the packs" />
      ${asked && sized.busy && html`<p class="deeds"><button type="button" onClick=${() => set_asked(null)}>Stop</button></p>`}
      ${found && html`<${Found} key=${asked} found=${found} design=${design} options=${options} old=${sized.busy || asked !== now} />`}
    </div></div>`;
}
