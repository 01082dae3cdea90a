/**
 * What a run sheet uses: a flow that comes with the lab, the one on the Run sheet, or a file is read
 * by the kernel, of which one part is loaded for it. The file stays in this browser.
 */

import { alertNow, announce } from "../announce.js";
import { callout, mistakes } from "../callout.js";
import { h } from "../dom.js";
import { SHIPPED, shipped } from "../run-sheet/shipped.js";
import { flowText, keptWork } from "../run-sheet/work.js";
import { hazardLink } from "./hazards.js";
import { MINE } from "./place.js";

/** @typedef {import("./types.js").Handbook} Handbook */
/** @typedef {import("./types.js").Row} Row */
/** @typedef {import("./types.js").Sheet} Sheet */

/** The part of the kernel that reads run sheets. */
const FAMILY = "etching";
/** Longer files are refused before they are read. */
const LONGEST_BYTES = 1_000_000;

/** @type {Promise<typeof import("../../pkg/glue.js")> | null} */
let part = null;

/** Loads the part of the kernel once; after a failure the next call tries again. */
function kernel() {
  part ??= load();
  part.catch(() => (part = null));
  return part;
}

async function load() {
  /** @type {typeof import("../../pkg/glue.js")} */
  const glue = await import(`../../pkg/${FAMILY}.js`);
  await glue.default({ module_or_path: new URL(`../../pkg/${FAMILY}_bg.wasm`, import.meta.url) });
  return glue;
}

/**
 * @param {Handbook} book
 * @param {string} asked the flow of the address, or empty
 * @param {(sheet: string) => void} chosen writes the address of another
 */
export function flowSheet(book, asked, chosen) {
  const flows = select();
  const file = h("input", {
    type: "file",
    id: "flow-file",
    accept: ".json,application/json",
  });
  const text = h("textarea", {
    id: "flow-text",
    rows: "6",
    spellcheck: "false",
  });
  const make = h("button", { type: "button", class: "main" }, "Make the sheet");
  const print = h("button", { type: "button", hidden: "" }, "Print the sheet");
  const error = h("p", { class: "field-error", id: "flow-error", hidden: "" });
  const sheet = h("section", { id: "sheet", "aria-live": "off" });
  text.setAttribute("aria-describedby", "flow-error");

  /** @param {string} message */
  function refuse(message) {
    error.textContent = message;
    error.hidden = false;
    text.setAttribute("aria-invalid", "true");
    sheet.replaceChildren();
    print.hidden = true;
    alertNow(message);
  }

  async function show() {
    error.hidden = true;
    text.removeAttribute("aria-invalid");
    if (text.value.trim() === "") {
      refuse("There is nothing to read yet. Open a flow file, or paste one.");
      return;
    }
    announce("Reading the run sheet.");
    try {
      const glue = await kernel();
      const made = glue.safetySheet(text.value);
      sheet.replaceChildren(...contents(book, made));
      print.hidden = false;
      announce(`The sheet has ${made.steps.length} steps and ${made.hazards.length} hazards.`);
    } catch (thrown) {
      refuse(reason(thrown));
    }
  }

  let wished = 0;

  /** @param {string} name */
  async function choose(name) {
    wished += 1;
    const wish = wished;
    try {
      const doc = name === MINE ? keptWork()?.doc : await shipped(name);
      if (wish !== wished) return;
      if (!doc) {
        refuse("The Run sheet keeps no flow in this browser. Choose one that comes with the lab.");
        return;
      }
      text.value = flowText(doc);
      await show();
    } catch (thrown) {
      refuse(thrown instanceof Error ? `${thrown.message}.` : String(thrown));
    }
  }

  flows.addEventListener("change", () => {
    chosen(flows.value);
    if (flows.value !== "") void choose(flows.value);
  });
  if (asked !== "") {
    flows.value = asked;
    void choose(asked);
  }
  // A text of one's own is no flow of the list any more.
  const own = () => {
    if (flows.value === "") return;
    flows.value = "";
    chosen("");
  };
  text.addEventListener("input", own);
  make.addEventListener("click", () => void show());
  print.addEventListener("click", () => window.print());
  file.addEventListener("change", () => {
    const [picked] = file.files ?? [];
    if (!picked) return;
    if (picked.size > LONGEST_BYTES) {
      refuse("The file is longer than a million bytes. Open a flow file.");
      return;
    }
    own();
    void picked.text().then((read) => {
      text.value = read;
      return show();
    });
  });
  return [
    h("h2", { tabindex: "-1" }, "What a flow uses"),
    h(
      "p",
      { class: "flow-form" },
      "Every chemical and tool of a run sheet with its caution, and the known mistakes between its steps. The file stays in this browser.",
    ),
    h(
      "p",
      { class: "flow-form" },
      h("label", { for: "flow-name" }, "A flow of the lab"),
      " ",
      flows,
    ),
    h("p", { class: "flow-form" }, h("label", { for: "flow-file" }, "Open a flow file"), " ", file),
    h(
      "p",
      { class: "flow-form" },
      h("label", { for: "flow-text" }, "Or paste a flow, a list of steps, or one request"),
      text,
    ),
    error,
    h("p", { class: "buttons flow-form" }, make, print),
    sheet,
  ];
}

