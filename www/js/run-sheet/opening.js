/**
 * Opens flows: what the address says, the work that was kept here, a shipped flow or one of a
 * person's own; and has the address and the kept work follow what is in view.
 */

import { alertNow } from "../announce.js";
import { detailsOf } from "../lab.js";
import { WHOLE, readAddress, shown as named, writeAddress } from "./address.js";
import { patched } from "./diff.js";
import { levelsOf } from "./document.js";
import { isEmbedded } from "./embed.js";
import { FIRST, NAMES, shipped } from "./shipped.js";
import { keepWork, keptWork } from "./work.js";

/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/** @typedef {import("./later.js").Later} Later */
/** @typedef {Partial<Extract<import("./store.js").Action, { kind: "open" }>>} Place */

/** The address and the kept work follow when things have come to rest. */
const REST_MS = 400;

/**
 * @param {{ store: import("./store.js").Store, run: import("./run.js").Run,
 *   view: import("./view.js").View, pictures: import("./pictures.js").Pictures,
 *   forget: () => void, later: () => Later | null, whole: Promise<Later>
 *   }} page whole: the rest of the page, when it comes
 */
export function opening({ store, run, view, pictures, forget, later, whole }) {
  /** @type {FlowDoc | null} the shipped flow that the one in view began with */
  let base = null;
  let written = "";
  let wished = 0;
  let restTimer = 0;

  /** The fragment of what is in view, with the pinned run; null if it is too long for a link. */
  const link = () => writeAddress(store.state, base, later()?.compare.base());

  /** @param {string} address */
  function write(address) {
    written = address;
    const here = location.pathname + location.search;
    history.replaceState(null, "", written === "" ? here : written);
  }

  function rest() {
    clearTimeout(restTimer);
    restTimer = window.setTimeout(() => {
      if (store.state.work && !isEmbedded()) keepWork(store.state);
      write(link() ?? "");
    }, REST_MS);
  }

  /**
   * @param {FlowDoc} doc
   * @param {Place} [place]
   */
  function open(doc, place = {}) {
    forget();
    store.dispatch({
      kind: "open",
      doc,
      base: "",
      step: 0,
      plumb: null,
      depth: null,
      // A run stays pinned, and is looked at as before.
      view: {
        ...WHOLE,
        since: store.state.view.since,
        both: store.state.view.both,
      },
      hidden: [],
      notices: [],
      work: false,
      ...place,
    });
    view.section.measure();
    run.flow(doc, pictures.wish(store.state, view.section.size));
    const select = document.getElementById("flow");
    if (select instanceof HTMLSelectElement) select.value = store.state.base;
    rest();
  }

  /** Opens what the address says, or else the kept work, or else the first flow. */
  async function restore() {
    const fragment = location.hash;
    written = fragment;
    const address = readAddress(fragment, NAMES);
    const kept = isEmbedded() ? null : keptWork();
    if (address.flow === "" && kept) {
      const { notices } = address;
      base = kept.base === "" ? null : await shipped(kept.base);
      open(kept.doc, {
        ...kept,
        view: { ...WHOLE, ...kept.view },
        notices,
        work: true,
      });
    } else await openShipped(address.flow || FIRST, address);
    const { compare } = await whole;
    const notice = await compare.restore(address);
    if (notice !== "") {
      store.dispatch({
        kind: "notices",
        notices: [...store.state.notices, notice],
      });
    }
  }

  /**
   * @param {string} name
   * @param {import("./address.js").Address | null} address
   */
  async function openShipped(name, address) {
    wished += 1;
    const wish = wished;
    const file = await shipped(name).catch((thrown) => {
      alertNow(`The flow could not be loaded. ${detailsOf(thrown)}`);
      store.dispatch({ kind: "notices", notices: [`The flow could not be loaded. ${thrown}`] });
      return null;
    });
    if (!file || wish !== wished) return;
    base = file;
    const notices = [...(address?.notices ?? [])];
    let doc = file;
    if (address?.patch) {
      try {
        doc = patched(file, address.patch);
      } catch (thrown) {
        notices.push(`edit: ${detailsOf(thrown)}; the shipped flow is shown.`);
      }
    }
    const asked = address?.step ?? "";
    const byId = doc.steps.findIndex(({ id }) => id === asked);
    if (asked !== "" && byId < 0) notices.push(`step: this flow has no step of that name.`);
    const levels = levelsOf(doc);
    const hidden = address?.hidden ?? [];
    for (const level of hidden.filter((one) => !levels.includes(one))) {
      notices.push(`hide: this flow has no mask level ${named(level)}.`);
    }
    open(doc, {
      base: name,
      step: Math.max(0, byId),
      plumb: address?.plumb ?? null,
      depth: address?.depth ?? null,
      hidden: hidden.filter((level) => levels.includes(level)),
      show: address?.show ?? "",
      notices,
      ...(address ? { view: address.view } : {}),
    });
  }

  window.addEventListener("hashchange", () => {
    if (location.hash !== written) void restore();
  });

  return {
    open,
    openShipped,
    restore,
    rest,
    link,
    write,
    base: () => base,

    /** Opens a flow that did not come with the lab. @param {FlowDoc} doc */
    openOwn(doc) {
      base = null;
      open(doc, { work: true });
    },

    /** Opens the flow in view anew, as after a breakdown. */
    again() {
      const { doc, base: name, step, plumb, depth, view: shown, hidden, work } = store.state;
      if (doc)
        open(doc, {
          base: name,
          step,
          plumb,
          depth,
          view: shown,
          hidden,
          work,
        });
    },

    /** The fragment of what is in view, without the pinned run. */
    address: () => writeAddress(store.state, base),
  };
}
