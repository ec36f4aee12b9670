// Writes the pages that are checked: every kind, from the shipped scenarios.

import { execFileSync } from "node:child_process";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));
const scenario = (name) => join("scenarios", `${name}.yaml`);
// A day whose sheet takes two sheets of paper, and whose pages are worked by at the bench.
const FIRST_DAY = join("tests", "data", "mixed-day-first.yaml");

// Each folder: what is typed, and its pages with the sheets of paper that they may take, A4 and Letter alike. The text
// keeps its size: where something is wider than the sheet, a browser shrinks the whole page, and fewer sheets are no gain.
const FOLDERS = [
  ["mixed", ["run", FIRST_DAY], { "report.html": [8, 14], "day-sheet.html": [2, 2] }],
  ["sure", ["run", FIRST_DAY, "--replications", "60"], { "report.html": [8, 15] }],
  ["two-days", ["run", scenario("two-day"), "--replications", "20"], { "report.html": [7, 12], "day-sheet.html": [2, 4] }],
  ["hundred", ["run", join("tests", "pages", "hundred-deeds.yaml")], { "day-sheet.html": [2, 2] }],
  ["first", ["run", scenario("first-day")], { "report.html": [6, 10], "day-sheet.html": [1, 1] }],
  ["worn", ["run", scenario("worn-bath")], { "report.html": [6, 12], "day-sheet.html": [1, 6] }],
  ["compare", ["compare", scenario("one-large-tank"), scenario("two-small-tanks"), scenario("with-lid"), "--replications", "20"],
    { "report.html": [2, 12] }],
  ["sweep", ["sweep", FIRST_DAY, "--vary", "tanks.black tank.fill=10 L..22 L/5", "--replications", "20"],
    { "report.html": [2, 8] }],
  ["planned", ["compare", FIRST_DAY, join("tests", "pages", "two-hands.yaml"), "--replications", "20", "--planned"],
    { "report.html": [2, 12] }],
  ["plan", ["plan", FIRST_DAY, "--effort", "quick", "--what-helps"], { "report.html": [8, 16], "day-sheet.html": [2, 2] }],
  ["load", ["load", scenario("mixed-day"), "--load", "250 wood screws + 25 lateral levers", "--at", "88 °C"], { "load.html": [1, 3] }],
  ["mix", ["mix", scenario("fresh-bath"), "--from", "carbonate"], { "mix.html": [1, 2] }],
  ["quote", ["quote", scenario("quoted-day"), "--order", "60 wood screws, small steel"], { "quote.html": [1, 3] }],
  ["quotes", ["quote", scenario("quoted-day")], { "quote.html": [1, 2] }],
];

const AT_THE_BENCH = ["mixed", "hundred"];
// Pages without pictures beside them.
export const WITHOUT_PICTURES = ["load", "mix", "quote", "quotes"];

export function write(program, dir) {
  const pages = [];
  for (const [folder, words, files] of FOLDERS) {
    const out = join(dir, folder);
    try {
      execFileSync(resolve(program), [...words, "--quiet", "--out", out], { cwd: root, stdio: ["ignore", "ignore", "pipe"] });
    } catch (error) {
      // Status 3 says that the day cannot be done as described; its report is written all the same.
      if (error.status !== 3) throw new Error(`${words.join(" ")}: ${error.stderr}`);
    }
    for (const [file, sheets] of Object.entries(files)) {
      // The sheet of a single day can be worked by: what is ticked on it is noted, and the rest planned.
      const bench = file === "day-sheet.html" && AT_THE_BENCH.includes(folder) ? { scenario: words[1], root } : undefined;
      pages.push({ name: `${folder}/${file}`, path: join(out, file), sheets, bench });
    }
  }
  return pages;
}
