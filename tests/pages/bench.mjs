// The day sheet at the bench: ticks that stay, times at a tap, the next row, notes that the program reads. Each fault is
// told as `bench: what: how`.

import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { open } from "./browser.mjs";

// Rows that are ticked before notes are copied.
const TICKED = 24;
const PHONE = { width: 360, height: 740, hasTouch: true, isMobile: true };

export async function checkBench(browser, { path, bench }, program) {
  const wrong = [];
  const inline = readFileSync(path, "utf8").match(/<[a-z][^>]*\son[a-z]+=/);
  if (inline) wrong.push(`inline: ${inline[0].slice(0, 80)}`);
  const console = [];
  const page = await open(browser, path, console, withClock);
  try {
    await page.setViewport(PHONE);
    await page.evaluate(() => localStorage.clear());
    await page.reload();
    wrong.push(...(await sizes(page)));
    const at = await ticks(page, wrong);
    wrong.push(...(await writing(page)), ...(await next(page)), ...(await taking_back(page)));
    await reload(page, wrong);
    wrong.push(...(await units(page)), ...(await paper(page)));
    wrong.push(...(await notes(page, at, bench, program)));
    wrong.push(...(await spoilt(page)), ...(await other(page)));
  } finally {
    await page.close();
  }
  wrong.push(...(await oneMinute(browser, path, console)));
  wrong.push(...(await denied(browser, path, console)));
  return [...console, ...new Set(wrong.map((what) => `bench: ${what}`))];
}

// The page's clock shows what the check sets.
function withClock(page) {
  return page.evaluateOnNewDocument(() => {
    Date.prototype.getHours = () => Number((sessionStorage.getItem("clock") ?? "07:00").slice(0, 2));
    Date.prototype.getMinutes = () => Number((sessionStorage.getItem("clock") ?? "07:00").slice(3));
  });
}
const setClock = (page, time) => page.evaluate((time) => sessionStorage.setItem("clock", time), time);

// Everything that a finger touches is 44 px high; what is written in is there.
async function sizes(page) {
  return page.evaluate(() => {
    const wrong = [];
    const low = (e) => e.getBoundingClientRect().height < 44;
    for (const row of document.querySelectorAll("tbody tr")) if (low(row)) wrong.push(`height: a row has ${row.getBoundingClientRect().height} px`);
    for (const tap of document.querySelectorAll(".tap")) {
      const { width, height } = tap.getBoundingClientRect();
      if (width < 44 || height < 44) wrong.push(`height: a box has ${width} by ${height} px`);
    }
    for (const button of document.querySelectorAll(".tools button")) {
      if (button.checkVisibility() && low(button)) wrong.push(`height: the button ${button.textContent}`);
    }
    const boxes = document.querySelectorAll("td.b input").length;
    const fields = [...document.querySelectorAll("td.w input")].filter((e) => e.checkVisibility() && e.getBoundingClientRect().width >= 44);
    const times = fields.filter((e) => e.closest(".d"));
    if (times.length !== boxes) wrong.push(`fields: ${times.length} of ${boxes} rows have a time to write in`);
    if (fields.length === times.length) wrong.push("fields: nothing can be measured");
    if (fields.some(low)) wrong.push("height: a field is low");
    const unnamed = [...document.querySelectorAll("input, textarea")].filter((e) => !e.getAttribute("aria-label"));
    if (unnamed.length > 0) wrong.push(`fields: ${unnamed.length} have no name`);
    return wrong;
  });
}

const rowsOf = (page) =>
  page.$$eval("tbody tr", (all) =>
    all.filter((r) => r.querySelector("td.b input")).map((r) => r.querySelector("time").dateTime.slice(11)),
  );

// A tap on the box stamps the time: each row at its planned time. Gives back the time of the last.
async function ticks(page, wrong) {
  const times = await rowsOf(page);
  const taps = (await page.$$(".tap")).slice(0, TICKED);
  let last = "";
  for (const [i, tap] of taps.entries()) {
    last = times[i];
    await setClock(page, last);
    await tap.evaluate((e) => e.scrollIntoView({ block: "center" }));
    await tap.tap();
  }
  const stamped = await page.$$eval("td.w.d input", (all) => all.map((e) => e.value));
  taps.forEach((_, i) => stamped[i] !== times[i] && wrong.push(`tap: row ${i} is stamped "${stamped[i]}", not ${times[i]}`));
  if (stamped.slice(taps.length).some((value) => value !== "")) wrong.push("tap: a row that was not tapped has a time");
  return last;
}

// Times and readings are written in, as they are typed with wet hands.
async function writing(page) {
  const wrong = [];
  const type = async (selector, words) => {
    await page.$eval(selector, (e) => (e.scrollIntoView({ block: "center" }), e.focus(), e.select()));
    await page.keyboard.type(words);
    await page.keyboard.press("Tab");
    return page.$eval(selector, (e) => [e.value, e.getAttribute("aria-invalid")]);
  };
  const first = "tbody tr td.w.d input";
  const before = await page.$eval(first, (e) => e.value);
  const digits = before.replace(":", "").replace(/^0/, "");
  const [time, refused] = await type(first, digits);
  if (time !== before || refused) wrong.push(`write: ${digits} becomes "${time}"`);
  const [, unread] = await type(first, "77:77");
  if (unread !== "true") wrong.push("write: 77:77 is taken for a time");
  await type(first, digits);
  const [reading] = await type("td.w:not(.d) input", "95,5");
  if (reading !== "95.5") wrong.push(`write: 95,5 becomes "${reading}"`);
  return wrong;
}

