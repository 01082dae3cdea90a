/** The guided exercise of a bench: numbers, tries, feedback; marking itself is the kernel's. */

import { alertNow, announce } from "./announce.js";
import { benchOf } from "./benches.js";
import { checkAnswer, detailsOf, exercise, isRefusal } from "./lab.js";
import { readRequest } from "./request.js";
import { recall, remember } from "./storage.js";
import { exerciseOf } from "./store.js";

/** Exercises on the benches are practice: their numbers hang on this code and the student. */
const CODE = "PRACTICE";
const ANYONE = "guest";

/** @typedef {import("./types.js").Exercise} Exercise */

export class Exercises {
  #store;
  /** @type {{ key: string, exercise: Exercise } | null} */
  #drawn = null;

  /** @param {import("./store.js").Store} store */
  constructor(store) {
    this.#store = store;
  }

  get student() {
    return recall("student");
  }

  /**
   * The exercise with its numbers, or null if the kernel refuses to set it.
   * @param {import("./types.js").ExerciseState} open
   */
  drawn(open) {
    const student = this.student || ANYONE;
    const key = `${open.id} ${student} ${open.set}`;
    if (this.#drawn?.key !== key) {
      this.#drawn = { key, exercise: exercise(open.id, CODE, student, open.set) };
    }
    return this.#drawn.exercise;
  }

  /** @param {import("./types.js").ExerciseState} open */
  explanation(open) {
    return recall(`explanation.${open.id}.${open.set}`);
  }

  /**
   * Opens the exercise of the bench in view with a set of numbers.
   * @param {number} set
   */
  open(set) {
    const id = benchOf(this.#store.state.bench).exercise;
    const fresh = {
      id,
      set,
      settled: false,
      tries: 0,
      hints: 0,
      committed: [],
      verdict: null,
      explained: false,
    };
    try {
      this.drawn(fresh);
    } catch (thrown) {
      alertNow(
        `The exercise could not be set. ${isRefusal(thrown) ? thrown.message : detailsOf(thrown)}`,
      );
      return;
    }
    this.#store.dispatch({ kind: "exercise", exercise: fresh });
    document.querySelector("lab-exercise")?.dispatchEvent(new Event("lab-opened"));
  }

  /** After everything stored was erased. */
  forget() {
    this.#drawn = null;
    const open = exerciseOf(this.#store.state);
    if (open) this.open(open.set);
  }

  /**
   * @param {() => void} run
   * @param {() => void} restAddress
   * @param {(text: string) => void} say
   * @returns {Record<string, (detail: Record<string, unknown>) => void>}
   */
  verbs(run, restAddress, say) {
    const store = this.#store;
    /** @param {Partial<import("./types.js").ExerciseState>} change */
    const change = (change) => {
      const open = exerciseOf(store.state);
      if (open) store.dispatch({ kind: "exercise", exercise: { ...open, ...change } });
    };
    return {
      commit: ({ text }) => this.#commit(String(text).trim(), change),
      hint: () => change({ hints: (exerciseOf(store.state)?.hints ?? 0) + 1 }),
      student: ({ text }) => {
        remember("student", String(text).trim());
        this.open(exerciseOf(store.state)?.set ?? 0);
        say("Numbers drawn for this identifier.");
      },
      "new-numbers": () => {
        this.open((exerciseOf(store.state)?.set ?? -1) + 1);
        restAddress();
        say("New numbers.");
      },
      "run-exercise": () => {
        const open = exerciseOf(store.state);
        const request = open ? this.drawn(open).request : null;
        if (!request) return;
        store.dispatch({ kind: "load", ...readRequest(request) });
        run();
        document.querySelector(".zone.reading")?.scrollIntoView({ block: "nearest" });
      },
      explain: ({ text }) => {
        const open = exerciseOf(store.state);
        if (open) remember(`explanation.${open.id}.${open.set}`, String(text));
      },
      compare: () => change({ explained: true }),
      "close-exercise": () => {
        store.dispatch({ kind: "exercise", exercise: null });
        restAddress();
        document.getElementById("open-exercise")?.focus();
      },
    };
  }

  /**
   * @param {string} text
   * @param {(change: Partial<import("./types.js").ExerciseState>) => void} change
   */
  #commit(text, change) {
    const open = exerciseOf(this.#store.state);
    if (!open || open.settled) return;
    try {
      const student = this.student || ANYONE;
      // Committing an implausible answer once more says that it is meant.
      const confirmed =
        open.verdict?.verdict === "implausible" && open.committed.at(-1) === text.slice(0, 40);
      const tryNumber = open.tries + 1;
      const verdict = checkAnswer(open.id, CODE, student, open.set, text, tryNumber, confirmed);
      const counted = verdict.verdict === "right" || verdict.verdict === "wrong";
      const settled = verdict.verdict === "right" || verdict.tries_left === 0;
      change({
        verdict,
        settled,
        tries: open.tries + (counted ? 1 : 0),
        committed: text === "" ? open.committed : [...open.committed, text.slice(0, 40)],
      });
      announce(`${verdict.message} ${verdict.feedback.map((one) => one.text).join(" ")}`);
    } catch (thrown) {
      alertNow(
        `The answer could not be checked. ${isRefusal(thrown) ? thrown.message : detailsOf(thrown)}`,
      );
    }
  }
}
