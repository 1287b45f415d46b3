// SPDX-License-Identifier: Apache-2.0
// What the browser keeps for this page, where it allows that; nothing breaks where it does not, nor
// where it gives back something else than was put in.
const prefix = "housepower.";

/** An object; an empty one where nothing is kept, or nothing that can be read. */
export function stored(name) {
  try {
    const value = JSON.parse(localStorage.getItem(prefix + name));
    return value && typeof value === "object" && !Array.isArray(value) ? value : {};
  } catch {
    return {};
  }
}

/** Whether it is kept. */
export function store(name, value) {
  try {
    if (value === undefined) localStorage.removeItem(prefix + name);
    else localStorage.setItem(prefix + name, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

/** All but the files, which are the reader's work. */
export function forget() {
  try {
    for (const name of Object.keys(localStorage))
      if (name.startsWith(prefix) && name !== prefix + "files") localStorage.removeItem(name);
  } catch { /* then nothing was kept */ }
}
