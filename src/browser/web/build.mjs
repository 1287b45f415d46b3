// SPDX-License-Identifier: Apache-2.0
// Makes the one file: scripts bundled, engine packed, designs laid in, and the policy that allows
// these scripts and nothing else.
//   node build.mjs --glue FILE.js --wasm FILE.wasm --designs FOLDER --out FILE.html
import { createHash } from "node:crypto";
import { existsSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const { values: given } = parseArgs({ options: {
  glue: { type: "string" }, wasm: { type: "string" }, designs: { type: "string" },
  out: { type: "string" }, title: { type: "string", default: "housepower" } } });
const read = (name) => readFileSync(name, "utf8");
const own = (name) => read(join(here, name));

async function bundled(entry, options = {}) {
  const from = typeof entry === "string" ? { entryPoints: [join(here, entry)] } : entry;
  const result = await build({ ...from, bundle: true, minify: true,
    format: "iife", target: "es2022", charset: "ascii", legalComments: "none", write: false,
    metafile: true, ...options });
  const [file] = result.outputFiles;
  return { text: file.text, inputs: Object.keys(result.metafile.inputs) };
}

/** Designs, option packs and parts lists below a folder; not those that are wrong on purpose. */
function designs_in(folder) {
  const files = readdirSync(folder, { recursive: true }).map(String)
    .filter((name) => name.endsWith(".toml") && !/^(faulty|readings|library)\//.test(name)).sort();
  const texts = Object.fromEntries(files.map((name) => [name, read(join(folder, name))]));
  return { title: given.title, words: {}, designs: texts, vans: vans_of(texts) };
}
const name_of = (text) => /^\[vehicle\][^[]*?^name *= *"([^"]*)"/ms.exec(text)?.[1];
function vans_of(texts) {
  return Object.entries(texts)
    .filter(([, text]) => name_of(text) && !/^extends *=/m.test(text))
    .map(([file, text]) => ({ file, name: name_of(text) }));
}

/** Name, version and licence of each package of which anything was bundled. */
function licences(inputs) {
  const folders = new Set(inputs.map((one) => /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(one)?.[1])
    .filter(Boolean));
  return [...folders].sort().map((folder) => {
    const at = existsSync(join(folder, "package.json")) ? folder : join(here, relative(here, folder));
    const { name, version, license } = JSON.parse(read(join(at, "package.json")));
    const text = ["LICENSE", "LICENSE.md", "LICENSE.txt"].map((one) => join(at, one)).find(existsSync);
    const copyright = text ? /^.*Copyright.*$/im.exec(read(text))?.[0].trim() : "";
    return { name, version, license, copyright: (copyright ?? "").replace(/--/g, "-") };
  });
}

/** 13 bits in two characters, of 91 that HTML leaves alone: a twelfth less than base 64. worker.js reads it. */
function as_text(bytes) {
  const character = (n) => String.fromCharCode(n + 35 + (n >= 25));  // from "#" to "~", without "<"
  const out = [];
  let bits = 0, held = 0;
  const put = (value) => out.push(character(Math.floor(value / 91)), character(value % 91));
  put(bytes.length >>> 13);  // what fills the last pair is no byte
  put(bytes.length & 8191);
  for (const byte of bytes) {
    held = (held << 8) | byte;
    bits += 8;
    if (bits < 13) continue;
    bits -= 13;
    put(held >>> bits);
    held &= (1 << bits) - 1;
  }
  if (bits) put(held << (13 - bits));
  return out.join("");
}

const hash = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
const in_script = (text) => text.replace(/<\/(script)/gi, "<\\/$1").replace(/<!--/g, "<\\!--");
const in_data = (value) => JSON.stringify(value).replace(/</g, "\\u003c");

/** The editor is read later, by several scripts so that the page stands still for none of them: each
    leaves what it brings in `page_modules`, where the next find it, and what is of the page. */
const of_the_page = ["./turns.js", "./view.js"];
const of_the_editor = ["@codemirror/state", "@codemirror/view", "./editor.js"];
const all_of = (name) => ({ stdin: { contents: `export * from "${name}"`, resolveDir: here } });
async function names_in(name) {
  const { metafile } = await build({ ...all_of(name), bundle: true, format: "esm", write: false, metafile: true });
  return Object.values(metafile.outputs)[0].exports.join(", ");
}
async function editor_script(name, at) {
  const there = [...of_the_page, ...of_the_editor.slice(0, at)];
  const found = { name: "page", setup(made) {
    made.onResolve({ filter: /.*/ }, ({ path }) => there.includes(path) ? { path, namespace: "page" } : undefined);
    made.onLoad({ filter: /.*/, namespace: "page" }, async ({ path }) =>
      ({ contents: `export const { ${await names_in(path)} } = page_modules[${JSON.stringify(path)}]` }));
  } };
  const { text, inputs } = await bundled(all_of(name),
    { format: "cjs", plugins: [found],
      // Splits words in languages without spaces, and takes the browser tens of milliseconds to begin with.
      define: { "Intl.Segmenter": "undefined" } });
  // A function in brackets is read once; otherwise first for its end and then again.
  return { text: `(function(module){${text.trim()}\npage_modules[${JSON.stringify(name)}]=module.exports})({})`, inputs };
}

/** What the engine says whatever is asked: the page need not ask it for that. */
async function facts() {
  if (!given.glue) return { towns: [], tables: [] };
  const glue = createRequire(import.meta.url)(resolve(given.glue));
  const engine = await glue({ wasmBinary: wasm });
  const told = (...words) => JSON.parse(engine.ask({ arguments: ["tables", ...words, "--format", "json"], files: {} }).out);
  const plain = (value) => value?.value ?? value;
  return {
    towns: told("towns").rows.map(({ country, name, title }) => ({ country: plain(country), name: plain(name), title: plain(title) })),
    tables: told().tables.map(({ name, title }) => ({ name, title })),
  };
}

const main = await bundled("main.js");
const editor = await Promise.all(of_the_editor.map(editor_script));
const style = (await bundled("style.css", { loader: { ".css": "css" } })).text.trim();
const bundled_from = licences([main, ...editor].flatMap((one) => one.inputs));
const as_script = async (name) => in_script((await bundled(name)).text).trim();
const scripts = { first: await as_script("first.js"), handed: await as_script("handed.js"),
  script: in_script(main.text).trim() };
const editor_texts = editor.map((one) => in_script(one.text).trim());
const glue = given.glue ? read(given.glue) : "";
const worker_text = (await build({ stdin: { contents: glue + "\n" + own("worker.js"), loader: "js" },
  minify: true, charset: "ascii", write: false })).outputFiles[0].text;
const wasm = given.wasm ? readFileSync(given.wasm) : Buffer.alloc(0);
const packed = () =>
  existsSync(given.wasm + ".gz") ? readFileSync(given.wasm + ".gz") : gzipSync(wasm, { level: 9 });
const engine = wasm.length ? as_text(packed()) : "";
/** A part each is handed to the worker while the next is read; an even number of characters. */
const engine_parts = (engine.match(/[^]{1,131072}/g) ?? [""]).map((part) =>
  `<script type="text/plain">${part}</script>\n<script>${scripts.handed}</script>`);
const designs = in_data(designs_in(given.designs));

/** Of all that an answer comes from: one that a page kept is only shown by the same. */
const digest = createHash("sha256").update(wasm).update(worker_text).update(scripts.script).digest("hex").slice(0, 32);
const policy = ["default-src 'none'", `script-src ${[...Object.values(scripts), ...editor_texts].map(hash).join(" ")} 'wasm-unsafe-eval'`,
  `style-src ${hash(style)}`, "worker-src blob:", "img-src data: blob:", "base-uri 'none'",
  "form-action 'none'"].join("; ");
const parts = { digest, policy, style, designs, bundled: in_data(bundled_from), worker: in_script(worker_text), facts: in_data(await facts()), ...scripts,
  engine: engine_parts.join("\n"),
  editor: editor_texts.map((text) => `<script type="text/plain" class="editor">${text}</script>`).join("\n"),
  licences: bundled_from.map((one) =>
    `     ${one.name} ${one.version}, ${one.license}. ${one.copyright}`).join("\n") };
const html = own("index.html").replace(/\{\{(\w+)\}\}/g, (_, name) => parts[name]);
writeFileSync(given.out, html);

for (const [name, text] of Object.entries({ engine, ...scripts, editor: parts.editor, style, designs, facts: parts.facts, worker: worker_text, all: html }))
  console.log(`${String(Buffer.byteLength(text)).padStart(9)} bytes  ${name}`);
