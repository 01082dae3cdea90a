/**
 * The guided exercises: the answer stays hidden until one is committed, a known slip gets its own
 * feedback, the right answer opens the bench. The answers are worked out here by hand formulas.
 */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";

const visit = useLab();

/** Boltzmann's constant in eV/K (CODATA 2018). */
const K_EV = 8.617333e-5;

/**
 * @param {RegExp} pattern
 * @param {string} prompt
 */
function numbersIn(pattern, prompt) {
  const found = pattern.exec(prompt);
  assert.ok(found, `the prompt reads differently: ${prompt}`);
  return found.slice(1).map((text) => {
    const plain = text
      .replace(/[\s\u00a0\u202f]/g, "")
      // The end of a sentence is no decimal point.
      .replace(/\.$/, "")
      .replace(/(?:×|^)10([⁰¹²³⁴⁵⁶⁷⁸⁹]+)$/, (all, digits) => {
        const power = [...digits].map((digit) => "⁰¹²³⁴⁵⁶⁷⁸⁹".indexOf(digit)).join("");
        return `${all.startsWith("×") ? "" : "1"}e${power}`;
      });
    const value = Number(plain);
    assert.ok(Number.isFinite(value), `a number in the prompt: ${text}`);
    return value;
  });
}

/** A number as it stands in a prompt, in digits or with a power of ten. */
const N = "([\\d.]+(?:\\s?×\\s?10)?[⁰¹²³⁴⁵⁶⁷⁸⁹]*)";

/** @type {{ bench: string, exercise: string, prompt: RegExp,
 *   solve: (n: number[]) => { right: number, slip: number }, feedback: RegExp }[]} */
const EXERCISES = [
  {
    bench: "furnace",
    exercise: "ox-wet-field",
    prompt: new RegExp(`<(\\d+)>.*? at ${N}\\s*°C for ${N}\\s*min`),
    // Deal-Grove with the lab's wet constants: x^2 + A x = B t.
    solve: ([orientation = 0, celsius = 0, minutes = 0]) => {
      const kelvin = celsius + 273.15;
      const hours = minutes / 60;
      const b = 386 * Math.exp(-0.78 / (K_EV * kelvin));
      const l = (orientation === 111 ? 1.63e8 : 9.7e7) * Math.exp(-2.05 / (K_EV * kelvin));
      const a = b / l;
      const right = (1000 * a * (Math.sqrt(1 + (4 * b * hours) / a ** 2) - 1)) / 2;
      return { right, slip: 1000 * Math.sqrt(b * hours) };
    },
    feedback: /surface reaction also takes time/,
  },
  {
    bench: "spinner",
    exercise: "spin-speed",
    prompt: new RegExp(`At ${N}\\s*rpm .*? ${N}\\s*µm thick.*? want ${N}\\s*µm`),
    solve: ([speed = 0, thickness = 0, wanted = 0]) => ({
      right: speed * (thickness / wanted) ** 2,
      slip: (speed * thickness) / wanted,
    }),
    feedback: /does not halve the film/,
  },
  {
    bench: "aligner",
    exercise: "lit-resolution",
    prompt: new RegExp(`for the ${N}\\s*nm line .*? lines of ${N}\\s*µm with k₁ = ${N}`),
    solve: ([wavelength = 0, line = 0, factor = 0]) => {
      const aperture = (factor * wavelength) / 1000 / line;
      const right = (0.5 * wavelength) / 1000 / aperture ** 2;
      return { right, slip: right * aperture };
    },
    feedback: /higher power/,
  },
  {
    bench: "wet-bench",
    exercise: "etch-bias",
    prompt: new RegExp(`film ${N}\\s*µm .*? with ${N}\\s*% .*? must be ${N}\\s*µm`),
    solve: ([thickness = 0, over = 0, line = 0]) => ({
      right: line + 2 * thickness * (1 + over / 100),
      slip: line + thickness * (1 + over / 100),
    }),
    feedback: /edges of the line/,
  },
  {
    bench: "developer",
    exercise: "dev-dark-loss",
    prompt: new RegExp(
      `resist ${N}\\s*nm .*? at ${N}\\s*nm/s; .*? at ${N}\\s*nm/s.*? and ${N}\\s*%`,
    ),
    solve: ([thickness = 0, rate = 0, dark = 0, over = 0]) => ({
      right: ((dark * thickness) / rate) * (1 + over / 100),
      slip: (dark * thickness) / rate,
    }),
    feedback: /does not stop at clearing/,
  },
  {
    bench: "dry-etcher",
    exercise: "etch-selectivity",
    prompt: new RegExp(
      `Polysilicon ${N}\\s*nm .*? steps ${N}\\s*nm .*? with ${N}\\s*% .*? lose ${N}\\s*nm`,
    ),
    solve: ([film = 0, step = 0, over = 0, loss = 0]) => ({
      right: (step + (film * over) / 100) / loss,
      slip: step / loss,
    }),
    feedback: /safety over-etch/,
  },
  {
    bench: "polisher",
    exercise: "pol-level",
    prompt: new RegExp(`features ${N}\\s*nm .*? cover ${N}\\s*% .*? loses ${N}\\s*nm/min`),
    solve: ([step = 0, dense = 0, rate = 0]) => ({
      right: ((60 * step) / rate) * (dense / 100),
      slip: (60 * step) / rate,
    }),
    feedback: /share of the load/,
  },
  {
    bench: "diffusion-tube",
    exercise: "dif-drive",
    prompt: new RegExp(
      `with ${N} boron .*? at ${N}\\s*°C for ${N}\\s*min.*? n-type with ${N} donors`,
    ),
    solve: ([dose = 0, celsius = 0, minutes = 0, background = 0]) => {
      const d = 10.5 * Math.exp(-3.69 / (K_EV * (celsius + 273.15)));
      const dt = d * minutes * 60;
      const surface = dose / Math.sqrt(Math.PI * dt);
      const half = 1e4 * Math.sqrt(dt * Math.log(surface / background));
      return { right: 2 * half, slip: half };
    },
    feedback: /becomes of the 4/,
  },
  {
    bench: "implanter",
    exercise: "imp-peak",
    prompt: new RegExp(`puts ${N} \\w+ ions .*? straggle of ${N}\\s*µm`),
    solve: ([dose = 0, straggle = 0]) => {
      const right = dose / (Math.sqrt(2 * Math.PI) * straggle * 1e-4);
      return { right, slip: right * Math.sqrt(2 * Math.PI) };
    },
    feedback: /wider than one sigma/,
  },
  {
    bench: "four-point",
    exercise: "sil-four-point",
    prompt: new RegExp(`reads ${N}\\s*mV at ${N}\\s*mA.*? is ${N}\\s*µm thick`),
    solve: ([millivolt = 0, milliampere = 0, thickness = 0]) => {
      const slip = (millivolt / milliampere) * thickness * 1e-4;
      return { right: (Math.PI / Math.LN2) * slip, slip };
    },
    feedback: /not yet ohms per square/,
  },
];

