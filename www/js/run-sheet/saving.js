/** What leaves the page: the flow as a file, the chart, the link. */

import { alertNow } from "../announce.js";
import { detailsOf } from "../lab.js";
import { copy, download, offer, saveChart } from "../save.js";
import { leavesPinOut } from "./compare/link.js";
import { flowText } from "./work.js";

/**
 * @param {{ store: import("./store.js").Store, details: import("./details.js").Details,
 *   say: (text: string) => void,
 *   flows: ReturnType<typeof import("./opening.js").opening> }} page
 */
export function saving({ store, details, say, flows }) {
  /**
   * @param {string} text
   * @param {boolean} alone whether the pinned run was too long for it
   */
  async function copied(text, alone) {
    if (await copy(text)) {
      say(
        alone
          ? "Link copied without the pinned run, which is too long for a link: save that one as a file."
          : "Link copied: it opens this view.",
      );
      return;
    }
    offer(text);
    say("The browser refused the clipboard: copy the selected text.");
  }

  function saveFlow() {
    const { doc } = store.state;
    if (!doc) return;
    const name = `${doc.flow.replace(/[^\w.-]+/g, "-").slice(0, 60) || "flow"}.json`;
    download(new Blob([flowText(doc)], { type: "application/json" }), name);
    say(`Saved ${name}`);
  }

  /** @param {string} format */
  async function saveFigure(format) {
    const { chart, ghost } = details.shownChart();
    const { doc, step } = store.state;
    if (!chart || !doc || !["csv", "svg", "png"].includes(format)) return;
    const name = `${doc.flow}-${doc.steps[step]?.id ?? step + 1}`;
    try {
      const file = await saveChart(/** @type {"csv"} */ (format), chart, ghost, name);
      say(`Saved ${file}`);
    } catch (thrown) {
      alertNow(`The file could not be made. ${detailsOf(thrown)}`);
    }
  }

  function copyLink() {
    const address = flows.link();
    if (address === null) {
      say("This flow is too long for a link: it is saved as a file instead.");
      saveFlow();
      return;
    }
    flows.write(address);
    void copied(location.href, leavesPinOut(address));
  }

  /** @type {Record<string, (detail: Record<string, unknown>) => void>} */
  const verbs = { save: ({ format }) => void saveFigure(String(format)) };
  /** @type {Record<string, () => void>} */
  const buttons = { "save-file": saveFlow, "copy-link": copyLink };
  return { verbs, buttons };
}