// "Now" brings the first open row into sight above the tools, marked, with the focus on its box; again, the one after it.
async function next(page) {
  const wrong = [];
  const press = () => page.$$eval(".tools .buttons button", (all) => all.find((b) => b.textContent === "Now").click());
  for (const expected of [TICKED, TICKED + 1]) {
    await page.evaluate(() => window.scrollTo(0, 0));
    await press();
    const found = await page.evaluate(() => {
      const rows = [...document.querySelectorAll("tbody tr")].filter((r) => r.querySelector("td.b input"));
      const marked = rows.findIndex((r) => r.getAttribute("aria-current") === "step");
      const place = rows[marked]?.getBoundingClientRect();
      const tools = document.querySelector(".tools").getBoundingClientRect();
      return {
        marked,
        many: document.querySelectorAll("[aria-current]").length,
        focused: rows[marked]?.contains(document.activeElement),
        seen: place && place.top >= 0 && place.bottom <= tools.top,
      };
    });
    if (found.marked !== expected || found.many !== 1) wrong.push(`now: row ${found.marked} is marked, not ${expected}`);
    if (!found.focused) wrong.push("now: the box has not the focus");
    if (!found.seen) wrong.push("now: the row is not in sight");
  }
  return wrong;
}

// A tap by mistake is taken back.
async function taking_back(page) {
  const before = await state(page);
  await page.$$eval(".tap input", (all, i) => all[i].click(), TICKED + 2);
  if ((await state(page)) === before) return ["undo: the tap does nothing"];
  await page.$$eval(".tools .buttons button", (all) => all.find((b) => b.textContent === "Undo").click());
  return (await state(page)) === before ? [] : ["undo: the row is not as it was"];
}

const state = (page) =>
  page.$$eval("tbody input", (all) => all.map((e) => (e.type === "checkbox" ? String(e.checked) : e.value)).join());

async function reload(page, wrong) {
  const before = await state(page);
  await page.reload();
  if ((await state(page)) !== before) wrong.push("reload: ticks, times or readings are lost");
}

async function units(page) {
  const press = (words) => page.$$eval(".switch button", (all, w) => all.find((b) => b.textContent === w).click(), words);
  const value = () => page.$eval("td.w:not(.d) input", (e) => e.value);
  await press("°F, gal");
  const turned = await value();
  await press("°C, L");
  const back = await value();
  return turned === "203.9" && back === "95.5" ? [] : [`units: 95.5 °C becomes ${turned} °F, then ${back} °C`];
}

// On paper there are no tools, and what was written in stands there.
async function paper(page) {
  const wrong = [];
  await page.emulateMediaType("print");
  const found = await page.evaluate(() => ({
    tools: document.querySelector(".tools").checkVisibility(),
    outline: getComputedStyle(document.querySelector("tr.now")).outlineStyle,
    first: document.querySelector("td.w.d input").checkVisibility(),
    empty: getComputedStyle([...document.querySelectorAll("td.w.d input")].at(-1), "::placeholder").color,
  }));
  if (found.tools) wrong.push("print: the tools are printed");
  if (found.outline !== "none") wrong.push("print: the mark of the next row is printed");
  if (!found.first) wrong.push("print: the time is not printed");
  if (found.empty !== "rgba(0, 0, 0, 0)") wrong.push(`print: words stand where one is to write, ${found.empty}`);
  await page.emulateMediaType(null);
  return wrong;
}

