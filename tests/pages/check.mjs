// Writes pages with the program and checks them in a real browser. Usage:
//
//   node check.mjs PROGRAM [--shots DIR] [--keep DIR]
//
// PROGRAM is a built tankday. Ends with status 1 and a list of what is wrong; first proves on planted faults that it
// can fail. Needs Chromium, rsvg-convert and pdftotext; .ci/run installs them.

import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { checkBench } from "./bench.mjs";
import { checkBenchFaults } from "./bench_faults.mjs";
import { opened, closed } from "./browser.mjs";
import { checkPage } from "./page.mjs";
import { checkPictures } from "./pictures.mjs";
import { PLANTED, checkFaults } from "./faults.mjs";
import { WITHOUT_PICTURES, write } from "./write.mjs";

const [typed, ...rest] = process.argv.slice(2);
if (!typed) {
  console.error("usage: node check.mjs PROGRAM [--shots DIR] [--keep DIR]");
  process.exit(2);
}
const program = resolve(typed);
const option = (name) => {
  const at = rest.indexOf(name);
  return at < 0 ? undefined : rest[at + 1];
};

const dir = option("--keep") ?? mkdtempSync(join(tmpdir(), "tankday-pages-"));
const found = [];
const tell = (where, faults) => {
  console.log(`${faults.length === 0 ? "ok  " : "BAD "} ${where}`);
  for (const fault of faults) {
    console.log(`     ${fault}`);
    found.push(`${where}: ${fault}`);
  }
};

try {
  const pages = write(program, dir);
  const browser = await opened();
  try {
    tell("planted faults are refused", await checkFaults(browser, pages[0], dir));
    const benches = pages.filter((page) => page.bench);
    tell("planted faults of the bench are refused", await checkBenchFaults(browser, benches[0], dir, program));
    for (const page of benches) tell(`${page.name} at the bench`, await checkBench(browser, page, program));
    for (const page of pages) {
      tell(page.name, await checkPage(browser, page, { shots: option("--shots") }));
    }
  } finally {
    await closed(browser);
  }
  for (const folder of readdirSync(dir, { withFileTypes: true })) {
    const drawn = folder.isDirectory() && ![PLANTED, ...WITHOUT_PICTURES].includes(folder.name);
    if (drawn) tell(`${folder.name}/*.svg`, checkPictures(join(dir, folder.name)));
  }
} finally {
  if (!option("--keep")) rmSync(dir, { recursive: true, force: true });
}
if (found.length > 0) {
  console.error(`${found.length} faults`);
  process.exit(1);
}
