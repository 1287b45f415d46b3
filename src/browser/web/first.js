// SPDX-License-Identifier: Apache-2.0
// Runs before the rest of the page is read: its first worker begins meanwhile. handed.js gives it each
// part of the engine as soon as that is read; engine.js takes both over.
const source = URL.createObjectURL(new Blob([document.getElementById("worker").textContent], { type: "text/javascript" }));
const thread = new Worker(source);
const heard = new Promise((hear) => {
  thread.onmessage = ({ data }) => hear(data);
  thread.onerror = (event) => hear({ broken: event.message });
});
globalThis.first_worker = { source, thread, heard };
