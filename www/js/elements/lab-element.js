/** What the page's elements share: they build themselves once and undo their listeners. */
export class LabElement extends HTMLElement {
  #built = false;
  /** @type {AbortController | null} */
  #listening = null;

  connectedCallback() {
    this.#listening = new AbortController();
    if (!this.#built) this.build();
    this.#built = true;
    this.listen(this.#listening.signal);
  }

  disconnectedCallback() {
    this.#listening?.abort();
  }

  /** Writes the base markup, once. */
  build() {}

  /**
   * Adds listeners that end with the signal.
   * @param {AbortSignal} _signal
   */
  listen(_signal) {}
}
