/**
 * The masks of the Run sheet: levels shown and hidden, a mask shifted, rectangles drawn and moved,
 * the section line moved; by pointer, by keys, by numbers; what design rules say to it.
 */

import assert from "node:assert/strict";
import { test } from "node:test";

import { axeSource, useLab } from "./harness.mjs";
import { Masks } from "./masks.mjs";
import { openSheet } from "./sheet.mjs";
import { eventually } from "./waiting.mjs";

const visit = useLab();
const initScript = await axeSource();

const CMOS = "#v=1&flow=full-cmos";

test("the gate mask is shifted by a micrometer and the section follows", async (t) => {
  const sheet = await openSheet(visit, t, `${CMOS}&step=poly-etch`);
  const masks = new Masks(sheet.page);
  await sheet.done();
  const before = await sheet.look();
  await masks.change("POLY");
  await masks.type("overlay-x", "1");
  await sheet.done();
  await sheet.looksOther(before);
  const words = sheet.report().locator(".earlier li");
  await words
    .filter({ hasText: "An edge of polysilicon lies at x = 21 µm instead of 20 µm" })
    .waitFor();
  await sheet.page
    .locator(".effect li")
    .filter({ hasText: /edge of polysilicon/ })
    .waitFor();
  await masks.overlayWords(/printed in step 49 \(poly-expose\)/);
  await sheet.page.locator("[role=status]", { hasText: /POLY is printed 1 µm off/ }).waitFor();
  await masks.has("overlay-x-slider", "1");
  // A step before the gate knows nothing of it; the undo brings all of it back.
  await sheet.page.locator("#undo").click();
  await sheet.done();
  await sheet.looks(before);
  await masks.has("overlay-x", "0");
});

test("the slider of an overlay error moves the drawing at once, the flow when it rests", async (t) => {
  const sheet = await openSheet(visit, t, `${CMOS}&step=nwell-develop`);
  const masks = new Masks(sheet.page);
  await sheet.done();
  await masks.change("NWELL");
  await masks.overlayWords(/steps 5 \(nwell-expose\), 23 \(stop-expose\), 36 \(deep-expose\)/);
  const drawn = await masks.look();
  await masks.slider("y").focus();
  for (let k = 0; k < 12; k += 1) await sheet.page.keyboard.press("ArrowRight");
  await sheet.page.waitForFunction(
    (old) => document.querySelector("sheet-layout svg > g")?.innerHTML !== old,
    drawn,
  );
  await masks.has("overlay-y", "0.6");
  await sheet.page.waitForURL(/overlay_um/);
  await sheet.page.locator("#undo").click();
  await sheet.page.locator("#undo[aria-disabled=true]").waitFor();
});

test("a rectangle is drawn by the pointer, moved and resized by its handles", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor");
  const masks = new Masks(sheet.page);
  await sheet.done();
  await masks.type("grid", "10");
  await masks.change("METAL");
  await masks.drag([560, 460], [650, 550]);
  await masks.boxed(["560", "460", "650", "550"]);
  await masks.dragHandle("body", [50, -10]);
  await masks.boxed(["610", "450", "700", "540"]);
  await masks.dragHandle("2,3", [40, 30]);
  await masks.boxed(["610", "450", "740", "570"]);
  await masks.tap([100, 150]);
  await masks.boxed(["50", "100", "450", "500"]);
  await sheet.done();
  for (let k = 0; k < 3; k += 1) await sheet.page.locator("#undo").click();
  await sheet.page.locator("#undo[aria-disabled=true]").waitFor();
});

