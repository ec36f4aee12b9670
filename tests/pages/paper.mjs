// The page on paper: how many sheets, and no chart cut between two of them.

import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const FORMATS = ["A4", "Letter"];

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
      await page.emulateMediaType(null);
    }
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
  return wrong;
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
