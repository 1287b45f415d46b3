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
  #packed;
  #module;  // compiled, once the first worker has it
  #workers = [];
  #waiting = [];
  #next = 1;

  constructor() {
    const text = (id) => document.getElementById(id)?.textContent ?? "";
    this.#packed = text("engine");
    this.#source = URL.createObjectURL(new Blob([text("worker")], { type: "text/javascript" }));
    this.#start();
  }

  /** The answer, or null where a newer question of the slot came first. `lean`: without workings. */
  ask(request, { slot = "", lean = false, soon = false } = {}) {
    this.#putAway(slot);
    return new Promise((resolve, reject) => {
      const job = { id: this.#next++, request, lean, slot, soon, resolve, reject };
      soon ? this.#waiting.unshift(job) : this.#waiting.push(job);
      this.#go();
    });
  }

  cancel(slot) { this.#putAway(slot); }

  #start() {
    const worker = { thread: new Worker(this.#source), ready: false, job: null };
    worker.thread.onmessage = ({ data }) => this.#heard(worker, data);
    worker.thread.onerror = (event) => this.#broken(worker, event.message);
    worker.thread.postMessage({ start: this.#module ? { module: this.#module }
                                                    : { packed: this.#packed } });
    this.#workers.push(worker);
  }

  #heard(worker, data) {
    if (data.ready) {
      worker.ready = true;
      if (!this.#module) {
        this.#module = data.module;
        this.#packed = "";
        // The spares can wait until the first answer is there.
        setTimeout(() => { while (this.#workers.length < pool) this.#start(); }, 300);
      }
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
  }

  #broken(worker, message) {
    worker.job?.reject(new Error(message));
    if (worker.ready) this.#end(worker);
    else {  // it never started: nobody will answer
      for (const job of this.#waiting.splice(0)) job.reject(new Error(message));
    }
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
