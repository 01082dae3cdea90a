import { h, rebuild, send, setText } from "../dom.js";
import { sentence } from "../format.js";
import { LabElement } from "./lab-element.js";

/** @typedef {import("../types.js").Exercise} Exercise */
/** @typedef {import("../types.js").ExerciseState} ExerciseState */
/**
 * @typedef {{ exercise: Exercise, open: ExerciseState, student: string, explanation: string,
 *   bench: string }} ExerciseView
 */

/**
 * One guided exercise: predict, commit, run, explain. Sends `lab:commit`, `lab:hint`, `lab:student`,
 * `lab:new-numbers`, `lab:run-exercise`, `lab:explain`, `lab:compare`, `lab:close-exercise`.
 */
export class LabExercise extends LabElement {
  build() {
    this.append(
      h("div", { class: "exercise-head" }),
      h("p", { class: "prompt" }),
      h(
        "form",
        { novalidate: "" },
        h("h4", {}, "1. Predict"),
        h(
          "div",
          { class: "answer" },
          h("label", { for: "exercise-answer" }),
          h("input", {
            id: "exercise-answer",
            type: "text",
            inputmode: "decimal",
            autocomplete: "off",
            spellcheck: "false",
            "aria-describedby": "exercise-tries exercise-verdict",
          }),
          h("button", { type: "submit", class: "main" }, "Commit answer"),
        ),
        h("p", { id: "exercise-tries", class: "soft" }),
        h("ol", { class: "hints" }),
        h(
          "p",
          { class: "buttons" },
          h("button", { type: "button", "data-verb": "hint" }, "Show a hint"),
        ),
      ),
      h("div", { class: "verdict", id: "exercise-verdict" }),
      h("div", { class: "after" }),
      h(
        "div",
        { class: "exercise-foot" },
        h(
          "div",
          {},
          h(
            "label",
            { for: "exercise-student" },
            "Student identifier (optional, stays in this browser)",
          ),
          h("input", {
            id: "exercise-student",
            type: "text",
            autocomplete: "off",
            maxlength: "40",
          }),
        ),
        h(
          "p",
          { class: "buttons" },
          h("button", { type: "button", "data-verb": "new-numbers" }, "New numbers"),
          h("button", { type: "button", "data-verb": "close-exercise" }, "Close exercise"),
        ),
      ),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.querySelector("form")?.addEventListener(
      "submit",
      (event) => {
        event.preventDefault();
        send(this, "commit", { text: this.#answer()?.value ?? "" });
      },
      { signal },
    );
    this.addEventListener(
      "click",
      (event) => {
        const button = event.target instanceof Element ? event.target.closest("button") : null;
        if (button?.dataset["verb"]) send(this, button.dataset["verb"]);
      },
      { signal },
    );
    this.addEventListener(
      "change",
      (event) => {
        const input = event.target;
        if (input instanceof HTMLInputElement && input.id === "exercise-student") {
          send(this, "student", { text: input.value });
        }
        if (input instanceof HTMLTextAreaElement) send(this, "explain", { text: input.value });
      },
      { signal },
    );
  }

  /** @param {ExerciseView | null} view */
  render(view) {
    this.hidden = view === null;
    if (!view) return;
    const { exercise, open } = view;
    const head = this.querySelector(".exercise-head");
    if (head instanceof HTMLElement) {
      rebuild(head, `${exercise.id} ${open.set}`, () => [
        h("h3", {}, exercise.title),
        h(
          "p",
          { class: "soft" },
          `${exercise.aim} About ${exercise.minutes} minutes. Numbers: set ${open.set + 1}.`,
        ),
      ]);
    }
    setText(this.querySelector(".prompt"), exercise.prompt);
    setText(
      this.querySelector(".answer label"),
      `Your ${exercise.quantity}${exercise.unit === "" ? "" : ` in ${exercise.unit}`}`,
    );
    const form = this.querySelector("form");
    if (form) form.hidden = open.settled;
    const student = this.querySelector("#exercise-student");
    if (student instanceof HTMLInputElement && document.activeElement !== student) {
      student.value = view.student;
    }
    this.#hints(exercise, open);
    this.#verdict(open);
    this.#after(view);
    const input = this.#answer();
    const wrong = open.verdict !== null && open.verdict.verdict !== "right";
    input?.setAttribute("aria-invalid", String(wrong));
    if (input && open.tries === 0 && open.verdict === null && open.committed.length === 0) {
      if (this.dataset["fresh"] !== `${exercise.id} ${open.set} ${view.student}`) input.value = "";
      this.dataset["fresh"] = `${exercise.id} ${open.set} ${view.student}`;
    }
  }

  #answer() {
    const input = this.querySelector("#exercise-answer");
    return input instanceof HTMLInputElement ? input : null;
  }

  /**
   * @param {Exercise} exercise
   * @param {ExerciseState} open
   */
  #hints(exercise, open) {
    const left = open.verdict?.tries_left;
    setText(
      this.querySelector("#exercise-tries"),
      left === undefined
        ? `Work it out on paper first; ${exercise.digits} digits will do. You have ${exercise.tries} tries.`
        : `${left} ${left === 1 ? "try" : "tries"} left.`,
    );
    const list = this.querySelector(".hints");
    if (list instanceof HTMLElement) {
      rebuild(list, `${exercise.id} ${open.hints}`, () =>
        exercise.hints.slice(0, open.hints).map((hint) => h("li", {}, hint)),
      );
    }
    const button = this.querySelector("[data-verb=hint]");
    const more = open.hints < exercise.hints.length;
    button?.toggleAttribute("hidden", !more);
    setText(button, `Show hint ${open.hints + 1} of ${exercise.hints.length}`);
  }

  /** @param {ExerciseState} open */
  #verdict(open) {
    const place = this.querySelector(".verdict");
    if (!(place instanceof HTMLElement)) return;
    const { verdict } = open;
    rebuild(place, JSON.stringify([verdict, open.committed]), () => {
      if (!verdict) return [];
      const found = verdict.verdict;
      const kind = found === "unreadable" ? "warn" : found === "right" ? found : "wrong";
      const heads = {
        right: "✓ Right.",
        wrong: "✗ Not yet.",
        implausible: "✗ That size is not plausible.",
        unreadable: "? Not counted.",
      };
      return [
        h(
          "div",
          { class: `card ${kind}`, role: "group", "aria-label": "Feedback" },
          h("p", {}, h("strong", {}, `${heads[verdict.verdict]} `), sentence(verdict.message)),
          ...verdict.feedback.map((one) => h("p", {}, one.text)),
          ...(verdict.verdict === "implausible"
            ? [h("p", {}, "Commit the same answer once more to say that you mean it.")]
            : []),
          h("p", { class: "soft" }, `You committed: ${open.committed.join("; ")}`),
        ),
      ];
    });
  }

