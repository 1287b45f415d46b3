// SPDX-License-Identifier: Apache-2.0
// The last answer of a screen, for the next opening: shown until the engine has answered anew, and
// marked so. It is kept with the whole question (every option and the text of every file) and with the
// engine's digest, and is not shown for another one of these; nor where the store gives back anything
// but what was put in.
import { store, stored } from "./stored.js";

const engine = document.documentElement.dataset.engine;

/** A sum over a text, by which it is seen that the store spoiled it. */
function sum_of(text) {
  let a = 0x811c9dc5, b = 0x2545f491;
  for (let at = 0; at < text.length; ++at) {
    const code = text.charCodeAt(at);
    a = Math.imul(a ^ code, 0x01000193);
    b = Math.imul(b + code, 0x5bd1e995) ^ (b >>> 15);
  }
  return [a, b].map((one) => (one >>> 0).toString(16)).join("-");
}

/** {answer, at: milliseconds}, or null. */
export function kept_answer(name, question) {
  const record = stored(`answer ${name}`);
  if (typeof record?.text !== "string" || record.sum !== sum_of(record.text)) return null;
  const found = JSON.parse(record.text);
  return found.engine === engine && found.question === question ? { answer: found.answer, at: found.at } : null;
}

const waiting = new Map();
/** The newest takes the place of the one before, once nothing newer follows; what is too long for the
    store is not kept. */
export function keep_answer(name, question, answer) {
  clearTimeout(waiting.get(name));
  waiting.set(name, setTimeout(() => {
    const text = JSON.stringify({ engine, question, at: Date.now(), answer });
    if (text.length > 1e6 || !store(`answer ${name}`, { text, sum: sum_of(text) })) store(`answer ${name}`, undefined);
  }, 500));
}
