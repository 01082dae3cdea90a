/**
 * The page's side of the kernel: sends requests to the worker, the latest one wins. At most one
 * request runs and one waits; an answer that is no longer wanted is dropped by its generation.
 *
 * An operation that has just been seen to take a fraction of a frame is answered by the page's own
 * instance instead, within the frame of the input: a worker's answer, however quick, can only be
 * painted one frame later. As soon as it takes longer it goes back to the worker.
 *
 * A run of single ions takes seconds: it is looked at while it goes on, and gives way at once to a
 * later request.
 */

import { bench, detailsOf, familyInUse, isRefusal } from "./lab.js";
import { startWorker } from "./own-worker.js";
import { isWatched, prepared, watch } from "./watched-run.js";

/** @typedef {import("./types.js").Json} Json */
/** @typedef {import("./worker.js").Reply} Reply */
/** @typedef {import("./lab.js").Family} Family */
/** @typedef {import("./worker.js").Order} Order */
/**
 * @typedef {{ family: Family, generation: number, request: Json, narrow: boolean }} Job
 */
/**
 * @typedef {{ done: (request: Json, answer: import("./types.js").Answer) => void,
 *   progress: (request: Json, answer: import("./types.js").Answer,
 *     flown: import("./types.js").Flown) => void,
 *   refused: (request: Json, error: import("./types.js").RequestError) => void,
 *   broken: (details: string) => void }} Listener
 */

/**
 * A run that takes no longer than this, in ms, is answered within the frame of its input, or the
 * next one: from the worker an image of 12 ms is on the screen after 43 ms, from here after 30
 * (measured).
 */
const QUICK_MS = 24;

export class Kernel {
  /**
   * How long the last run of each operation took, in ms.
   * @type {Map<string, number>}
   */
  #took = new Map();
  #listener;
  /** @type {Worker | null} */
  #worker = null;
  /**
   * The families that the worker has been given.
   * @type {Set<Family>}
   */
  #started = new Set();
  #broken = false;
  /** Whether the page's own instance may answer. */
  #here = true;
  #generation = 0;
  /** @type {Job | null} */
  #running = null;
  /** @type {Job | null} */
  #waiting = null;
  /** The latest run of single ions that is to end. */
  #halted = 0;

  /** @param {Listener} listener */
  constructor(listener) {
    this.#listener = listener;
    this.#spawn();
  }

  /**
   * Asks the family in use for a run; it replaces any request that still waits.
   * @param {Json} request
   * @param {boolean} narrow whether the picture is for a narrow frame
   */
  run(request, narrow) {
    this.#generation += 1;
    const job = { family: familyInUse(), generation: this.#generation, request, narrow };
    const took = this.#took.get(String(request["operation"])) ?? Infinity;
    if (this.#here && !this.#broken && took <= QUICK_MS && !isWatched(request)) {
      // Whatever the worker still runs or was to run next is older than this.
      this.#waiting = null;
      this.#runHere(job);
      return;
    }
    this.#waiting = job;
    if (this.#running && this.#running.family !== job.family) {
      // Nobody waits any more for what the bench of before was computing.
      this.halt();
      this.#running = null;
      this.#spawn();
      return;
    }
    this.halt();
    this.#next();
  }

  /** Ends a run of single ions early: the ions that have flown are its answer. */
  halt() {
    if (!this.#running || !isWatched(this.#running.request)) return;
    const { generation } = this.#running;
    this.#halted = generation;
    /** @type {Order} */
    const order = { kind: "halt", generation };
    this.#worker?.postMessage(order);
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
    this.#started.clear();
    this.#broken = false;
    try {
      this.#worker = startWorker(new URL("./worker.js", import.meta.url));
    } catch {
      // A frame of opaque origin refuses workers: the page's own instance computes instead.
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
    this.#next();
  }

  #next() {
    if (this.#broken || this.#running || !this.#waiting) return;
    this.#running = this.#waiting;
    this.#waiting = null;
    const job = this.#running;
    if (this.#worker) this.#send(this.#worker, job);
    else {
      queueMicrotask(async () => {
        if (isWatched(job.request)) await this.#flyHere(job);
        else this.#runHere(job);
        if (this.#running !== job) return;
        this.#running = null;
        this.#next();
      });
    }
  }

  /**
   * Has the worker run a job, after it was given the job's family.
   * @param {Worker} worker
   * @param {Job} job
   */
  #send(worker, { family, generation, request, narrow }) {
    /** @param {Order} order */
    const post = (order) => worker.postMessage(order);
    const { name, module } = family;
    if (!this.#started.has(family)) post({ kind: "start", family: name, module });
    this.#started.add(family);
    post({ kind: "run", family: name, generation, request, narrow });
  }

  /**
   * Runs on the page.
   * @param {Job} job
   */
  #runHere(job) {
    const start = performance.now();
    try {
      const answer = bench(job.family, job.request, job.narrow);
      this.#took.set(String(job.request["operation"]), performance.now() - start);
      this.#listener.done(job.request, answer);
    } catch (thrown) {
      if (isRefusal(thrown)) this.#listener.refused(job.request, thrown);
      else {
        // This instance is not asked again if a worker can be; a restart repeats the request.
        this.#here = false;
        this.#waiting ??= job;
        this.#die(detailsOf(thrown), job.request);
      }
    }
  }

  /**
   * Lets single ions fly on the page.
   * @param {Job} job
   */
  async #flyHere({ family, generation, request, narrow }) {
    try {
      const answer = await watch(prepared(family.glue, request, narrow), {
        look: (looked, flown) => {
          if (generation === this.#generation) this.#listener.progress(request, looked, flown);
        },
        isStopped: () => this.#halted === generation,
      });
      if (generation === this.#generation) this.#listener.done(request, answer);
    } catch (thrown) {
      if (isRefusal(thrown)) this.#listener.refused(request, thrown);
      else this.#die(detailsOf(thrown), request);
    }
  }

  /** @param {Reply} reply */
  #receive(reply) {
    if (reply.kind === "broken") {
      this.#die(reply.details);
      return;
    }
    const job = this.#running;
    const isLatest = reply.generation === this.#generation;
    if (reply.kind === "progress") {
      if (job && isLatest) this.#listener.progress(job.request, reply.answer, reply.flown);
      return;
    }
    this.#running = null;
    if (job && job.generation === reply.generation) {
      if (reply.kind === "done" && !isWatched(job.request)) {
        this.#took.set(String(job.request["operation"]), reply.ms);
      }
      // While a slider moves, answers in between are shown too: each is newer than the last one,
      // unless the page has answered a later request itself meanwhile.
      if (isLatest || (this.#waiting && !isWatched(job.request))) {
        if (reply.kind === "done") this.#listener.done(job.request, reply.answer);
        else if (!this.#waiting) this.#listener.refused(job.request, reply.error);
      }
    }
    this.#next();
  }

  /**
   * @param {string} details
   * @param {Json} request
   */
  #die(details, request = (this.#running ?? this.#waiting)?.request ?? {}) {
    this.#broken = true;
    this.#listener.broken(`${details}\nrequest: ${JSON.stringify(request)}`);
  }
}
