// A check of the check of the sheet at the bench: a good sheet with one fault planted in it must be refused for it.

import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { checkBench } from "./bench.mjs";
import { PLANTED } from "./faults.mjs";

const swap = (from, to) => (html) => html.replace(from, to);
const rules = (css) => (html) => html.replace("</style>", `${css}</style>`);
const FAULTS = [
  ["inline", swap("</main>", '<p onclick="alert()">touched</p></main>')],
  ["height", rules("@media screen{.tap{min-height:30px!important;height:30px!important}}")],
  ["height", rules("@media screen{.rows tr{min-height:0!important;height:40px!important;overflow:hidden}}")],
  ["fields", rules("@media (max-width:560px){td.w{display:none!important}}")],
  ["tap", swap("set(i, { done: time }))", 'set(i, { done: "00:01" }))')],
  ["write", swap('.replace(",", ".")', "")],
  ["now", swap("row.tr.scrollIntoView", "row.tr.getAttribute")],
  ["now", swap("again ? (after < 0 ? first : after) : first", "first")],
  ["undo", swap("known = JSON.parse(before);", "")],
  ["reload", swap("localStorage.setItem(KEY, JSON", 'localStorage.setItem(KEY + "?", JSON')],
  ["units", swap("celsius * 1.8 + 32", "celsius * 1.8 + 30")],
  ["print", rules("@media print{.tools{display:block!important}}")],
  ["print", rules("@media print{.w input::placeholder{color:red!important}}")],
  ["notes", swap("lines = [`notes: 1`]", "lines = [`note: 1`]")],
  ["notes", swap('step.on ? "begun" : "done"', '"finished"')],
  ["notes", swap("${number(step.order, step.lot)}, pieces", "${step.lot + 40}, pieces")],
  ["minute", swap("at.date > into.date && at.time >= into.time", "false"), swap("&& !shifted(row.date)", "")],
  ["spoilt", swap('row.done === "" || ', "true || ")],
  ["sheet", swap("${sheets.dataset.sheet}", "of today")],
  ["denied", swap("Object.keys(localStorage).filter", "Object.keys([]).filter"), swap("denied = !(error instanceof SyntaxError)", "denied = false"), swap("denied = true;\n    }\n  };\n  const clearOld", "denied = false;\n    }\n  };\n  const clearOld")],
];

export async function checkBenchFaults(browser, good, dir, program) {
  const wrong = [];
  const html = readFileSync(good.path, "utf8");
  const folder = join(dir, PLANTED);
  mkdirSync(folder, { recursive: true });
  const path = join(folder, "bench.html");
  for (const [kind, ...plants] of FAULTS) {
    let page = html;
    for (const plant of plants) {
      const planted = plant(page);
      if (planted === page) wrong.push(`the fault of ${kind} could not be planted: ${plant}`);
      page = planted;
    }
    writeFileSync(path, page);
    const found = await checkBench(browser, { ...good, path }, program);
    if (!found.some((fault) => fault.startsWith(`bench: ${kind}:`))) {
      wrong.push(`a fault of ${kind} is not seen; told instead: ${found.slice(0, 2).join("; ") || "nothing"}`);
    }
  }
  return wrong;
}