  /** @param {ExerciseView} view */
  #after({ exercise, open, explanation, bench }) {
    const place = this.querySelector(".after");
    if (!(place instanceof HTMLElement)) return;
    place.hidden = !open.settled;
    rebuild(place, `${open.settled} ${open.explained} ${exercise.id} ${open.set}`, () => {
      if (!open.settled) return [];
      const text = h("textarea", { id: "exercise-explanation", rows: "3", maxlength: "2000" });
      text.value = explanation;
      return [
        h("h4", {}, "2. Run"),
        ...this.#runPart(exercise, open, bench),
        h("h4", {}, "3. Explain"),
        h("label", { for: "exercise-explanation" }, exercise.explain.ask),
        text,
        ...(open.explained ? solution(exercise, open) : [compareButton()]),
      ];
    });
  }

  /**
   * @param {Exercise} exercise
   * @param {ExerciseState} open
   * @param {string} bench
   */
  #runPart(exercise, open, bench) {
    const note = exercise.note === null ? [] : [h("p", {}, exercise.note)];
    if (exercise.request === null) {
      return [h("p", {}, "The bench is open again: try the change there."), ...note];
    }
    const predicted = `${open.committed.at(-1) ?? ""} ${exercise.unit}`.trim();
    return [
      h(
        "p",
        {},
        `Set the ${bench.toLowerCase()} to this case and compare it with your prediction of ${predicted}.`,
      ),
      ...note,
      h(
        "p",
        { class: "buttons" },
        h(
          "button",
          { type: "button", class: "main", "data-verb": "run-exercise" },
          "Run it on the bench",
        ),
      ),
    ];
  }

  /** Puts the caret where the work is. */
  focusStart() {
    const heading = this.querySelector("h3");
    heading?.setAttribute("tabindex", "-1");
    heading?.focus();
  }
}

function compareButton() {
  const words = "Compare with the worked solution";
  return h(
    "p",
    { class: "buttons" },
    h("button", { type: "button", "data-verb": "compare" }, words),
  );
}

/**
 * @param {Exercise} exercise
 * @param {ExerciseState} open
 */
function solution(exercise, open) {
  const key = open.verdict?.key;
  return [
    h("h5", {}, "What a good explanation says"),
    h("ul", { class: "worked" }, ...exercise.explain.key_points.map((line) => h("li", {}, line))),
    ...(key
      ? [
          h("h5", {}, "Worked solution"),
          h("ol", { class: "worked" }, ...key.working.map((line) => h("li", {}, line))),
          h("p", { class: "strong" }, `The ${exercise.quantity} is ${key.text}.`),
        ]
      : []),
    h("p", { class: "soft" }, `Sources: ${exercise.sources.join(" ")}`),
  ];
}
