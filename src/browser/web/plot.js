// SPDX-License-Identifier: Apache-2.0
// A plot with its title, what it says in words, and its numbers. Lines differ by dashes and by a name
// at their end, never by colour alone.
import { html } from "./view.js";
import { Fold, use_id } from "./pieces.js";

const wide = 560, tall = 260, left = 46, right = 110, top = 12, bottom = 38;
const dashes = ["", "7 4", "2 4", "10 3 2 3"];

function ticks(low, high, about) {
  const raw = (high - low) / about || 1;
  const size = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 2.5, 5, 10].map((n) => n * size).find((n) => n >= raw);
  const list = [];
  for (let at = Math.ceil(low / step) * step; at <= high + 1e-9; at += step) list.push(Number(at.toPrecision(6)));
  return list;
}

/** `marks`: {at: [x, y], name, chosen, pick}: things of the plot that can be chosen. */
export function Plot({ title, says = "", x, y, lines, marks = [], low = null, high = null, numbers }) {
  const id = use_id();
  const all = [...lines.flatMap((line) => line.points), ...marks.map((mark) => mark.at)];
  if (!all.length) return null;
  const span = (at, l, h) => [l ?? Math.min(...all.map((p) => p[at])), h ?? Math.max(...all.map((p) => p[at]))];
  const [x0, x1] = span(0), [y0, y1] = span(1, low, high);
  const px = (v) => left + (wide - left - right) * ((v - x0) / (x1 - x0 || 1));
  const py = (v) => tall - bottom - (tall - top - bottom) * ((v - y0) / (y1 - y0 || 1));
  const path = (points) => points.map(([a, b], at) => `${at ? "L" : "M"}${px(a).toFixed(1)} ${py(b).toFixed(1)}`).join("");
  const ends = [];
  for (const line of lines) {
    let at = py(line.points.at(-1)[1]);
    while (ends.some((one) => Math.abs(one - at) < 13)) at -= 13;
    ends.push(at);
  }
  return html`<figure class="plot"><figcaption>${title}${says && html`<span>${says}</span>`}</figcaption>
    <svg viewBox=${`0 0 ${wide} ${tall}`} role="img" aria-labelledby=${id}><title id=${id}>${title}. ${says}</title>
      ${ticks(y0, y1, 5).map((v) => html`<g><path class="grid" d=${`M${left} ${py(v)}H${wide - right}`} />
        <text x=${left - 6} y=${py(v) + 4} text-anchor="end">${numbers.plain(v, 6)}</text></g>`)}
      ${ticks(x0, x1, 7).map((v) => html`<text x=${px(v)} y=${tall - bottom + 16} text-anchor="middle">${numbers.plain(v, 6)}</text>`)}
      <text x=${(left + wide - right) / 2} y=${tall - 4} text-anchor="middle">${x}</text>
      <text x=${left} y=${top - 1} text-anchor="start" class="axis">${y}</text>
      ${lines.map((line, at) => html`<g><path class=${`line line-${at % 4}`} d=${path(line.points)} stroke-dasharray=${dashes[at % 4]} />
        <text x=${wide - right + 6} y=${ends[at] + 4} class=${`name name-${at % 4}`}>${line.name}</text></g>`)}
      ${marks.map((mark) => html`<circle class=${mark.chosen ? "mark chosen" : "mark"} cx=${px(mark.at[0])} cy=${py(mark.at[1])}
        r=${mark.chosen ? 8 : 5} onClick=${mark.pick}><title>${mark.name}</title></circle>`)}
    </svg>
    ${lines.length > 0 && html`<${Fold} title="The numbers behind it" render=${() => html`<table>
      <thead><tr><th scope="col">${x}</th>${lines.map((line) => html`<th scope="col" class="n">${line.name}</th>`)}</tr></thead>
      <tbody>${thinned(lines).map(([at, values]) => html`<tr><th scope="row" class="n">${numbers.plain(at)}</th>
        ${values.map((v) => html`<td class="n">${v === undefined ? "" : numbers.plain(v)}</td>`)}</tr>`)}</tbody></table>`} />`}
  </figure>`;
}

/** At most some twenty rows. */
function thinned(lines) {
  const longest = lines.reduce((a, b) => (b.points.length > a.points.length ? b : a)).points;
  const step = Math.max(1, Math.ceil(longest.length / 20));
  return longest.map(([at], index) => [at, lines.map((line) => line.points[index]?.[1])])
    .filter((_, index) => index % step === 0);
}
