// SPDX-License-Identifier: Apache-2.0
// Asks the engine, which runs in workers: what one would type at the terminal, and its answer. A newer
// question of the same slot puts an older one away: one that waits is dropped, one that runs long is
// ended with its worker, and a spare takes over.

const pool = 3;
// How many ms a question put away may still run before its worker is ended: a short one is done sooner
// than another worker is there.
const patience = { short: 1000, long: 80 };

class Engine {
  #source;  // of the worker
  #module;  // compiled, once the first worker has it
  #workers = [];
  #waiting = [];
  #next = 1;
  #never = "";  // why it cannot be started

  constructor() {
    const { source, thread, heard } = globalThis.first_worker;
    this.#source = source;
    const worker = { thread, ready: false, job: null };
    this.#workers.push(worker);
    heard.then((data) => { this.#listen(worker); this.#heard(worker, data); });
  }

  /** The answer, or null where a newer question of the slot came first. `lean`: what may be left out
      of it (worker.js). */
  ask(request, { slot = "", lean = "", soon = false } = {}) {
    this.#putAway(slot);
    if (this.#never) return Promise.reject(new Error(this.#never));
    return new Promise((resolve, reject) => {
      const job = { id: this.#next++, request, lean, slot, soon, resolve, reject };
      soon ? this.#waiting.unshift(job) : this.#waiting.push(job);
      this.#go();
    });
  }

  cancel(slot) { this.#putAway(slot); }

  #start() {
    const worker = { thread: new Worker(this.#source), ready: false, job: null };
    this.#listen(worker);
    worker.thread.postMessage({ start: { module: this.#module } });
    this.#workers.push(worker);
  }

  #listen(worker) {
    worker.thread.onmessage = ({ data }) => this.#heard(worker, data);
    worker.thread.onerror = (event) => this.#broken(worker, event.message);
  }

  /** One after another, each in a turn of its own. */
  #spares() {
    if (this.#module && this.#workers.length < pool) this.#start();
  }

  #heard(worker, data) {
    if (data.ready) {
      worker.ready = true;
      // The spares can wait until the first answer is there.
      setTimeout(() => this.#spares(), this.#module ? 100 : 1000);
      this.#module ??= data.module;
      return this.#go();
    }
    const job = worker.job;
    if (!job) return this.#broken(worker, data.broken);
    worker.job = null;
    if (data.broken) {
      job.reject(new Error(data.broken));
      return this.#end(worker);  // its memory may be spoiled
    }
    job.resolve(job.away ? null : data.answer);
    this.#go();
    if (this.#workers.length === 1) this.#spares();
  }

  #broken(worker, message) {
    worker.job?.reject(new Error(message));
    if (worker.ready) return this.#end(worker);
    this.#workers.splice(this.#workers.indexOf(worker), 1);
    if (this.#workers.length) return;
    this.#never = `this browser cannot run it (${message})`;
    for (const job of this.#waiting.splice(0)) job.reject(new Error(this.#never));
  }

  #end(worker) {
    worker.thread.terminate();
    this.#workers.splice(this.#workers.indexOf(worker), 1);
    this.#start();
    this.#go();
  }

  #putAway(slot) {
    if (!slot) return;
    for (const job of this.#waiting.filter((one) => one.slot === slot)) {
      this.#waiting.splice(this.#waiting.indexOf(job), 1);
      job.resolve(null);
    }
    for (const worker of this.#workers) {
      const job = worker.job;
      if (job?.slot !== slot || job.away) continue;
      job.away = true;
      setTimeout(() => {
        if (worker.job !== job) return;
        job.resolve(null);
        worker.job = null;
        this.#end(worker);
      }, job.soon ? patience.short : patience.long);
    }
  }

  #go() {
    for (const worker of this.#workers) {
      if (!worker.ready || worker.job) continue;
      const job = this.#waiting.shift();
      if (!job) return;
      worker.job = job;
      worker.thread.postMessage({ id: job.id, request: job.request, lean: job.lean });
    }
  }

}

/** Of the page: it starts before anything is drawn. */
export const engine = new Engine();