test("a rectangle is made, moved, doubled and deleted by keys and numbers alone", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor");
  const masks = new Masks(sheet.page);
  await sheet.done();
  await masks.press("Change METAL, metal dots");
  const before = await masks.look();
  await masks.press("New rectangle");
  await masks.boxed(["398", "298", "402", "302"]);
  for (const [part, value] of [
    ["x2", "500"],
    ["y2", "560"],
    ["y1", "510"],
    ["x1", "460"],
  ]) {
    await masks.type(`box-${part}`, String(value));
  }
  await masks.boxed(["460", "510", "500", "560"]);
  await masks.handle("body").focus();
  await sheet.page.keyboard.press("ArrowLeft");
  await sheet.page.keyboard.press("Shift+ArrowUp");
  await masks.boxed(["459.9", "511", "499.9", "561"]);
  assert.equal(await sheet.scrubber().inputValue(), "1", "the arrow keys stay with the handle");
  await masks.handle("0,1").focus();
  await sheet.page.keyboard.press("Shift+ArrowRight");
  await masks.boxed(["460.9", "511", "499.9", "561"]);
  await sheet.page
    .locator("[role=status]", { hasText: /METAL, figure 3: 460.9, 511 to 499.9, 561/ })
    .waitFor();
  await masks.press("Duplicate");
  await masks.has("figure", "3");
  await masks.press("Delete");
  await masks.field("figure").selectOption("2");
  await masks.press("Delete");
  await masks.looks(before);
});

test("a finger moves the section line and draws a rectangle", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor", { width: 360, height: 740 });
  const masks = new Masks(sheet.page);
  await sheet.done();
  await masks.type("grid", "10");
  const top = await masks.toView();
  await masks.touch(await masks.middle("line"), [0, -40]);
  // What the answers change above it is made up for in whole pixels; the finger went 40.
  assert.ok(Math.abs((await masks.top()) - top) < 1, "the page stays where it is");
  await eventually(async () => {
    const y = Number(await masks.field("line-from-y").inputValue());
    assert.ok(y >= 360 && y <= 440, `${y} µm`);
    assert.equal(await masks.field("line-to-y").inputValue(), String(y));
  });
  await masks.change("METAL");
  await masks.toView();
  await masks.touch(await masks.screen([560, 520]), [30, -20]);
  await eventually(async () => {
    const [x1, , x2] = (await masks.box()).map(Number);
    assert.ok(x1 === 560 && Number(x2) > 600, `${x1} to ${x2} µm`);
  });
});

test("numbers of figures are refused by field, value and range", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor");
  const masks = new Masks(sheet.page);
  await masks.change("METAL");
  await masks.field("figure").selectOption("0");
  await masks.type("box-x1", "600");
  await masks.refused("box", /x1: the rectangle has no area/);
  await masks.type("box-x1", "1e9");
  await masks.refused("box", /x1: .*1000000000.*-100000 to 100000 µm/);
  await masks.type("box-x1", "wide");
  await masks.refused("box", /x1: “wide” is not a number/);
  await masks.type("box-x1", "60");
  await masks.field("box-x1").and(sheet.page.locator("[aria-invalid=false]")).waitFor();
  await masks.type("overlay-x", "300");
  await masks.refused("overlay-x", /Overlay error x: .*300.*-100 to 100 µm/);
  await masks.type("line-from-x", "800");
  await masks.refused("line", /from x: .*0.1 to 2000 µm/);
  assert.equal(await masks.field("line-from-x").inputValue(), "800", "what was typed stays");
});

test("the section line is moved by pointer, keys and numbers, and a link finds it again", async (t) => {
  const here = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=metal-etch");
  const masks = new Masks(here.page);
  await here.done();
  await here.shows(8);
  const before = await here.look();
  await masks.handle("line").focus();
  for (let k = 0; k < 3; k += 1) await here.page.keyboard.press("Shift+ArrowUp");
  await masks.has("line-from-y", "303");
  await masks.has("line-to-y", "303");
  await masks.type("line-from-y", "450");
  await masks.type("line-to-y", "450");
  await masks.dragHandle("to", [-300, 0]);
  await masks.has("line-to-x", "500");
  await here.done();
  await here.shows(8);
  const look = await here.looksOther(before);
  await here.page
    .locator("[role=status]", { hasText: /Section line from x 0, y 450 to x 500, y 450 µm/ })
    .waitFor();
  const hash = await here.addressed(/section.*500.*450/);
  assert.ok(hash.length <= 2000);
  const there = await openSheet(visit, t, hash);
  await there.done();
  await there.shows(8);
  await there.looks(look);
  await new Masks(there.page).has("line-to-x", "500");
  await there.page.reload();
  await there.done();
  await there.shows(8);
  await there.looks(look);
});

