// SPDX-License-Identifier: Apache-2.0
// Work that can wait is done a piece at a time, so that the page never stands still for long: between,
// the browser heeds keys and draws. Before a print all of it is done at once.
import { at_once, useLayoutEffect, useState } from "./view.js";

const enough = 6;  // ms in one go
const waiting = new Set();
let called = false;

function work_until(stop) {
  for (const piece of waiting) {
    waiting.delete(piece);
    at_once(piece);
    if (stop()) break;
  }
}

const { port1: here, port2: call } = new MessageChannel();
here.onmessage = () => {
  called = false;
  go_on();  // before the work: one piece that fails keeps no other from its turn
  const end = performance.now() + enough;
  work_until(() => performance.now() > end);
};
function go_on() {
  if (called || !waiting.size) return;
  called = true;
  call.postMessage(null);
}

/** `piece` in a later turn, after those that were given before; what comes back calls it off. */
export function later(piece) {
  waiting.add(piece);
  go_on();
  return () => waiting.delete(piece);
}
export const turn = () => new Promise((go) => later(go));

/** Each step of `work` (a generator's) in a later turn; what comes back calls off what is left. */
export function in_turns(work) {
  let call_off;
  const step = () => { if (!work.next().done) call_off = later(step); };
  call_off = later(step);
  return () => call_off();
}

/** How many of `count` may be made by now: `more` at each turn. */
export function use_some(count, { first = 0, more = 8 } = {}) {
  const [some, set_some] = useState(first);
  const all = some >= count;
  useLayoutEffect(() => (all ? undefined : later(() => set_some(some + more))), [some, all]);
  return some;
}
/** Not in sight at first, or less wanted: made in a turn of its own. */
export const Later = ({ children }) => use_some(1) > 0 && children;
/** Of a long list, some at a turn. */
export const Many = ({ of, each }) => of.slice(0, use_some(of.length)).map(each);

addEventListener("beforeprint", () => work_until(() => false));
