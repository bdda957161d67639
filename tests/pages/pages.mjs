// The report as people meet it: on screens of three widths, light and dark, on paper, without a script, and heard.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

import { withPage } from "./browser.mjs";
import { lookAt, references, shorten, sticksOut } from "./geometry.mjs";
import { HOSTILE, HOSTILE_DEVICE, run } from "./plans.mjs";

const WIDTHS = [360, 768, 1280];
const SCHEMES = ["light", "dark"];
/** Largest page, in bytes. */
const LARGEST = 2e6;
/** Seconds that writing and loading may take each; twice that fails, for the machine may be busy. */
const SLOW = 1;
/** Pixels that a sheet leaves between the margins of the page's own style sheet: 13 mm each. */
const PAPER = { A4: Math.floor(((210 - 26) * 96) / 25.4), Letter: Math.floor(((215.9 - 26) * 96) / 25.4) };

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const openAll = (page) => page.evaluate(() => {
  for (const one of document.querySelectorAll("details")) one.open = true;
});

/** Writes the report of a plan; the same bytes twice, small and soon. */
export function write(command, plan, work, fault, say) {
  const args = ["report", plan.plan, ...plan.readings];
  const runs = [1, 2, 3].map(() => run(command, args));
  if (runs.some((one) => one.text !== runs[0].text)) fault("two runs differ");
  const bytes = Buffer.byteLength(runs[0].text);
  if (bytes > LARGEST) fault(`the page has ${bytes} bytes, more than ${LARGEST}`);
  const seconds = median(runs.map((one) => one.seconds));
  if (seconds > 2 * SLOW) fault(`the report takes ${seconds.toFixed(2)} s`);
  else if (seconds > SLOW) say(`slow: the report takes ${seconds.toFixed(2)} s`);
  const file = join(work, `${plan.name}.html`);
  writeFileSync(file, runs[0].text);
  return { url: pathToFileURL(file).href, bytes, seconds };
}

/** How soon it is painted and loaded, in seconds: medians of three. */
export async function load(browser, url, fault, say) {
  const times = [];
  for (let at = 0; at < 3; at += 1) {
    times.push(await withPage(browser, { viewport: { width: 1280, height: 900 } }, fault, async (page) => {
      await page.goto(url, { waitUntil: "load" });
      return page.evaluate(() => new Promise((done) => {
        requestAnimationFrame(() => setTimeout(() => done({
          paint: (performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? 0) / 1e3,
          load: performance.getEntriesByType("navigation")[0].loadEventEnd / 1e3,
        }), 50));
      }));
    }));
  }
  const found = { paint: median(times.map((one) => one.paint)), load: median(times.map((one) => one.load)) };
  const slowest = Math.max(found.paint, found.load);
  if (slowest > 2 * SLOW) fault(`it takes ${slowest.toFixed(2)} s to load`);
  else if (slowest > SLOW) say(`slow: it takes ${slowest.toFixed(2)} s to load`);
  return found;
}

/** What axe finds: all its rules once, contrast in every scheme and width. */
async function listen(page, axe, whole, fault) {
  await page.evaluate(axe);
  const found = await page.evaluate(async (whole) => {
    const options = whole ? {} : { runOnly: { type: "rule", values: ["color-contrast"] } };
    const result = await window.axe.run(document, { ...options, resultTypes: ["violations"] });
    return {
      faults: result.violations.flatMap((rule) => rule.nodes.slice(0, 4).map((node) =>
        `axe ${rule.id}: ${node.target.join(" ")}: ${(node.any[0] ?? node.all[0] ?? node.none[0])?.message ?? rule.help}`)),
      contrast: result.passes.find((rule) => rule.id === "color-contrast")?.nodes.length ?? 0,
    };
  }, whole);
  found.faults.forEach(fault);
  if (found.contrast === 0) fault("axe has judged no contrast");
}

