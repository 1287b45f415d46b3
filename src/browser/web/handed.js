// SPDX-License-Identifier: Apache-2.0
first_worker.thread.postMessage({ start: { packed: document.getElementById("engine").textContent } });
