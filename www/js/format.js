/** Numbers as people write and read them. */

const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/**
 * A whole number in superscript digits: -12 gives ⁻¹².
 * @param {number} value
 */
function superscript(value) {
  const digits = String(Math.abs(value)).replace(/\d/g, (d) => SUPERSCRIPTS[Number(d)] ?? d);
  return (value < 0 ? "⁻" : "") + digits;
}

/**
 * Groups the digits before the point by thin no-break spaces, from five digits on.
 * @param {string} text
 */
function group(text) {
  const [whole = "", fraction] = text.split(".");
  const digits = whole.replace("-", "");
  const grouped = digits.length < 5 ? whole : whole.replace(/\B(?=(\d{3})+(?!\d))/g, "\u202f");
  return (fraction === undefined ? grouped : `${grouped}.${fraction}`).replace("-", "−");
}

/**
 * A number to some significant digits: 512, 0.0386, 1.20 × 10¹⁵.
 * @param {number} value
 * @param {number} [digits]
 */
export function significant(value, digits = 3) {
  if (!Number.isFinite(value)) return "–";
  if (value === 0) return "0";
  const size = Math.abs(value);
  if (size >= 1e6 || size < 1e-3) {
    const [mantissa = "", power = "0"] = value.toExponential(digits - 1).split("e");
    return `${mantissa.replace("-", "−")} × 10${superscript(Number(power))}`;
  }
  const rounded = Number(value.toPrecision(digits));
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(rounded))));
  return group(rounded.toFixed(decimals));
}

/**
 * A number with its unit and a no-break space between them.
 * @param {number} value
 * @param {string} unit
 * @param {number} [digits]
 */
export function quantity(value, unit, digits = 3) {
  const number = significant(value, digits);
  if (unit === "") return number;
  return unit === "%" ? `${number}\u202f%` : `${number}\u00a0${unit}`;
}

/**
 * A number as it stands in a text field: short, and readable again by {@link parseNumber}.
 * @param {number} value
 */
export function editable(value) {
  const size = Math.abs(value);
  if (size !== 0 && (size >= 1e6 || size < 1e-3)) {
    return value.toExponential().replace("e+", "e");
  }
  return String(Number(value.toPrecision(12)));
}

/**
 * A limit or setting in words, without rounding: 1250, 5 × 10¹⁵.
 * @param {number} value
 */
export function plain(value) {
  const text = editable(value);
  const [mantissa = "", power] = text.split("e");
  if (power === undefined) return group(text);
  const tail = `10${superscript(Number(power))}`;
  return mantissa === "1" ? tail : `${mantissa.replace("-", "−")} × ${tail}`;
}

/**
 * Reads a number as people type it: 5e15, 5*10^15, 5 x 10^15, 1,5, 1 000. Gives null for
 * anything else, so that nothing is ever guessed.
 * @param {string} text
 * @returns {number | null}
 */
export function parseNumber(text) {
  if (text.length > 40) return null;
  const compact = text
    .replace(/[\s\u202f\u00a0]/g, "")
    .replace(/−/g, "-")
    .replace(/,/g, ".")
    .replace(/[*x×·]10(?:\^|\*\*)?([+-]?\d{1,3})$/i, "e$1")
    .replace(/^([+-]?)10\^([+-]?\d{1,3})$/, "$11e$2");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,3})?$/i.test(compact)) return null;
  const value = Number(compact);
  return Number.isFinite(value) ? value : null;
}

/**
 * A word of a request as a person reads it: `bhf_5_1` stays, `thermal_oxide` loses its dash.
 * @param {string} word
 */
export function spoken(word) {
  return word.replaceAll("_", " ");
}

/**
 * A numeric result by its name, or null.
 * @param {Record<string, unknown>} results
 * @param {string} name
 * @returns {number | null}
 */
export function number(results, name) {
  const value = results[name];
  return typeof value === "number" && Number.isFinite(value) ? value : null;
}

/**
 * A message of the kernel as a sentence: capital first, full stop last.
 * @param {string} text
 */
export function sentence(text) {
  const trimmed = text.trim();
  if (trimmed === "") return "";
  const first = trimmed.charAt(0).toUpperCase() + trimmed.slice(1);
  return /[.!?]$/.test(first) ? first : `${first}.`;
}