/** Widths and schemes: nothing sticks out, axe is content, and letters in pictures are legible. */
export async function screens(browser, axe, url, fault) {
  for (const colorScheme of SCHEMES) {
    const told = (width) => (text) => fault(`${width} px, ${colorScheme}: ${text}`);
    await withPage(browser, { colorScheme, viewport: { width: 1280, height: 900 } }, told(1280), async (page) => {
      await page.goto(url);
      for (const width of [...WIDTHS].reverse()) {
        await page.setViewportSize({ width, height: 900 });
        const say = told(width);
        // Folded and open: what is folded may still be too wide.
        if (colorScheme === "light") (await page.evaluate(sticksOut, false)).forEach(say);
        await openAll(page);
        (await page.evaluate(sticksOut, false)).forEach(say);
        if (width === 1280) await pictures(page, colorScheme, say);
        // All of axe's rules once each; colours do not change the others.
        if (width !== 768) await listen(page, axe, colorScheme === "light", say);
        if (colorScheme === "light") {
          await page.evaluate(() => {
            for (const one of document.querySelectorAll("details")) one.open = false;
          });
        }
      }
    });
  }
}

/** Every picture on the page. */
async function pictures(page, colorScheme, fault) {
  for (const handle of await page.$$("svg.pic")) {
    const id = await handle.$eval("title", (title) => title.id);
    const lines = id.startsWith("diagram-picture") ? ".wire,.bar" : null;
    const { faults } = await handle.evaluate(lookAt, { lines, ground: null });
    // Geometry is the same in the dark.
    shorten(faults.filter((text) => colorScheme === "light" || text.includes("contrast"))).forEach((text) => fault(`${id}: ${text}`));
  }
}

/** On paper: nothing beyond the sheet, and how many sheets it takes. */
export async function paper(browser, url, work, name, fault) {
  const sheets = {};
  for (const [format, width] of Object.entries(PAPER)) {
    const told = (text) => fault(`${format}, ${width} px: ${text}`);
    await withPage(browser, { viewport: { width, height: 1000 } }, told, async (page) => {
      await page.goto(url);
      await page.emulateMedia({ media: "print" });
      const print = async (what) => {
        (await page.evaluate(sticksOut, true)).forEach(told);
        // Chromium repeats heads of tables only where they hold no box, such as a button.
        const boxes = await page.$$eval("table:not(.wide) th button", (all) => all.filter((one) => getComputedStyle(one).display !== "contents").length);
        if (boxes > 0) told(`${boxes} heads of tables are not repeated on the next sheet`);
        const path = format === "A4" ? join(work, `${name}-${what}.pdf`) : undefined;
        const pdf = await page.pdf({ format, preferCSSPageSize: false, path });
        const count = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
        if (count === 0) told("the printed page has no sheets");
        sheets[`${format} ${what}`] = count;
      };
      await print("folded");
      await openAll(page);
      await print("open");
    });
  }
  return sheets;
}

/** Links, the script's tools, and the page without a script. */
export async function works(browser, url, plan, fault) {
  const text = () => document.querySelector("main").cloneNode(true);
  const words = (page) => page.evaluate(`(() => {
    const main = (${text})();
    main.querySelector(".tools").textContent = "";
    return main.textContent;
  })()`);
  const folds = (page) => page.$$eval("details", (all) => [all.length, all.filter((one) => one.open).length]);
  const scripted = await withPage(browser, { viewport: { width: 1280, height: 900 } }, fault, async (page) => {
    await page.goto(url);
    (await page.evaluate(references)).forEach(fault);
    const said = await words(page);
    if (plan.name === "hostile") await literal(page, fault);
    await sorts(page, fault);
    await page.click(".tools button:has-text('Open all')");
    let [all, open] = await folds(page);
    if (open !== all) fault(`"open all" opens ${open} of ${all}`);
    await page.click(".tools button:has-text('Fold')");
    [all, open] = await folds(page);
    if (open !== 0) fault(`"fold" leaves ${open} of ${all} open`);
    await follows(page, fault);
    return said;
  });
  await withPage(browser, { javaScriptEnabled: false, viewport: { width: 1280, height: 900 } }, fault, async (page) => {
    await page.goto(url);
    if ((await words(page)) !== scripted) fault("without a script the page says something else");
    if ((await page.$$(".tools button, th button")).length > 0) fault("without a script there are buttons that do nothing");
    const closed = page.locator("details:not([open]) > summary").first();
    if (await closed.count()) {
      const handle = await closed.elementHandle();
      await handle.click();
      if (!(await handle.evaluate((one) => one.parentElement.open))) fault("without a script a fold does not open");
    }
  });
}