test("a design rule that is broken is named in words while it is being broken", async (t) => {
  const sheet = await openSheet(visit, t, `${CMOS}&step=c1`);
  const masks = new Masks(sheet.page);
  await sheet.page.locator("sheet-layout svg path").first().waitFor();
  assert.equal(await masks.rules().count(), 0);
  await masks.change("CONTACT");
  await masks.field("figure").selectOption("1");
  await masks.type("box-x1", "18");
  await masks.refused("box", /no area/);
  await masks.type("box-x2", "20.5");
  const broken = masks.rules().filter({ hasText: /CONTACT.*METAL.*least enclosure/ });
  await broken.waitFor();
  await sheet.page.locator("[role=status]", { hasText: /A design rule is broken/ }).waitFor();
  await sheet.page.keyboard.press("Tab");
  await sheet.page.locator("#undo").click();
  await broken.waitFor({ state: "detached" });
});

test("levels are shown and hidden, and a link and the file know of it", async (t) => {
  const here = await openSheet(visit, t, `${CMOS}&step=c2`);
  const masks = new Masks(here.page);
  await masks.levelWords("NWELL", /openings.*Printed 1 of 3 times so far/);
  await masks.levelWords("METAL", /chrome.*Not printed yet/);
  const before = await masks.look();
  await masks.shown("METAL").uncheck();
  await masks.shown("CONTACT").uncheck();
  const hash = await here.addressed(/hide=METAL,CONTACT/);
  const fewer = await masks.looksOther(before);
  const there = await openSheet(visit, t, hash);
  const others = new Masks(there.page);
  await others.levelWords("METAL", /chrome/);
  await others.ticked("METAL", false);
  await others.looks(fewer);
  await others.shown("METAL").check();
  await others.shown("CONTACT").check();
  await others.looks(before);
  const strange = await openSheet(visit, t, `${CMOS}&step=c2&hide=METAL,NOWHERE`);
  await strange.page.locator("#notices", { hasText: /hide: .*NOWHERE/ }).waitFor();
  await new Masks(strange.page).ticked("METAL", false);
});

test("changed figures make a short link that shows them in a fresh profile", async (t) => {
  const here = await openSheet(visit, t, `${CMOS}&step=c1`);
  const masks = new Masks(here.page);
  await masks.change("CONTACT");
  await masks.field("figure").selectOption("0");
  await masks.type("box-x1", "5.5");
  const hash = await here.addressed(/edit=.*CONTACT.*5\.5/);
  assert.ok(hash.length <= 600, `${hash.length} characters`);
  assert.doesNotMatch(hash, /hide=/);
  const there = await openSheet(visit, t, hash);
  const others = new Masks(there.page);
  await others.change("CONTACT");
  await others.field("figure").selectOption("0");
  await others.boxed(["5.5", "10", "8", "12"]);
  const strange = hash.replaceAll("CONTACT", "NOWHERE");
  const refused = await openSheet(visit, t, strange);
  await refused.page.locator("#notices", { hasText: /there is no mask level NOWHERE/ }).waitFor();
});

for (const { name, options } of [
  { name: "light", options: { colorScheme: /** @type {const} */ ("light") } },
  { name: "dark", options: { colorScheme: /** @type {const} */ ("dark") } },
  { name: "360 px", options: { width: 360, height: 740 } },
  { name: "forced colors", options: { forcedColors: /** @type {const} */ ("active") } },
]) {
  test(`${name}: no violation while a mask is being changed, and it fits`, async (t) => {
    const sheet = await openSheet(visit, t, `${CMOS}&step=poly-expose`, { ...options, initScript });
    const masks = new Masks(sheet.page);
    await masks.change("CONTACT");
    await masks.field("figure").selectOption("3");
    await masks.handle("2,3").waitFor();
    await masks.type("box-x1", "nonsense");
    await masks.refused("box", /not a number/);
    assert.ok(await sheet.fitsWidth(), "no sideways scrolling of the page");
    assert.deepEqual(await masks.violations(), []);
  });
}
