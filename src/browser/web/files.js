// SPDX-License-Identifier: Apache-2.0
// The design files: those that came with the page, and what was changed or dropped in. Which file
// lies on which is read off its `extends`; what a file means is the engine's to say.
import { store, stored } from "./stored.js";

const came = JSON.parse(document.getElementById("designs").textContent);
export const words = came.words ?? {};
export const title = came.title || "housepower";

const quoted = (text, key) =>
  new RegExp(`^${key}\\s*=\\s*(?:"((?:[^"\\\\]|\\\\.)*)"|'([^']*)')`, "m").exec(text);
const value_of = (found) => found && (found[1] ?? found[2]).replace(/\\(["\\])/g, "$1");

/** `../a.toml` beside `packs/b.toml` is `a.toml`. */
export function beside(file, name) {
  const parts = file.split("/").slice(0, -1);
  for (const part of name.split("/"))
    part === ".." && parts.length ? parts.pop() : part === "." || part === ".." || parts.push(part);
  return parts.join("/");
}

export const base_of = (file, text) => {
  const name = text.includes("extends") && value_of(quoted(text.split(/^\s*\[/m, 1)[0], "extends"));
  return name ? beside(file, name) : "";
};

export function name_of(file, text) {
  const vehicle = text.split(/^\[vehicle\]\s*$/m, 2)[1]?.split(/^\s*\[/m, 1)[0] ?? "";
  return value_of(quoted(vehicle, "name")) ?? file;
}
const is_parts = (text) => /^\[\[(battery|module|part|controller)/m.test(text) && !/^\[vehicle\]/m.test(text);

/** A file that came with the page and was taken away is null. */
const kept_files = () => Object.fromEntries(Object.entries(stored("files"))
  .filter(([, text]) => text === null || typeof text === "string"));

/** Immutable: a change gives another Files. */
export class Files {
  #read = new Map();  // what is read off a file's text: {base, title, parts}, by its name
  constructor(own = kept_files()) {
    this.own = own;
    this.texts = { ...came.designs, ...own };
    for (const [name, text] of Object.entries(own)) if (text === null) delete this.texts[name];
  }
  with(name, text) {
    const own = { ...this.own };
    if (came.designs[name] === text) delete own[name];
    else own[name] = text;
    return new Files(own);
  }
  without(name) {
    const own = { ...this.own };
    if (Object.hasOwn(came.designs, name)) own[name] = null;
    else delete own[name];
    return new Files(own);
  }
  keep() { return store("files", Object.keys(this.own).length ? this.own : undefined); }

  has(name) { return Object.hasOwn(this.texts, name); }
  is_changed(name) { return Object.hasOwn(this.own, name) && this.own[name] !== null; }
  came_with(name) { return Object.hasOwn(came.designs, name) ? came.designs[name] : undefined; }
  #of(name) {
    if (!this.#read.has(name)) {
      const text = this.texts[name] ?? "";
      this.#read.set(name, { base: base_of(name, text), title: name_of(name, text), parts: is_parts(text) });
    }
    return this.#read.get(name);
  }
  base(name) { return this.#of(name).base; }
  title(name) { return this.#of(name).title; }

  /** The model below an option pack; a file without `extends` is its own. */
  root(name) {
    const seen = new Set();
    while (this.has(name) && this.base(name) && !seen.has(name)) seen.add(name), name = this.base(name);
    return name;
  }
  get vans() {
    return Object.keys(this.texts).filter((name) => !this.base(name) && !this.#of(name).parts);
  }
  get parts() { return Object.keys(this.texts).filter((name) => this.#of(name).parts); }
  packs(van) {
    return Object.keys(this.texts).filter((name) => name !== van && this.root(name) === van);
  }

  /** The file to ask about, and all that it names, under the paths by which it names them. */
  asked(van, packs = []) {
    const chosen = packs.filter((name) => this.has(name) && this.root(name) === van);
    const files = {};
    let top = van;
    chosen.forEach((name, at) => {
      if (at === 0) return void (top = name);
      // A pack on a pack: only what it extends is another.
      const up = "../".repeat(name.split("/").length - 1);
      const stacked = `${name.replace(/\.toml$/, "")}-on-${at}.toml`;
      files[stacked] = this.texts[name].replace(/^extends\s*=.*$/m, () =>
        `extends = ${JSON.stringify(up + top)}`);
      top = stacked;
    });
    this.#gather(top, files);
    return { file: top, files };
  }
  #gather(name, files) {
    if (!Object.hasOwn(files, name) && !this.has(name)) return;
    const text = Object.hasOwn(files, name) ? files[name] : this.texts[name];
    files[name] = text;
    for (const [, named] of text.matchAll(/=\s*["']([^"'\n]+\.toml)["']/g)) {
      const there = beside(name, named);
      if (!(there in files)) this.#gather(there, files);
    }
  }
}
