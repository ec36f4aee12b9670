// A check of the check: a good page with one fault planted in it must be refused, and for that fault.

import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { checkPage } from "./page.mjs";
import { checkPictures } from "./pictures.mjs";

export const PLANTED = "planted";

const before = (end, what) => (html) => html.replace(end, `${what}${end}`);
const FAULTS = [
  ["network", before("</main>", '<img src="https://example.invalid/a.png" alt="elsewhere">')],
  ["console", before("</body>", "<script>throw new Error('planted')</script>")],
  ["scroll", before("</main>", '<div class="planted">wide</div>'), ".planted{width:1500px}"],
  ["axe", before("</main>", '<p class="planted">pale</p>'), ".planted{color:#ddd;background:#eee}"],
  ["keyboard", before("</main>", '<a href="#answer" tabindex="-1">not reached</a>')],
  ["keyboard", (html) => html, "summary:focus-visible{outline:none}"],
  ["html", before("</main>", "<p><div>a block in a paragraph</div></p>")],
  ["touch", (html) => html.replace('.join("\\n");', '.join("\\n").slice(1);')],
  ["touch", (html) => html.replace("v * 1.8 + 32", "v * 1.8 + 30")],
  ["touch", (html) => html.replace("rows.sort(", "[...rows].sort(")],
  ["ids", before("</main>", '<p id="answer">the same id again</p>')],
  ["look", (html) => html, "body{background:#123456}"],
  [
    "paper: pic-day is cut",
    (html) => html.replaceAll('role="img"', 'preserveAspectRatio="none" role="img"'),
    "@media print{.keep,.pic{break-inside:auto!important}.pic svg{max-height:none!important;width:100%!important;height:1900px!important}}",
  ],
  ["paper", before("</main>", '<div class="planted"></div>'), "@media print{.planted{height:9000mm}}"],
  ["blank", (html) => html, ".pic::after{content:'';position:absolute;inset:0;background:var(--paper)}"],
  ["pictures", (html) => html, ".pic .p,.pic .x,.pic .n{display:block!important}"],
];

export async function checkFaults(browser, good, dir) {
  const wrong = [];
  const html = readFileSync(good.path, "utf8");
  const folder = join(dir, PLANTED);
  mkdirSync(folder, { recursive: true });
  const path = join(folder, "fault.html");
  for (const [kind, plant, rules] of FAULTS) {
    let page = plant(html);
    if (rules) page = page.replace("</style>", `${rules}</style>`);
    if (page === html) {
      wrong.push(`the fault of ${kind} could not be planted`);
      continue;
    }
    writeFileSync(path, page);
    const found = await checkPage(browser, { ...good, path }, { looks: ["light"], widths: [1440] });
    if (!found.some((fault) => fault.startsWith(kind))) {
      wrong.push(`a fault of ${kind} is not seen; told instead: ${found.slice(0, 2).join("; ") || "nothing"}`);
    }
  }
  writeFileSync(join(folder, "broken.svg"), '<svg xmlns="http://www.w3.org/2000/svg"><rect></svg>');
  if (checkPictures(folder).length === 0) wrong.push("a broken picture is not seen");
  return wrong;
}