/** Text that is markup shows as it was written. */
async function literal(page, fault) {
  const { title, body, strange } = await page.evaluate(() => ({
    title: document.title,
    body: document.body.textContent,
    strange: document.querySelectorAll("body b, body img, main script, svg script").length,
  }));
  if (!title.includes(HOSTILE)) fault(`the title is ${title}`);
  if (!body.includes(HOSTILE) || !body.includes(HOSTILE_DEVICE)) fault("a name is not shown as it was written");
  if (strange > 0) fault(`${strange} elements were made by names`);
}

/** Every head of a few tables sorts both ways and loses no row. */
async function sorts(page, fault) {
  const faults = await page.evaluate(() => {
    const out = [];
    const value = (text) => {
      const found = text.trim().replace("−", "-").match(/^[+-]?[0-9.]+(e[+-]?[0-9]+)?/i);
      return found ? parseFloat(found[0]) : null;
    };
    const tables = [...document.querySelectorAll("table.sorts")].filter((table) => table.tBodies[0].rows.length > 2);
    if (tables.length === 0) out.push("there is no table to sort");
    for (const table of tables.slice(0, 8)) {
      const before = [...table.tBodies[0].rows].map((row) => row.textContent).sort().join("\n");
      [...table.tHead.rows[0].cells].forEach((head, column) => {
        const button = head.querySelector("button");
        if (!button) return out.push(`${table.caption.textContent}: ${head.textContent} has no button`);
        const cells = () => [...table.tBodies[0].rows].map((row) => row.cells[column].textContent);
        for (const way of ["ascending", "descending"]) {
          button.click();
          const where = `${table.caption.textContent}, ${head.textContent}, ${way}`;
          if (head.getAttribute("aria-sort") !== way) out.push(`${where}: is not told`);
          if (table.querySelectorAll("[aria-sort]").length !== 1) out.push(`${where}: several heads say that they sort`);
          const sign = way === "ascending" ? 1 : -1;
          const numbers = head.classList.contains("num") ? cells().map(value).filter((one) => one !== null) : [];
          if (numbers.some((one, at) => at > 0 && sign * (one - numbers[at - 1]) < 0)) out.push(`${where}: ${numbers.join(" ")}`);
          const words = cells();
          if (!head.classList.contains("num") && words.every((one) => !/^[-+0-9]/.test(one))
            && words.some((one, at) => at > 0 && sign * one.localeCompare(words[at - 1], undefined, { numeric: true }) < 0)) {
            out.push(`${where}: ${words.slice(0, 6).join(" | ")}`);
          }
        }
        return null;
      });
      const after = [...table.tBodies[0].rows].map((row) => row.textContent).sort().join("\n");
      if (after !== before) out.push(`${table.caption.textContent}: rows were lost`);
    }
    return out;
  });
  faults.slice(0, 8).forEach(fault);
}

/** A link into something folded opens it. */
async function follows(page, fault) {
  const found = await page.evaluate(async () => {
    const target = document.querySelector("details[id]");
    if (!target) return true;
    location.hash = target.id;
    await new Promise((done) => setTimeout(done, 100));
    return target.open;
  });
  if (!found) fault("a link into something folded does not open it");
}
