// Every picture as a file of its own.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

import { withPage } from "./browser.mjs";
import { lookAt, shorten } from "./geometry.mjs";
import { run } from "./plans.mjs";

const NAMES = ["diagram", "margins", "temperatures", "voltage", "fuses", "charge"];
const MEASURED = ["joints", "readings"];

/** Pictures that need no plan. */
export const ALONE = {
  cable: ["cable", "--current", "40A", "--length", "5.5m", "--voltage", "12V", "--format", "svg"],
  curve: ["curve", "--fuse", "100A class-t", "--fuse", "40A blade-e", "--conductor", "16mm2", "--load", "30A", "--format", "svg"],
};

/** The arguments of every picture of a plan; one without stays has no charge. */
export function wanted({ name, plan, readings }, stays) {
  const names = [...NAMES.filter((one) => stays || one !== "charge"), ...(readings.length > 0 ? MEASURED : [])];
  return names.map((picture) => [`${name}-${picture}`, ["draw", plan, picture, ...(MEASURED.includes(picture) ? readings : [])]]);
}

/** What holds for the file before anything is drawn. */
function form() {
  const root = document.documentElement;
  const faults = [];
  if (document.contentType !== "image/svg+xml" || root.tagName !== "svg" || document.querySelector("parsererror")) {
    return ["is no well-formed SVG"];
  }
  for (const name of ["title", "desc"]) {
    const found = [...root.children].find((child) => child.tagName === name);
    if (!found?.textContent.trim()) faults.push(`has no <${name}>`);
    const attribute = name === "title" ? "aria-labelledby" : "aria-describedby";
    if (!found?.id || root.getAttribute(attribute) !== found.id) faults.push(`${attribute} does not lead to its <${name}>`);
  }
  if (root.getAttribute("role") !== "img") faults.push("is not told as a picture");
  if (!(root.width.baseVal.value > 100 && root.height.baseVal.value > 60)) faults.push("has no size");
  const ids = [...document.querySelectorAll("[id]")].map((one) => one.id);
  if (new Set(ids).size !== ids.length) faults.push("has an id twice");
  for (const element of document.querySelectorAll("*")) {
    if (["script", "image", "foreignObject", "use", "a"].includes(element.tagName)) faults.push(`holds a <${element.tagName}>`);
    for (const { name, value } of element.attributes) {
      if (name.startsWith("on") || /href|src/.test(name) || /url\(/.test(value)) faults.push(`refers by ${name} to ${value}`);
    }
  }
  if (/url\(|@import/.test(root.querySelector("style").textContent)) faults.push("its style sheet refers to something");
  return faults;
}

/** Draws one picture twice and looks at it, light and dark. Gives the numbers of its texts. */
export async function picture(browser, command, work, [name, args], fault) {
  const [one, other] = [run(command, args), run(command, args)];
  if (one.text !== other.text) fault("two runs differ");
  const file = join(work, `${name}.svg`);
  writeFileSync(file, one.text);
  let texts = 0;
  for (const [colorScheme, ground] of [["light", "rgb(253, 252, 249)"], ["dark", "rgb(21, 24, 27)"]]) {
    const told = (text) => fault(`${colorScheme}: ${text}`);
    await withPage(browser, { colorScheme, viewport: { width: 1280, height: 900 } }, told, async (page) => {
      await page.goto(pathToFileURL(file).href);
      const bad = await page.evaluate(form);
      bad.forEach(told);
      if (bad.some((text) => text.includes("well-formed"))) return;
      const root = await page.$("svg");
      const lines = name.endsWith("diagram") ? ".wire,.bar" : null;
      const found = await root.evaluate(lookAt, { lines, ground });
      // Geometry is the same in the dark.
      shorten(colorScheme === "light" ? found.faults : found.faults.filter((text) => text.includes("contrast"))).forEach(told);
      texts = found.texts;
      if (texts === 0) told("has no text");
    });
  }
  return { file, texts };
}

/** Dashes of the five series, by the style sheet itself. */
export async function dashes(browser, file, fault) {
  await withPage(browser, {}, fault, async (page) => {
    await page.goto(pathToFileURL(file).href);
    const found = await page.evaluate(() => [1, 2, 3, 4, 5].map((at) => {
      const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
      path.setAttribute("class", `s${at}`);
      document.documentElement.append(path);
      return getComputedStyle(path).strokeDasharray;
    }));
    if (new Set(found).size !== 5) fault(`series have the dashes ${found.join(" | ")}`);
  });
}
