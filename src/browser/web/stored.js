// SPDX-License-Identifier: Apache-2.0
// What the browser keeps for this page, where it allows that; nothing breaks where it does not.
const prefix = "housepower.";

export function stored(name, otherwise) {
  try {
    const text = localStorage.getItem(prefix + name);
    return text === null ? otherwise : JSON.parse(text);
  } catch {
    return otherwise;
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
