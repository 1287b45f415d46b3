// SPDX-License-Identifier: Apache-2.0
// Which van is asked about: model and option packs, as a request to the engine.
import { use_app } from "./asking.js";
import { Choice, Ticks } from "./pieces.js";
import { html } from "./view.js";

/** What makes requests about the chosen design, with its changed keys. */
export function design_of({ files, question, numbers }, set = []) {
  const chosen = files.asked(question.van, question.packs);
  const changes = set.flatMap(([path, value]) => ["--set", `${path}=${value}`]);
  return { ...chosen, changes,
    // A file that is made keeps the design's units; what is read, the reader's.
    request: (command, options = [], more = {}) => ({
      arguments: [...command, chosen.file, ...options, ...changes, ...(options.includes("-o") ? [] : numbers.options)], files: { ...chosen.files, ...more } }) };
}

/** A pack's own words, without its model's name before them. */
const told_of = (files, name, van) => {
  const all = files.title(name), model = files.title(van);
  const rest = all.startsWith(model) ? all.slice(model.length).replace(/^[\s,:]+/, "") : all;
  return rest || name;
};

export function ModelFields({ packs = true }) {
  const { files, question, set } = use_app();
  const vans = files.vans;
  const offered = files.packs(question.van);
  return html`
    <${Choice} label="Model" value=${question.van} options=${vans.map((name) => [name, files.title(name)])}
      change=${(van) => set({ van, packs: [], run: "", without: [], with: [], case: "" })} />
    ${packs && offered.length > 0 && html`<${Ticks} label="Options" chosen=${question.packs}
      change=${(list) => set({ packs: list, run: "" })}
      options=${offered.map((name) => [name, told_of(files, name, question.van)])} />`}`;
}