/** @param {import("./lab.mjs").Lab} lab */
async function promptOf(lab) {
  const prompt = lab.page.locator("lab-exercise .prompt");
  await prompt.waitFor();
  return (await prompt.innerText()).replace(/\s+/g, " ");
}

/**
 * @param {import("./lab.mjs").Lab} lab
 * @param {string} text
 */
async function commit(lab, text) {
  await lab.page.locator("#exercise-answer").fill(text);
  await lab.page.getByRole("button", { name: "Commit answer" }).click();
  const verdict = lab.page.locator("#exercise-verdict");
  await verdict.locator(".card").waitFor();
  return verdict.innerText();
}

for (const { bench, exercise, prompt, solve, feedback } of EXERCISES) {
  const link = `#v=1&bench=${bench}&exercise=${exercise}`;

  test(`${exercise}: a slip gets its own feedback, the right answer opens the bench`, async (t) => {
    const lab = await visit(t, link, { load: false });
    const { right, slip } = solve(numbersIn(prompt, await promptOf(lab)));
    await assertHidden(lab);

    const wrong = await commit(lab, slip.toPrecision(4));
    assert.match(wrong, feedback);
    assert.match(wrong, /Not yet/);
    assert.ok(!wrong.includes(right.toPrecision(3)), "the answer is not given away");
    await assertHidden(lab);

    const good = await commit(lab, right.toPrecision(4));
    assert.match(good, /Right/);
    await lab.ready();
    assert.ok(await lab.reading().isVisible(), "the bench shows its results again");
  });
}

/**
 * Nothing on the bench may show what the exercise asks for.
 * @param {import("./lab.mjs").Lab} lab
 */
async function assertHidden(lab) {
  for (const part of ["lab-reading output", "lab-plot canvas", "lab-picture svg"]) {
    const shown = await lab.page
      .locator(part)
      .evaluateAll((elements) => elements.filter((element) => element.checkVisibility()).length);
    assert.equal(shown, 0, `${part} is hidden until an answer is committed`);
  }
  // A question about a finished wafer has no caution of its own.
  if (lab.page.url().includes("bench=four-point")) return;
  assert.ok(await lab.cautions().first().isVisible(), "cautions are never hidden");
}

test("what is no number costs no try", async (t) => {
  const lab = await visit(t, "#v=1&bench=spinner&exercise=spin-speed", { load: false });
  await promptOf(lab);
  const words = await commit(lab, "fast");
  assert.match(words, /could not be read/);
  assert.match(await lab.page.locator("#exercise-tries").innerText(), /3 tries/);
});

test("another set and another student bring other numbers, the same ones the same", async (t) => {
  /** @param {string} fragment */
  const asked = async (fragment) => promptOf(await visit(t, fragment, { load: false }));
  const first = await asked("#v=1&bench=diffusion-tube&exercise=dif-drive");
  assert.equal(await asked("#v=1&bench=diffusion-tube&exercise=dif-drive"), first);
  const others = [];
  for (const set of [2, 3, 4]) {
    others.push(await asked(`#v=1&bench=diffusion-tube&exercise=dif-drive&set=${set}`));
  }
  assert.ok(others.some((other) => other !== first));
});

test("an exercise can be done by keyboard alone", async (t) => {
  const lab = await visit(t, "#v=1&bench=spinner&exercise=spin-speed", { load: false });
  const { solve, prompt } = EXERCISES[1] ?? assert.fail("there is a spinner exercise");
  const { right } = solve(numbersIn(prompt, await promptOf(lab)));
  for (let k = 0; k < 200; k += 1) {
    await lab.page.keyboard.press("Tab");
    const here = await lab.page.evaluate(() => document.activeElement?.id ?? "");
    if (here === "exercise-answer") break;
  }
  await lab.page.keyboard.type(right.toPrecision(4));
  await lab.page.keyboard.press("Enter");
  await lab.page.locator("#exercise-verdict .card").waitFor();
  assert.match(await lab.page.locator("#exercise-verdict").innerText(), /Right/);
});
