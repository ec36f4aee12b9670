// The page on paper: how many sheets, and no chart cut between two of them.

import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const FORMATS = ["A4", "Letter"];
// What is left of a sheet between its margins of 14 mm, in px of 96 to the inch.
const ROOM = { A4: Math.floor(((210 - 28) / 25.4) * 96), Letter: Math.floor(((215.9 - 28) / 25.4) * 96) };

export async function checkPaper(page, [fewest, most]) {
  const wrong = [];
  const dir = mkdtempSync(join(tmpdir(), "tankday-paper-"));
  try {
    for (const format of FORMATS) {
      const file = join(dir, `${format}.pdf`);
      await page.emulateMediaType("print");
      await page.pdf({ path: file, format, printBackground: true, preferCSSPageSize: true });
      const sheets = words(file);
      if (sheets.length < fewest || sheets.length > most) {
        wrong.push(`paper: ${sheets.length} sheets of ${format} where ${fewest} to ${most} are expected`);
      }
      wrong.push(...(await cut(page, sheets)).map((id) => `paper: ${id} is cut between two sheets of ${format}`));
      wrong.push(...(await wide(page, ROOM[format])).map((what) => `paper: ${what} is wider than a sheet of ${format}`));
      await page.emulateMediaType(null);
    }
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
  return wrong;
}

// Tables, texts and pictures that reach beyond the sheet: what lies there is cut off.
async function wide(page, room) {
  const before = page.viewport();
  await page.setViewport({ width: room, height: 1000 });
  const found = await page.evaluate((room) => {
    const folds = [...document.querySelectorAll("details:not([open])")];
    for (const fold of folds) fold.open = true;
    const all = [...document.querySelectorAll("table, pre, p, svg[role=img]")];
    const out = all.filter((e) => e.getBoundingClientRect().width > 0 && e.getBoundingClientRect().right > room + 1);
    for (const fold of folds) fold.open = false;
    return out.map((e) => `${e.localName} "${(e.querySelector("caption, title") ?? e).textContent.slice(0, 40)}"`);
  }, room);
  await page.setViewport(before);
  return found;
}

// The words of each sheet with how often each occurs.
function words(file) {
  const text = execFileSync("pdftotext", ["-raw", file, "-"], { encoding: "utf8" });
  const sheets = text.split("\f");
  if (sheets.at(-1).trim() === "") sheets.pop();
  return sheets.map((sheet) => count(sheet.split(/\s+/)));
}

function count(words) {
  const counts = new Map();
  for (const word of words.filter((w) => w !== "")) counts.set(word, (counts.get(word) ?? 0) + 1);
  return counts;
}

// Charts whose words do not stand all on one sheet.
async function cut(page, sheets) {
  const charts = await page.evaluate(() =>
    [...document.querySelectorAll(".pic")].map((pic) => {
      const svg = [...pic.querySelectorAll("svg[role=img]")].find((s) => s.getBoundingClientRect().width > 0);
      const texts = svg ? [...svg.querySelectorAll("text")].map((t) => t.textContent) : [];
      return { id: pic.id, texts };
    }),
  );
  const whole = (chart) => {
    const needed = count(chart.texts.join(" ").split(/\s+/));
    return sheets.some((sheet) => [...needed].every(([word, n]) => (sheet.get(word) ?? 0) >= n));
  };
  return charts.filter((c) => c.texts.length > 0 && !whole(c)).map((c) => c.id);
}