// The copied notes are read by the program, and hold what was ticked.
async function notes(page, at, { scenario, root }, program) {
  const wrong = [];
  await setClock(page, at);
  await page.$$eval(".tools button", (all) => all.find((b) => b.textContent === "Copy notes").click());
  const text = await page.$eval(".copied textarea", (e) => e.value);
  const low = await page.$$eval(".copied button", (all) => all.some((b) => b.getBoundingClientRect().height < 44));
  if (low) wrong.push("height: a button of the notes");
  const ticked = await page.$$eval("tbody tr", (all) => all.filter((r) => r.querySelector("td.b input")?.checked).map((r) => r.dataset.note ?? "[]"));
  for (const note of ticked.flatMap((n) => JSON.parse(n))) {
    if (note.into && !text.includes(`{id: ${note.load}, tank: ${note.into}, `)) wrong.push(`notes: ${note.load} is left out`);
  }
  for (const note of ticked.flatMap((n) => JSON.parse(n)).filter((n) => n.cared)) {
    if (!text.includes(`do: ${note.what}, done: `)) wrong.push(`notes: ${note.what} of the ${note.cared} is left out`);
  }
  if (!/^loads:\n {2}- \{.*in: \d\d:\d\d/m.test(text) || !/^done:\n {2}- /m.test(text)) wrong.push(`notes: hold too little: ${text}`);
  if (!text.includes("temperature: 95.5 °C")) wrong.push("notes: the reading is left out");
  if (!text.includes(`--at ${at} --done`)) wrong.push("notes: do not say when they were copied");
  const dir = mkdtempSync(join(tmpdir(), "tankday-notes-"));
  try {
    const file = join(dir, "notes.yaml");
    writeFileSync(file, text);
    const words = ["plan", scenario, "--at", at, "--done", file, "--effort", "10", "--json"];
    const told = JSON.parse(execFileSync(program, words, { cwd: root, stdio: ["ignore", "pipe", "pipe"] }));
    if (!told.from.includes(at)) wrong.push(`notes: the rest begins at ${told.from}`);
  } catch (error) {
    wrong.push(`notes: the program refuses them: ${String(error.stderr ?? error).slice(0, 600)}\n${text}`);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
  return wrong;
}

// A load that goes in and comes out in one minute stays for that minute, whatever the clock says: as the sheet has it, and
// where the sheet has it out in the evening.
async function oneMinute(browser, path, console) {
  const wrong = [];
  const html = readFileSync(path, "utf8");
  const row = (what) => new RegExp(`(data-note="[^"]*${what}[^"]*"><td class="t"><time datetime="[0-9-]+)T\\d\\d:\\d\\d`);
  const [into, out] = [row("&quot;into&quot;:&quot;[^&]*&quot;,&quot;load&quot;:&quot;L1&quot;"), row("&quot;out&quot;:&quot;L1&quot;")];
  const evening = html.replace(into, "$1T17:56").replace(out, "$1T18:04");
  if (evening === html) wrong.push("minute: L1 is not on the sheet");
  const late = join(dirname(path), "bench-evening.html");
  writeFileSync(late, evening);
  for (const [file, time] of [[path, "08:14"], [late, "08:14"], [late, "03:14"]]) {
    const page = await open(browser, file, console, withClock);
    try {
      await page.evaluate(() => localStorage.clear());
      await page.reload();
      await setClock(page, time);
      await page.$$eval("tbody tr", (all) => {
        const of = (r) => JSON.parse(r.dataset.note ?? "[]").some((n) => (n.into && n.load === "L1") || n.out === "L1");
        for (const row of all.filter(of)) row.querySelector("td.b input").click();
      });
      await page.$$eval(".tools button", (all) => all.find((b) => b.textContent === "Copy notes").click());
      const text = await page.$eval(".copied textarea", (e) => e.value);
      if (!text.includes(`in: ${time}, out: ${time}}`)) wrong.push(`minute: L1 in and out at ${time} becomes ${text}`);
    } finally {
      await page.close();
    }
  }
  rmSync(late);
  return wrong;
}

// What is kept and cannot be understood does no harm.
async function spoilt(page) {
  const wrong = [];
  for (const kept of ["{", "null", "7", '{"rows":{"0":{"done":"99:99"},"9999":{"done":"08:00"},"1":null,"2":{"measured":"hot"}},"words":{"0":5}}', '{"rows":"x"}']) {
    await page.evaluate((kept) => {
      const key = Object.keys(localStorage).find((k) => k.startsWith("tankday sheet "));
      localStorage.setItem(key, kept);
    }, kept);
    await page.reload();
    const found = await page.$$eval("td.b input", (all) => all.filter((e) => e.checked).length);
    const bar = await page.$(".tools");
    if (found > 0 || !bar) wrong.push(`spoilt: ${kept} is taken: ${found} ticks`);
  }
  return wrong;
}

// Ticks of one sheet do not stand on another.
async function other(page) {
  const keys = await page.evaluate(() => Object.keys(localStorage).filter((k) => k.startsWith("tankday sheet ")));
  const own = await page.$eval("#sheets", (e) => e.dataset.sheet);
  return keys.length === 1 && keys[0].includes(own) && own.length >= 16 ? [] : [`sheet: ticks are kept as ${keys.join(", ")}`];
}

// Where nothing may be kept, all else works, and the page says so.
async function denied(browser, path, console) {
  const wrong = [];
  const page = await open(browser, path, console, (page) =>
    page.evaluateOnNewDocument(() =>
      Object.defineProperty(window, "localStorage", {
        get() {
          throw new DOMException("denied", "SecurityError");
        },
      }),
    ),
  );
  try {
    await page.setViewport(PHONE);
    await (await page.$(".tap")).tap();
    const [time, told] = await page.evaluate(() => [
      document.querySelector("td.w.d input")?.value,
      document.querySelector(".tools p[role=status]")?.textContent ?? "",
    ]);
    if (!/^\d\d:\d\d$/.test(time)) wrong.push(`denied: a tap stamps "${time}"`);
    if (!told.includes("keeps nothing")) wrong.push(`denied: is told as "${told}"`);
  } finally {
    await page.close();
  }
  return wrong;
}
