// SPDX-License-Identifier: Apache-2.0
// Stands behind each part of the engine.
first_worker.thread.postMessage({ part: document.currentScript.previousElementSibling.textContent });
