// SPDX-License-Identifier: Apache-2.0
// Runs in a worker behind the engine's glue (../ask.js, `createHousepower`): takes one question after another.
// The first worker unpacks the engine; the others are handed what it compiled.
let engine;

/** Bytes of a text that comes in parts: two characters of 91 hold 13 bits (build.mjs writes them), the first
    four how many bytes there are. */
class Bytes {
  left = -1;  // still to come
  #bits = 0;
  #held = 0;
  of(part) {
    const digit = (at) => { const code = part.charCodeAt(at); return code - 35 - (code > 60); };
    const pair = (at) => digit(at) * 91 + digit(at + 1);
    let from = 0, to = 0, bits = this.#bits, held = this.#held;
    if (this.left < 0) this.left = (pair(0) << 13) | pair(2), from = 4;
    const bytes = new Uint8Array(Math.min(this.left, (part.length - from) * 13 / 16 + 2));
    for (; from < part.length; from += 2) {
      held = (held << 13) | pair(from);
      for (bits += 13; bits >= 8 && to < bytes.length;) bytes[to++] = (held >>> (bits -= 8)) & 255;
      held &= (1 << bits) - 1;
    }
    this.left -= to, this.#bits = bits, this.#held = held;
    return bytes.subarray(0, to);
  }
}

/** The page's data blocks, as they come: unpacked and compiled meanwhile. */
let bytes, packed;
function take(part) {
  const started = bytes ? null : unpack();
  packed.enqueue(bytes.of(part));
  if (bytes.left === 0) packed.close();
  return started;
}
function unpack() {
  bytes = new Bytes();
  const plain = new ReadableStream({ start(stream) { packed = stream; } }).pipeThrough(new DecompressionStream("gzip"));
  return start(WebAssembly.compileStreaming(new Response(plain, { headers: { "Content-Type": "application/wasm" } })));
}

async function start(compiled) {
  const module = await compiled;
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
    if (data.part) return await take(data.part);
    if (data.start) return await start(data.start.module);
    const before = performance.now();
    const answer = prepared(engine.ask(data.request), data.lean);
    postMessage({ id: data.id, answer, took: performance.now() - before });
  } catch (error) {
    postMessage({ id: data.id, broken: String(error?.message ?? error) });
  }
};
