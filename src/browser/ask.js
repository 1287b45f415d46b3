// SPDX-License-Identifier: Apache-2.0
// Put behind the glue that em++ makes: what `await housepower(…)` gives has one function more.
//   ask({arguments: ["check", "van.toml"], files: {"van.toml": "…"}})
//     -> {exit: 0, out: "…", err: "…", made: {}}
// A text handed over lies on the heap: the stack would not hold a design.
Module.ask = (request) => {
  const bytes = new TextEncoder().encode(JSON.stringify(request));
  const at = Module._malloc(bytes.length + 1);
  HEAPU8.set(bytes, at);
  HEAPU8[at + bytes.length] = 0;
  const answer = Module._housepower_ask(at);
  Module._free(at);
  const text = UTF8ToString(answer);
  Module._housepower_free(answer);
  return JSON.parse(text);
};
