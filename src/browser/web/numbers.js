// SPDX-License-Identifier: Apache-2.0
// Figures as the reader writes them: decimal point or comma, metric or US units. The engine's numbers
// come in the unit that their key names; here they are only turned and rounded for the eye.

export const settings_blank = { units: "metric", decimal: "point", look: "auto" };

export const months = ["January", "February", "March", "April", "May", "June", "July", "August",
  "September", "October", "November", "December"];

// Exact by definition: the international foot and pound, the degrees of Fahrenheit.
const us = {
  m: ["ft", (v) => v / 0.3048], kg: ["lb", (v) => v / 0.45359237], "°C": ["°F", (v) => v * 1.8 + 32],
};

// What a figure in the engine's words has behind it; a clause of a text ("433.2") has not.
const figure = /(\d)\.(\d+)(?=(?: to \d[\d.]*)?\s?(?:%|°|Ω|mΩ|mm[²2]?|A²s|(?:[mk]?(?:ohm|Wh|VA|Ah|A|V|W|m|s|g|K)|cm|ft|lb|AWG|h|min|d|y|days?|nights?|years?|hours?)\b))/g;

export class Numbers {
  constructor({ units, decimal }) {
    this.us = units === "us";
    this.comma = decimal === "comma";
  }
  /** Three figures, as the engine prints; more where a figure of its own counts, such as a price. */
  plain(value, digits = 3) {
    if (value === null || value === undefined || !Number.isFinite(value)) return "not known";
    const size = Math.abs(value);
    const text = size < 1e-9 ? "0"  // what a sum of currents leaves
      : size >= 10 ** digits ? Number(value.toPrecision(digits)).toFixed(0)
      : size < 1e-4 ? value.toPrecision(2)
      : String(Number(value.toPrecision(digits)));
    return this.written(text);
  }
  written(text) {
    const signed = text.replace(/^-/, "−");
    return this.comma ? signed.replace(".", ",") : signed;
  }
  /** Words of the engine, with the reader's comma in their figures. */
  words(text) {
    if (!text) return text;
    const plain = String(text).replace(/\bmm2\b/g, "mm²").replace(/(\d )mohm\b/g, "$1mΩ").replace(/(\d )awg\b/g, "$1AWG");
    return this.comma ? plain.replace(figure, "$1,$2") : plain;
  }
  /** A sum of the engine's: nothing but figures and signs. */
  sum(text) { return this.comma && text ? String(text).replace(/(\d)\.(\d)/g, "$1,$2") : text; }
  of(value, unit) {
    if (unit === "1" || !unit) return this.plain(value);
    const [shown, turn] = (this.us && us[unit]) || [unit, (v) => v];
    if (value === null || value === undefined) return "not known";
    // Millivolts and milliohms as on the meter.
    if ((unit === "V" || unit === "Ω" || unit === "ohm") && Math.abs(value) < 0.5 && Math.abs(value) > 1e-9)
      return `${this.plain(value * 1000)} ${unit === "V" ? "mV" : "mΩ"}`;
    if (["A", "W", "Wh"].includes(unit) && Math.abs(value) >= 1000) return `${this.plain(value / 1000)} k${unit}`;
    return `${this.plain(turn(value))} ${shown === "ohm" ? "Ω" : shown}`;
  }
  share(value, digits = 3) { return value === null ? "not known" : `${this.plain(100 * value, digits)} %`; }
  /** To half days, downward, as sales figures are told. */
  days(value) {
    const half = Math.floor(2 * value + 1e-9) / 2;
    return `${this.written(String(half))} ${half === 1 ? "day" : "days"}`;
  }
  /** 0.9 → "9 of 10". */
  chance(share) {
    const [of] = [10, 20, 100].filter((n) => Math.abs(share * n - Math.round(share * n)) < 1e-9);
    return of ? `${Math.round(share * of)} of ${of}` : this.share(share);
  }
  // In words of our own: what the browser has for this takes it tens of milliseconds to begin with.
  today(ms = Date.now()) {
    const date = new Date(ms);
    return `${date.getDate()} ${months[date.getMonth()]} ${date.getFullYear()}`;
  }
  /** "30 November 2026 at 20:41" */
  moment(ms) {
    const [hour, minute] = [new Date(ms).getHours(), new Date(ms).getMinutes()].map((one) => String(one).padStart(2, "0"));
    return `${this.today(ms)} at ${hour}:${minute}`;
  }
  /** What was typed, with the point that options take. */
  typed(text) { return String(text).trim().replace(/^([-+−]?\d+),(\d+)/, "$1.$2"); }
  /** With its unit, where only a number was typed. */
  with_unit(text, unit) {
    const plain = this.typed(text);
    return /^[-+−]?[\d.]+$/.test(plain) ? `${plain} ${unit}` : plain;
  }
  get length_unit() { return this.us ? "ft" : "m"; }
  get temperature_unit() { return this.us ? "°F" : "°C"; }
  get options() { return this.us ? ["--units", "us"] : []; }
}
