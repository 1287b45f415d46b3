// SPDX-License-Identifier: Apache-2.0
// The question as the fragment of a link, and back: it holds what was asked, never a design's text.
// Nothing of it is trusted: what is not of the expected kind is left out.

export const screens = ["stay", "cable", "pack", "design"];

export const blank = {
  screen: "stay", van: "", packs: [],
  // Will it last?
  place: "", at: "", month: "", people: "", use: "typical", chance: "", age: "", pitch: "",
  reserve: "", arrive: "", charge: "", without: [], with: [], add: [], drive: "", every: "", mains: "",
  // Is this cable right?
  of: "own", run: "", current: "20", power: "", length: "5 m", voltage: "12", fuse_type: "", fuse: "",
  laid: "", insulation: "", drop: "", ambient: "", together: "", joints: "", conductor: "",
  terminals: "", sizes: "", bank: "",
  // What pack does it need?
  promise: "stay", promised: "", least: "", catalogue: "", keep: [],
  // The whole design
  part: "findings", case: "",
};

/** A bare number means a unit of the reader's choice: what is kept or handed on names it. */
export function with_units(question, numbers) {
  const awg = question.sizes === "awg" || (numbers.us && question.sizes === "");
  const units = { length: numbers.length_unit, ambient: numbers.temperature_unit,
    terminals: numbers.temperature_unit, conductor: awg ? "AWG" : "mm2" };
  const named = { ...question };
  for (const [key, unit] of Object.entries(units))
    if (question[key] !== "") named[key] = numbers.with_unit(question[key], unit);
  return named;
}

export function to_fragment(question) {
  const pairs = new URLSearchParams();
  for (const [key, value] of Object.entries(question)) {
    if (key === "screen" || key === "van") continue;
    if (Array.isArray(value)) value.forEach((one) => pairs.append(key, one));
    else if (value !== blank[key]) pairs.append(key, value);
  }
  if (question.van) pairs.append("van", question.van);
  const text = pairs.toString();
  return `#${question.screen}${text ? "?" + text : ""}`;
}

export function from_fragment(fragment) {
  const [screen, text = ""] = fragment.replace(/^#/, "").split(/\?(.*)/s);
  const pairs = new URLSearchParams(text.slice(0, 8000));
  const question = { ...blank };
  if (screens.includes(screen)) question.screen = screen;
  for (const [key, value] of Object.entries(blank)) {
    if (key === "screen" || !pairs.has(key)) continue;
    question[key] = Array.isArray(value) ? pairs.getAll(key).slice(0, 40).map(short)
                                         : short(pairs.get(key));
  }
  return question;
}
/** A question that was kept: what is of another kind than asked for is left out. */
export function of_kind(asked) {
  const question = { ...blank };
  for (const [key, value] of Object.entries(blank)) {
    const given = asked[key];
    if (Array.isArray(value)) question[key] = Array.isArray(given) ? given.filter((one) => typeof one === "string") : [];
    else if (typeof given === "string") question[key] = given;
  }
  return screens.includes(question.screen) ? question : { ...question, screen: blank.screen };
}
const short = (text) => text.slice(0, 300);
export const is_question = (fragment) => screens.includes(fragment.replace(/^#/, "").split("?")[0]);
