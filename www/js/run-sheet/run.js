/**
 * The page's side of a run: hands flows to the worker and tells what comes back. Questions of one
 * kind are asked one at a time; of those that wait only the latest is kept.
 */

import { UNLOADED, flowWorker, takeEarly } from "./early.js";

/** @typedef {import("./engine.js").Order} Order */
/** @typedef {import("./engine.js").Reply} Reply */
/** @typedef {import("./engine.js").Kind} Kind */
/**
 * @typedef {{ loaded: (facts: import("./types.js").Facts) => void,
 *   step: (told: import("./types.js").Told,
 *     picture: import("./types.js").SectionPicture | null) => void,
 *   done: (summary: import("./types.js").Summary) => void,
 *   refused: (step: number, error: import("./types.js").RequestError) => void,
 *   broken: (details: string) => void,
 *   pinned: (part: Partial<import("./types.js").Pin>) => void,
 *   pinnedStep: (told: { step: number, report: import("./types.js").StepReport }) => void
 *   }} Listener
 * @typedef {{ values: unknown[], take: (value: unknown) => void }} Question
 */

export class Run {
  #family;
  #listener;
  #generation = 0;
  /** The last flow that the run has loaded, as far as the page knows. */
  #loaded = 0;
  /** The last flow of which the page has painted a picture. */
  #shown = 0;
  #pins = 0;
  #ids = 0;
  /** @type {(message: Order) => void} */
  #post = () => undefined;
  /** @type {Worker | null} */
  #worker = null;
  /** What broke down before there was a flow: told when one is handed over. */
  #unfit = "";
  /** @type {Map<number, { kind: Kind, take: (value: unknown) => void }>} */
  #asked = new Map();
  /** @type {Map<Kind, Question | null>} kinds that are being answered, with what waits */
  #busy = new Map();

  /**
   * @param {import("../lab.js").Family} family
   * @param {Listener} listener
   */
  constructor(family, listener) {
    this.#family = family;
    this.#listener = listener;
    this.#start();
  }

  #start() {
    const { module } = this.#family;
    const early = takeEarly();
    try {
      const worker = early?.worker ?? flowWorker();
      worker.addEventListener("message", ({ data }) => {
        if (worker === this.#worker) this.#receive(data);
      });
      worker.addEventListener("error", (event) => {
        event.preventDefault();
        this.#fail(event.message || UNLOADED);
      });
      if (early?.given !== module) worker.postMessage({ kind: "start", module });
      this.#worker = worker;
      this.#post = (message) => worker.postMessage(message);
    } catch {
      // A frame of opaque origin has no workers: the page computes itself, step by step.
      const carryOut = this.#ownEngine();
      this.#post = (message) => void carryOut.then((act) => act(message));
    }
    this.#unfit = early?.broken ?? "";
  }

  async #ownEngine() {
    try {
      const { engine } = await import("./engine.js");
      return engine(this.#family.glue, (reply) => this.#receive(reply));
    } catch (thrown) {
      this.#fail(String(thrown));
      return () => undefined;
    }
  }

  /** @param {string} details */
  #fail(details) {
    if (this.#generation === 0) this.#unfit = details;
    else this.#listener.broken(details);
  }

  /** A new worker after a breakdown; the flow has to be handed over again. */
  restart() {
    this.#worker?.terminate();
    this.#worker = null;
    this.#asked.clear();
    this.#busy.clear();
    this.#start();
  }

  /**
   * Runs a flow; what is left of the run before that is the same is kept.
   * @param {import("./types.js").FlowDoc} doc
   * @param {import("./engine.js").Wish | null} [wish] a section that is wanted with it
   * @param {number} [has] of how many steps the page still knows what was told
   */
  flow(doc, wish = null, has = 0) {
    // What was told of a flow whose loading the page has not heard of is of no use.
    const current = this.#loaded === this.#generation;
    this.#generation += 1;
    /** @type {Order} */
    const order = {
      kind: "flow",
      generation: this.#generation,
      text: JSON.stringify(doc),
      wish,
      has: current ? has : 0,
    };
    this.#post(order);
    if (this.#unfit !== "") this.#listener.broken(this.#unfit);
  }

  /** Tells that the first picture of the flow has been painted, if that was not told before. */
  shown() {
    if (this.#shown === this.#generation) return;
    this.#shown = this.#generation;
    this.#post({ kind: "shown" });
  }

  /**
   * Runs a flow beside the one in view, whenever that one needs no step; null ends it.
   * @param {import("./types.js").FlowDoc | null} doc
   */
  pin(doc) {
    this.#pins += 1;
    const text = doc && JSON.stringify(doc);
    /** @type {Order} */
    const order = { kind: "pin", generation: this.#pins, text };
    this.#post(order);
  }

  /**
   * Asks; `take` gets the answer unless a later question of the kind came first, and null if
   * there is none.
   * @param {Kind} kind
   * @param {unknown[]} values
   * @param {(value: unknown) => void} take
   */
  ask(kind, values, take) {
    if (this.#busy.has(kind)) {
      this.#busy.set(kind, { values, take });
      return;
    }
    this.#busy.set(kind, null);
    this.#ids += 1;
    this.#asked.set(this.#ids, { kind, take });
    /** @type {Order} */
    const order = { kind: "ask", id: this.#ids, question: kind, values };
    this.#post(order);
  }

  /** @param {Reply} reply */
  #receive(reply) {
    if (reply.kind === "answer" || reply.kind === "unanswered") {
      const asked = this.#asked.get(reply.id);
      this.#asked.delete(reply.id);
      if (!asked) return;
      const waiting = this.#busy.get(asked.kind);
      this.#busy.delete(asked.kind);
      if (waiting) this.ask(asked.kind, waiting.values, waiting.take);
      asked.take(reply.kind === "answer" ? reply.value : null);
      return;
    }
    if (reply.kind === "broken") {
      this.#fail(reply.details);
      return;
    }
    if (reply.kind === "pinned" || reply.kind === "pinned-step") {
      if (reply.generation !== this.#pins) return;
      if (reply.kind === "pinned") this.#listener.pinned(reply.part);
      else this.#listener.pinnedStep(reply.told);
      return;
    }
    if (reply.generation !== this.#generation) return;
    if (reply.kind === "loaded") {
      this.#loaded = reply.generation;
      this.#listener.loaded(reply.facts);
    } else if (reply.kind === "step") this.#listener.step(reply.told, reply.picture);
    else if (reply.kind === "done") this.#listener.done(reply.summary);
    else this.#listener.refused(reply.step, reply.error);
  }
}
