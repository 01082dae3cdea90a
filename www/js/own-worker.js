/** Starts workers from scripts of this site. */

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

/**
 * Starts a worker; throws where workers are refused, as in a frame of opaque origin.
 * @param {URL} script
 */
export function startWorker(script) {
  return new Worker(policy.createScriptURL(script.href), { type: "module" });
}
