// Looks at every report and picture in a browser: `node tests/pages/run.mjs target/release/loomwright [PLAN…]`.
// Packages are those installed under target/pages; nothing is fetched.
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

import { launch, packages } from "./browser.mjs";
import { load, paper, screens, works, write } from "./pages.mjs";
import { ALONE, dashes, picture, wanted } from "./pictures.mjs";
import { plans } from "./plans.mjs";

const [given, ...only] = process.argv.slice(2);
if (!given) {
  console.error("usage: node tests/pages/run.mjs COMMAND [PLAN…]");
  process.exit(2);
}
const command = resolve(given);
const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
const work = join(root, "target/pages");
mkdirSync(work, { recursive: true });
const { chromium, axe } = packages(work);

const faults = new Set();
const fault = (where) => (text) => {
  const line = `${where}: ${text}`;
  if (faults.has(line)) return;
  faults.add(line);
  console.error(`fault: ${line}`);
};
const say = (where) => (text) => console.log(`   ${where}: ${text}`);
const browser = await launch(chromium);
const files = [];
try {
  const looked = async (plan) => {
    const [bad, info] = [fault(plan.name), say(plan.name)];
    const page = write(command, plan, work, bad, info);
    const { paint, load: loaded } = await load(browser, page.url, bad, info);
    await works(browser, page.url, plan, bad);
    await screens(browser, axe, page.url, bad);
    const sheets = await paper(browser, page.url, work, plan.name, bad);
    info(`${(page.bytes / 1e3).toFixed(0)} kB, written in ${page.seconds.toFixed(2)} s, painted after ${paint.toFixed(2)} s, `
      + `loaded after ${loaded.toFixed(2)} s; sheets: ${Object.entries(sheets).map(([what, count]) => `${what} ${count}`).join(", ")}`);
    const stays = /^\[stays\./m.test(readFileSync(plan.plan, "utf8"));
    for (const one of wanted(plan, stays)) files.push((await picture(browser, command, work, one, fault(one[0]))).file);
  };
  // Two at a time, the largest first.
  const waiting = plans(root, work).filter(({ name }) => only.length === 0 || only.includes(name))
    .sort((one, other) => statSync(other.plan).size - statSync(one.plan).size);
  const worker = async () => {
    for (let plan = waiting.shift(); plan; plan = waiting.shift()) await looked(plan);
  };
  await Promise.all([worker(), worker()]);
  for (const one of Object.entries(ALONE)) files.push((await picture(browser, command, work, one, fault(one[0]))).file);
  await dashes(browser, files.at(-1), fault("style sheet"));
} finally {
  await browser.close();
}

// A second reader of XML, stricter about some things than a browser.
const parse = "import sys, xml.etree.ElementTree as e\nfor f in sys.argv[1:]: e.parse(f)";
const python = spawnSync("python3", ["-c", parse, ...files], { encoding: "utf8" });
if (python.status !== 0) fault("pictures")(python.stderr.trim().split("\n").at(-1));

console.log(`   ${files.length} pictures, ${faults.size} faults`);
process.exit(faults.size > 0 ? 1 : 0);
