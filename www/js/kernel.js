/**
 * The page's side of the kernel: sends requests to the worker, the latest one wins. At most one
 * request runs and one waits; an answer that is no longer wanted is dropped by its generation.
 */

import { bench, detailsOf, isRefusal } from "./lab.js";

/** @typedef {import("./types.js").Json} Json */
/** @typedef {import("./worker.js").Reply} Reply */
/**
 * @typedef {{ done: (request: Json, answer: import("./types.js").Answer) => void,
 *   refused: (request: Json, error: import("./types.js").RequestError) => void,
 *   broken: (details: string) => void }} Listener
 */

/**
 * Trusted Types allow a worker's address only if a policy made it; this one lets through the
 * page's own origin and nothing else.
 * @type {{ createScriptURL: (url: string) => string }}
 */
const SAME_ORIGIN = {
  createScriptURL: (url) => {
    if (new URL(url, location.href).origin !== location.origin) {
      throw new TypeError("scripts come from this site only");
    }
    return url;
  },
};

/** @typedef {{ createPolicy: (name: string, rules: typeof SAME_ORIGIN) => typeof SAME_ORIGIN }} Policies */

const policies = /** @type {{ trustedTypes?: Policies }} */ (/** @type {unknown} */ (globalThis))
  .trustedTypes;
const policy = policies ? policies.createPolicy("lab", SAME_ORIGIN) : SAME_ORIGIN;

export class Kernel {
  #module;
  #listener;
  /** @type {Worker | null} */
  #worker = null;
  #ready = false;
  #broken = false;
  #generation = 0;
  /** @type {{ generation: number, request: Json } | null} */
  #running = null;
  /** @type {{ generation: number, request: Json } | null} */
  #waiting = null;

  /**
   * @param {WebAssembly.Module} module
   * @param {Listener} listener
   */
  constructor(module, listener) {
    this.#module = module;
    this.#listener = listener;
    this.#spawn();
  }

  /**
   * Asks for a run; it replaces any request that still waits.
   * @param {Json} request
   */
  run(request) {
    this.#generation += 1;
    this.#waiting = { generation: this.#generation, request };
    this.#next();
  }

  /** Stops whatever runs; the request is not repeated. */
  stop() {
    this.#waiting = null;
    this.#running = null;
    this.#spawn();
  }

  /** Starts a fresh worker and repeats the latest request. */
  restart() {
    this.#waiting ??= this.#running;
    this.#running = null;
    this.#spawn();
  }

  #spawn() {
    this.#worker?.terminate();
    this.#worker = null;
    this.#ready = false;
    this.#broken = false;
    try {
      const url = policy.createScriptURL(new URL("./worker.js", import.meta.url).href);
      this.#worker = new Worker(url, { type: "module" });
    } catch {
      // A frame of opaque origin refuses workers: the page's own instance computes instead.
      this.#ready = true;
      this.#next();
      return;
    }
    const worker = this.#worker;
    worker.addEventListener("message", (/** @type {MessageEvent<Reply>} */ event) => {
      if (worker === this.#worker) this.#receive(event.data);
    });
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      if (worker === this.#worker) this.#die(event.message || "the worker could not be loaded");
    });
    worker.postMessage({ kind: "start", module: this.#module });
  }

  #next() {
    if (!this.#ready || this.#broken || this.#running || !this.#waiting) return;
    this.#running = this.#waiting;
    this.#waiting = null;
    if (this.#worker) this.#worker.postMessage({ kind: "run", ...this.#running });
    else queueMicrotask(() => this.#runHere());
  }

  #runHere() {
    const job = this.#running;
    if (!job) return;
    try {
      this.#receive({ kind: "done", generation: job.generation, answer: bench(job.request) });
    } catch (thrown) {
      if (isRefusal(thrown)) {
        this.#receive({ kind: "refused", generation: job.generation, error: thrown });
      } else {
        this.#die(detailsOf(thrown));
      }
    }
  }

  /** @param {Reply} reply */
  #receive(reply) {
    if (reply.kind === "ready") {
      this.#ready = true;
      this.#next();
      return;
    }
    if (reply.kind === "broken") {
      this.#die(reply.details);
      return;
    }
    const job = this.#running;
    this.#running = null;
    // While a slider moves, answers in between are shown too: each is newer than the last one.
    if (job && job.generation === reply.generation) {
      if (reply.kind === "done") this.#listener.done(job.request, reply.answer);
      else if (!this.#waiting) this.#listener.refused(job.request, reply.error);
    }
    this.#next();
  }

  /** @param {string} details */
  #die(details) {
    this.#broken = true;
    const request = (this.#running ?? this.#waiting)?.request ?? {};
    this.#listener.broken(`${details}\nrequest: ${JSON.stringify(request)}`);
  }
}
