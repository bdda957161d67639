// The plans that are looked at: what ships, a large one, and one whose names are markup.
import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";

/** A name that would run a script, or leave its attribute or element, if it were not escaped. */
export const HOSTILE = `<script>alert(1)</script> & '"><img src=x onerror=alert(2)> ]]> <!-- &lt;`;
/** The same for a device: its name has at most 40 characters and no full stop. */
export const HOSTILE_DEVICE = `<b>&amp;"'</b>"><img src=x onerror=f(3)>`;
/** As wide as a name can be. */
export const WIDE_DEVICE = "WIDE-WATER-WORKS-WITHIN-WORKSHOP-WINDOWS";

const READINGS = { "veterinary-van": "veterinary-van.csv", "river-launch": "river-launch.toml" };

/** The launch with four more circuits: more than sixty runs. */
function large(launch) {
  let out = launch;
  for (let at = 1; at <= 4; at += 1) {
    const name = `instrument-rack-in-the-forward-locker-${at}`;
    out += `
[loads.${name}]
power = "${10 * at} W"
hours = ["08:00 to 17:00"]
[circuits.${name}]
from = "board"
return = "board-negative"
to = "${name}"
route = ["${2 + at} m in wheelhouse"]
fuse = "auto"
`;
  }
  return out;
}

/** The hut with markup for names, notes and reasons. */
function hostile(hut) {
  const [name, device] = [HOSTILE, HOSTILE_DEVICE].map((text) => JSON.stringify(text));
  return hut
    .replace("[loads.radio]", `[loads.${WIDE_DEVICE}]`)
    .replace("[circuits.radio]", `[circuits.${WIDE_DEVICE}]`)
    .replaceAll('"radio"', `"${WIDE_DEVICE}"`)
    .replace(/^name = .*$/m, () => `name = ${name}\nnote = ${name}`)
    .replace("[defaults]", () => `[limits.drop-general]\nvalue = "9 %"\nreason = ${name}\n\n[defaults]`)
    .replaceAll("loads.lamps", () => `loads.${device}`)
    .replaceAll("circuits.lamps", () => `circuits.${device}`)
    .replaceAll('"lamps"', () => device);
}

/** Every plan: its name, and the arguments by which the command reads it. */
export function plans(root, work) {
  const folder = join(root, "examples/plans");
  const shipped = readdirSync(folder)
    .filter((file) => file.endsWith(".toml"))
    .sort()
    .map((file) => {
      const name = basename(file, ".toml");
      const readings = READINGS[name] && ["--readings", join(root, "examples/readings", READINGS[name])];
      return { name, plan: join(folder, file), readings: readings ?? [] };
    });
  mkdirSync(join(work, "plans"), { recursive: true });
  const made = [
    ["sixty-runs", large(readFileSync(join(folder, "river-launch.toml"), "utf8"))],
    ["hostile", hostile(readFileSync(join(folder, "mountain-hut.toml"), "utf8"))],
  ].map(([name, text]) => {
    const plan = join(work, "plans", `${name}.toml`);
    writeFileSync(plan, text);
    return { name, plan, readings: [] };
  });
  return [...shipped, ...made];
}

/** What the command writes, and how long the whole process took; a plan that does not hold ends with 1. */
export function run(command, args) {
  const start = process.hrtime.bigint();
  const done = spawnSync(command, args, { encoding: "utf8", maxBuffer: 1 << 26 });
  const seconds = Number(process.hrtime.bigint() - start) / 1e9;
  if (done.error || !done.stdout) throw new Error(`${command} ${args.join(" ")}: ${done.error ?? done.stderr}`);
  return { text: done.stdout, seconds };
}