/** The flows that come with the lab, and the one that the Run sheet keeps. */
function select() {
  const groups = new Map(SHIPPED.map(({ group }) => [group, h("optgroup", { label: group })]));
  for (const { name, title, group } of SHIPPED) groups.get(group)?.append(new Option(title, name));
  return h(
    "select",
    { id: "flow-name" },
    new Option("none chosen", ""),
    new Option("The flow on the Run sheet", MINE),
    ...groups.values(),
  );
}

/** @param {unknown} thrown */
function reason(thrown) {
  if (thrown instanceof Error) return `The kernel could not be loaded: ${thrown.message}.`;
  const { message, hint } = /** @type {import("../types.js").RequestError} */ (thrown);
  return `${message}; ${hint}.`;
}

/**
 * @param {Handbook} book
 * @param {Sheet} sheet
 */
function contents(book, { title, steps, hazards, findings }) {
  /** @param {string[]} ids */
  const rowsOf = (ids) =>
    ids.map((id) => book.rows.find((row) => row.id === id)).filter((row) => row !== undefined);
  const used = rowsOf(hazards);
  const stops = findings.filter((found) => found.grade === "stop").length;
  return [
    h("h3", {}, title === "" ? "Safety sheet" : `Safety sheet: ${title}`),
    h("p", { class: "deferral" }, book.notice),
    ...["Emergency number of this site: ", "Shower, eye-wash, gel: ", "Buddy: "].map((blank) =>
      h("p", { class: "blank" }, blank, h("span", { class: "line" })),
    ),
    h("h4", {}, `Between the steps: ${stops} to stop, ${findings.length - stops} to check`),
    ...(findings.length > 0 ? [mistakes(findings)] : []),
    h(
      "p",
      {},
      "The lab stays silent about every mistake it does not know: silence is no clearance.",
    ),
    h("h4", {}, "Step by step"),
    h(
      "ol",
      { class: "sheet-steps" },
      ...steps.map((step) =>
        h(
          "li",
          {},
          h("strong", {}, step.id),
          ` ${step.operation.replaceAll("_", " ")}`,
          ...(step.purpose === "" ? [] : [h("small", {}, ` ${step.purpose}`)]),
          h("br"),
          ...(step.hazards.length > 0
            ? rowsOf(step.hazards).flatMap((row, k) => [k > 0 ? ", " : "", hazardLink(row)])
            : ["none of its own"]),
        ),
      ),
    ),
    h("h4", {}, `All ${used.length} hazards, worst first`),
    h(
      "div",
      { class: "caution-rows" },
      ...used.map((row, k) => callout(row, used.slice(0, k), "h4")),
    ),
  ];
}
