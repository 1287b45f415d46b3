// SPDX-License-Identifier: Apache-2.0
// Runs in a worker behind the engine's glue (../ask.js, `createHousepower`): takes one question after another.
// The first worker unpacks the engine; the others are handed what it compiled.
let engine;

/** The compiled engine, from the page's data block. */
async function unpacked(base64) {
  const packed = Uint8Array.fromBase64
    ? Uint8Array.fromBase64(base64)
    : Uint8Array.from(atob(base64), (one) => one.charCodeAt(0));
  const plain = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compile(await new Response(plain).arrayBuffer());
}

async function start({ module, base64 }) {
  module ??= await unpacked(base64);
  engine = await createHousepower({
    instantiateWasm(imports, done) {
      WebAssembly.instantiate(module, imports).then((instance) => done(instance, module));
      return {};
    },
  });
  postMessage({ ready: true, module });
}

/** What the page works on: JSON is read here, so that the page need not wait for it. */
function prepared(answer, lean) {
  if (answer.out[0] !== "{") return answer;
  answer.json = JSON.parse(answer.out);
  delete answer.out;
  if (lean) for (const finding of answer.json.findings ?? []) delete finding.working;
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
