/** Questions to try oneself: a wrong choice gets the question that leads out of it. No marks. */

import { announce } from "../announce.js";
import { h } from "../dom.js";

/** @typedef {import("./types.js").Question} Question */

/** @param {import("./types.js").Handbook} book */
export function questions({ questions: all }) {
  return [
    h("h2", { tabindex: "-1" }, "Questions"),
    h(
      "p",
      {},
      "To try yourself, without marks. Answering them is not training and gives no certificate.",
    ),
    ...all.map(asked),
  ];
}

/** @param {Question} question */
function asked(question) {
  const told = h("p", { class: "told", hidden: "" });
  const after = h(
    "div",
    { class: "after", hidden: "" },
    h("p", {}, question.explain.ask),
    h("ul", {}, ...question.explain.key_points.map((point) => h("li", {}, point))),
    h("p", { class: "soft" }, question.sources.join(" ")),
  );
  const options = spread(question).map(({ choice, k }) => {
    const id = `${question.id}-${k}`;
    const radio = h("input", { type: "radio", name: question.id, id });
    radio.addEventListener("change", () => {
      told.replaceChildren(
        h("strong", {}, choice.right ? "Right. " : "Think again. "),
        choice.feedback.replace(/^Yes\. /, ""),
      );
      told.className = `told card ${choice.right ? "right" : "wrong"}`;
      told.hidden = false;
      after.hidden = !choice.right;
      announce(told.textContent ?? "");
    });
    return h("p", { class: "choice" }, radio, h("label", { for: id }, choice.text));
  });
  return h(
    "section",
    { class: "question-box", "data-question": question.id, "aria-labelledby": `q-${question.id}` },
    h("h3", { id: `q-${question.id}` }, question.title),
    h("fieldset", {}, h("legend", {}, question.prompt), ...options),
    told,
    after,
  );
}

/**
 * The choices in an order of their own for each question, so that the right one is not always the
 * first; the same at every visit.
 * @param {Question} question
 */
function spread({ id, options }) {
  const numbered = options.map((choice, k) => ({ choice, k }));
  const turn = [...id].reduce((sum, letter) => sum + letter.charCodeAt(0), 0) % options.length;
  return [...numbered.slice(turn), ...numbered.slice(0, turn)];
}
