// SPDX-License-Identifier: Apache-2.0
// What the schema says of the place where the cursor is: keys that may stand there, values that a key
// takes, and what each means. The schema is the engine's; here is only where in the text one is.

/** The table that holds a position: [["bank", "box"]], and the keys of braces that are open there. */
export function place_in(text, at) {
  const before = text.slice(0, at);
  const lines = before.split("\n");
  let path = [];
  for (let n = lines.length - 1; n >= 0; --n) {
    const head = /^\s*\[\[?\s*([^\]]+?)\s*\]/.exec(lines[n]);
    if (head && !(n === lines.length - 1 && !/\]\s*$/.test(lines[n].trimEnd()))) {
      path = head[1].split(".").map((one) => one.trim().replace(/^["']|["']$/g, ""));
      break;
    }
  }
  const since = before.slice(before.lastIndexOf("\n[") + 1);
  for (const key of open_braces(since)) path.push(key);
  return path;
}

/** Keys of the inline tables that are open at the end of `text`. */
function open_braces(text) {
  const open = [];
  let key = "", word = "", quote = "";
  for (let n = 0; n < text.length; ++n) {
    const c = text[n];
    if (quote) { if (c === quote && text[n - 1] !== "\\") quote = ""; continue; }
    if (c === '"' || c === "'") { quote = c; continue; }
    if (c === "#") { n = text.indexOf("\n", n); if (n < 0) break; continue; }
    if (c === "{") { open.push(key); key = ""; }
    else if (c === "}") key = open.pop() ?? "";
    else if (c === "=") { key = word || key; word = ""; }
    else if (/[\w-]/.test(c)) word = /[\w-]/.test(text[n - 1] ?? "") ? word + c : c;
    else if (c === "\n" && !open.length) key = "";
  }
  return open.filter(Boolean);
}

export function schema_at(schema, path) {
  let here = schema;
  for (const key of path) {
    here = here?.properties?.[key] ?? any_of(here).map((one) => one.properties?.[key]).find(Boolean);
    here = plain(here);
  }
  return plain(here);
}
const any_of = (schema) => schema?.anyOf ?? schema?.oneOf ?? [];
const plain = (schema) => {
  while (schema?.type === "array" || (schema?.items && !schema.properties)) schema = schema.items;
  return schema;
};
export function properties_of(schema) {
  return Object.assign({}, ...any_of(schema).map((one) => plain(one)?.properties ?? {}), schema?.properties ?? {});
}

export const says_of = (schema) => [schema.description,
  schema.default !== undefined ? `Left out: ${schema.default}.` : "",
  (schema.enum ?? []).length ? `One of: ${schema.enum.join(", ")}.` : "",
  (schema.examples ?? []).length ? `For example ${schema.examples.map((one) => JSON.stringify(one)).join(", ")}.` : ""]
  .filter(Boolean).join(" ");

const is_table = (schema) => Boolean(schema?.properties || (schema?.type === "array" && schema.items?.properties));
const example = (schema) => schema.examples?.length ? JSON.stringify(schema.examples[0])
  : schema.enum ? JSON.stringify(schema.enum[0]) : schema.type === "boolean" ? "true" : "";

/** CodeMirror's source of completions, over a schema that is asked for. */
export function completions(schema_of) {
  return async (context) => {
    const schema = await schema_of();
    if (!schema) return null;
    const line = context.state.doc.lineAt(context.pos);
    const left = line.text.slice(0, context.pos - line.from);
    const text = context.state.doc.toString();
    const head = /^\s*(\[\[?)([\w.-]*)$/.exec(left);
    if (head) return heads(schema, head, context);
    const value = /([\w-]+)\s*=\s*("?)([^"{}\[\],]*)$/.exec(left);
    const here = properties_of(schema_at(schema, place_in(text, line.from + (value ? value.index : left.length))));
    if (value) return values(here[value[1]], value, context);
    const word = /[\w-]*$/.exec(left)[0];
    if (!word && !context.explicit) return null;
    return { from: context.pos - word.length, options: Object.entries(here).filter(([key]) => key !== "note" && key !== "own")
      .map(([key, one]) => ({ label: key, apply: is_table(one) ? key : `${key} = ${example(one)}`,
        type: is_table(one) ? "namespace" : "property", info: says_of(one) })) };
  };
}

function heads(schema, [, brackets, typed], context) {
  const options = [];
  const walk = (one, path, depth) => {
    for (const [key, inner] of Object.entries(properties_of(plain(one)))) {
      if (!is_table(inner)) continue;
      const list = inner.type === "array", name = [...path, key].join(".");
      if (list === (brackets === "[[")) options.push({ label: name, apply: name + (list ? "]]" : "]"), type: "namespace", info: says_of(inner) });
      if (depth < 2) walk(inner, [...path, key], depth + 1);
    }
  };
  walk(schema, [], 0);
  return { from: context.pos - typed.length, options };
}

function values(schema, [, , quote, typed], context) {
  const known = [...(schema?.enum ?? []), ...(schema?.examples ?? [])];
  if (!known.length) return null;
  return { from: context.pos - typed.length - quote.length,
    options: [...new Set(known.map((one) => JSON.stringify(one)))].map((one) => ({ label: one, type: "constant", info: schema.description })) };
}

/** What stands under the pointer: {from, to, says}, or null. */
export function meaning_at(schema, text, at) {
  const start = text.lastIndexOf("\n", at - 1) + 1;
  const end = text.indexOf("\n", at) < 0 ? text.length : text.indexOf("\n", at);
  const line = text.slice(start, end);
  for (const found of line.matchAll(/[\w-]+(?=\s*=)/g)) {
    const from = start + found.index, to = from + found[0].length;
    if (at < from || at > to) continue;
    const one = properties_of(schema_at(schema, place_in(text, from)))[found[0]];
    return one ? { from, to, name: found[0], says: says_of(one) } : null;
  }
  const head = /^\s*\[\[?\s*([\w.-]+)/.exec(line);
  if (!head) return null;
  const one = schema_at(schema, head[1].split("."));
  return one ? { from: start, to: end, name: head[1], says: says_of(one) } : null;
}
