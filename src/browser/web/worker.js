// SPDX-License-Identifier: Apache-2.0
// Runs in a worker behind the engine's glue (../ask.js, `createHousepower`): takes one question after another.
// The first worker unpacks the engine; the others are handed what it compiled.
let engine;

/** Two characters of 91 hold 13 bits (build.mjs writes them). */
function bytes_of(text) {
  const digit = (at) => { const code = text.charCodeAt(at); return code - 35 - (code > 60); };
  const pair = (at) => digit(at) * 91 + digit(at + 1);
  const bytes = new Uint8Array((pair(0) << 13) | pair(2));
  let bits = 0, held = 0, to = 0;
  for (let at = 4; at < text.length; at += 2) {
    held = (held << 13) | pair(at);
    for (bits += 13; bits >= 8 && to < bytes.length;) bytes[to++] = (held >>> (bits -= 8)) & 255;
    held &= (1 << bits) - 1;
  }
  return bytes;
}

/** The compiled engine, from the page's data block: compiled while it is still being unpacked. */
function unpacked(text) {
  const plain = new Blob([bytes_of(text)]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compileStreaming(new Response(plain, { headers: { "Content-Type": "application/wasm" } }));
}

async function start({ module, packed }) {
  module ??= await unpacked(packed);
  engine = await createHousepower({
    instantiateWasm(imports, done) {
      WebAssembly.instantiate(module, imports).then((instance) => done(instance, module));
      return {};
    },
  });
  postMessage({ ready: true, module });
}

const without_workings = (json) => { for (const finding of json.findings ?? []) delete finding.working; };
/** What the page needs where only the verdicts are in sight: what is copied to it holds it up. */
const verdicts_only = (json) => {
  json.findings &&= json.findings.map(({ verdict, safety }) => ({ verdict, safety }));
  json.wiring &&= { inverters: json.wiring.inverters };
  delete json.assumed;
};
const leaner = { workings: [without_workings], all: [verdicts_only] };

/** What the page works on: JSON is read here, so that the page need not wait for it. */
function prepared(answer, lean) {
  if (answer.out[0] !== "{") return answer;
  answer.json = JSON.parse(answer.out);
  delete answer.out;
  for (const less of leaner[lean] ?? []) less(answer.json);
  return answer;
}

onmessage = async ({ data }) => {
  try {
    if (data.start) return await start(data.start);
    const before = performance.now();
    const answer = prepared(engine.ask(data.request), data.lean);
    postMessage({ id: data.id, answer, took: performance.now() - before });
  } catch (error) {
    postMessage({ id: data.id, broken: String(error?.message ?? error) });
  }
};
