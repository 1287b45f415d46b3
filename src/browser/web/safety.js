// SPDX-License-Identifier: Apache-2.0
// The verdicts of the chosen van, in sight on every screen that is about one.
import { is_json, use_answer, use_app } from "./asking.js";
import { Verdict } from "./pieces.js";
import { html } from "./view.js";

export const note = "This result is a calculation, not an approval. Have the final design and the work done by a licensed electrician.";

/** What `check` finds: soon, without workings and without tried cures; `whole`: then with those;
    `verdicts`: nothing but those. */
export function use_check(design, { slot = "check", whole = false, verdicts = false } = {}) {
  const quick = use_answer(design.request(["check"], ["--format", "json", "--quick"]), { slot, lean: verdicts ? "all" : "workings", keep: verdicts ? "check" : "" });
  const all = use_answer(whole ? design.request(["check"], ["--format", "json"]) : null,
    { slot: `${slot} whole`, lean: "workings", wait: 300 });
  return is_json(all.answer) && !all.busy ? all : quick;
}

export function SafetyStrip({ checked }) {
  const { set, files, question, numbers } = use_app();
  const { answer, busy, broken, kept } = checked;
  const found = is_json(answer) ? answer.json : null;
  const open = found ? found.findings.filter((one) => one.safety && one.verdict !== "pass").length : 0;
  const released = found?.verdict_safety === "pass";
  return html`<section class=${`safety ${found ? `is-${found.verdict_safety}` : ""}`} aria-label="Safety verdict" aria-busy=${busy}>
    ${found ? html`<p><b>Safety: <${Verdict} of=${found.verdict_safety} /></b>
        ${released ? "" : html` <strong>not released</strong>`}
        <span class="van"> ${found.design.name}</span>
        ${open > 0 && html`<span>: ${open} of safety to look at</span>`}
        <span class="service">Service: <${Verdict} of=${found.verdict_service} /></span>
        ${kept && html`<span>as found on ${numbers.moment(kept)}; being checked anew</span>`}
        ${question.screen !== "design" && html`<button type="button" class="small"
          onClick=${() => set({ screen: "design", part: "findings" })}>see the findings</button>`}</p>`
      : answer?.json || broken ? html`<p><b>Safety: not checked</b> <strong>not released</strong>
        <span class="van"> ${files.title(question.van)}</span>: ${broken ? "the engine stopped" : "the design has errors"}</p>`
      : html`<p><b>Safety: being checked</b> <span class="van"> ${files.title(question.van)}</span></p>`}
  </section>`;
}
