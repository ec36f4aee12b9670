// What the script adds: units that turn and turn back, tables that sort, a timeline that tells what lies under the
// pointer and follows one order. Pages without a timeline, or without a table that sorts, have less of it.

export async function checkTouches(page) {
  const wrong = [];
  await page.setViewport({ width: 1440, height: 900 });
  await page.evaluate(() => window.scrollTo(0, 0));
  wrong.push(...(await units(page)), ...(await sorting(page)), ...(await timeline(page)), ...(await looks(page)));
  return wrong.slice(0, 8).map((what) => `touch: ${what}`);
}

const press = (page, label, words) =>
  page.evaluate(
    (label, words) => {
      const group = document.querySelector(`.switch[aria-label="${label}"]`);
      const button = [...(group?.children ?? [])].find((b) => b.textContent === words);
      button?.click();
      return button?.getAttribute("aria-pressed") === "true";
    },
    label,
    words,
  );

// Words outside of pictures and files.
const said = (page, without = "script") =>
  page.evaluate((without) => {
    const copy = document.querySelector("main").cloneNode(true);
    for (const e of copy.querySelectorAll(`svg, pre, code, script, select, ${without}`)) e.remove();
    const walker = document.createTreeWalker(copy, NodeFilter.SHOW_TEXT);
    const words = [];
    while (walker.nextNode()) words.push(walker.currentNode.data);
    return words.join("|");
  }, without);

async function units(page) {
  const wrong = [];
  const before = await said(page);
  const plain = await said(page, "[data-difference]");
  const metric = await page.evaluate(() =>
    [...document.querySelectorAll("[data-difference]")].map((e) => parseFloat(e.textContent)),
  );
  if (!(await press(page, "Units of words and tables", "°F, gal"))) return ["there is no switch of units"];
  const turned = await said(page);
  if (/°C/.test(before) && (/°C/.test(turned) || !/°F/.test(turned))) wrong.push("°C does not become °F");
  // Differences have their own rule, and stand in places that say so.
  const differences = await page.evaluate(() =>
    [...document.querySelectorAll("[data-difference]")].map((e) => e.textContent),
  );
  differences.forEach((words, i) => {
    // 2 °C apart are 3.6 °F apart; 36 °F is the temperature.
    if (!(Math.abs(parseFloat(words) - metric[i] * 1.8) < 0.06) || !words.endsWith("°F")) {
      wrong.push(`a difference of ${metric[i]} °C becomes ${words}`);
    }
  });
  for (const [, value] of plain.matchAll(/([0-9]+(?:\.[0-9]+)?)[ \u00a0]°C/g)) {
    const expected = `${((Number(value) * 9) / 5 + 32).toFixed((value.split(".")[1] ?? "").length)} °F`;
    if (!turned.replaceAll("\u00a0", " ").includes(expected)) wrong.push(`${value} °C does not become ${expected}`);
  }
  await press(page, "Units of words and tables", "°C, L");
  if ((await said(page)) !== before) wrong.push("the units do not turn back");
  return wrong;
}

async function sorting(page) {
  return page.evaluate(() => {
    const wrong = [];
    for (const table of document.querySelectorAll("table.sorts")) {
      const rows = () => [...table.tBodies[0].rows].map((row) => row.textContent);
      const before = rows();
      const heads = [...table.querySelectorAll("thead th")];
      heads.forEach((head) => {
        if (head.classList.contains("u")) return;
        const button = head.querySelector("button");
        if (!button) return wrong.push(`no button sorts by ${head.textContent}`);
        button.click();
        const up = rows();
        if (head.getAttribute("aria-sort") !== "ascending") wrong.push("the order is not told");
        button.click();
        const down = rows();
        // What a cell says, read from its words alone: minutes of a span, the first of two numbers, a number, a time.
        const read = (words) => {
          const row = [...table.tBodies[0].rows].find((r) => r.textContent === words);
          const cell = row.children[head.cellIndex];
          const time = cell.querySelector("time");
          if (time) return [Date.parse(time.dateTime), 0];
          const text = cell.textContent.trim().replaceAll("\u2212", "-");
          const span = /^(?:(\d+) d)? ?(?:(\d+) h)? ?(?:(\d+(?:\.\d+)?) min)?(?: (early|late|earlier))?$/.exec(text);
          if (text !== "" && span && span.slice(1, 4).some((part) => part !== undefined)) {
            const [days, hours, minutes] = span.slice(1, 4).map((part) => Number(part ?? 0));
            // Without minutes it may be rounded to hours.
            const half = span[3] === undefined ? 30 : 0.5;
            return [(span[4] === "late" ? -1 : 1) * (days * 1440 + hours * 60 + minutes), half];
          }
          const number = /^(-?\d+(?:\.\d+)?)(?: to -?\d.*| ± .*| of \d+ days)?$/.exec(text);
          // What is printed may be half of its last digit off.
          return number ? [Number(number[1]), 0.5 * 10 ** -(number[1].split(".")[1] ?? "").length] : [text, 0];
        };
        const value = (words) => read(words)[0];
        const climbs = (rows) => {
          const values = rows.map(read).filter(([v]) => typeof v === "number");
          return values.every(([v, half], i) => i === 0 || values[i - 1][0] - values[i - 1][1] <= v + half);
        };
        if (!climbs(up) || !climbs([...down].reverse())) wrong.push(`${head.textContent} does not sort by value`);
        if (value(up[0]) !== value(down.at(-1)) || value(up.at(-1)) !== value(down[0])) {
          wrong.push(`${head.textContent} does not sort both ways`);
        }
      });
      if ([...rows()].sort().join() !== [...before].sort().join()) wrong.push("rows are lost");
    }
    return wrong;
  });
}

// The pointer on every tenth bar; the first order followed; steps by the buttons.
async function timeline(page) {
  const spots = await page.evaluate(() => {
    const data = document.getElementById("spots");
    const figure = document.getElementById("pic-day");
    if (!data || !figure) return null;
    figure.scrollIntoView({ block: "center" });
    const { bars, at, orders } = JSON.parse(data.textContent);
    const svg = [...figure.querySelectorAll("svg[role=img]")].find((s) => s.getBoundingClientRect().width > 0);
    const place = svg.getBoundingClientRect();
    const box = svg.viewBox.baseVal;
    const scale = place.width / box.width;
    const seen = at[box.width].flatMap((p, i) =>
      p && i % 10 === 0 && p[2] >= 3
        ? [{ x: place.left + (p[0] + p[2] / 2 - box.x) * scale, y: place.top + (p[1] + p[3] / 2 - box.y) * scale, words: bars[i][0] }]
        : [],
    );
    return { seen, orders, followed: bars.filter((b) => b[1].includes(0)).length };
  });
  if (!spots) return [];
  const wrong = [];
  if (spots.seen.length === 0) wrong.push("no bar can be pointed at");
  for (const { x, y, words } of spots.seen.slice(0, 8)) {
    await page.mouse.move(x, y);
    const told = await page.evaluate(() => {
      const hint = document.querySelector(".hint");
      return hint && !hint.hidden ? hint.textContent : "nothing";
    });
    if (!told.split("\n").includes(words)) wrong.push(`the pointer on "${words}" is told "${told}"`);
  }
  await page.mouse.move(0, 0);
  const follow = await page.evaluate((order) => {
    const select = document.querySelector(".follow select");
    select.value = order;
    select.dispatchEvent(new Event("change"));
    const marked = document.querySelectorAll(".spots rect.bar").length;
    const words = document.querySelector(".follow output").textContent;
    document.querySelectorAll(".follow button")[1].click();
    const first = document.querySelector(".follow output").textContent;
    select.value = "";
    select.dispatchEvent(new Event("change"));
    return { marked, words, first, left: document.querySelectorAll(".spots rect").length };
  }, spots.orders[0]);
  if (follow.marked === 0 || follow.marked > spots.followed) {
    wrong.push(`${follow.marked} bars of ${spots.orders[0]} are marked, of ${spots.followed}`);
  }
  if (!follow.words.startsWith(spots.orders[0])) wrong.push(`following is told as "${follow.words}"`);
  if (follow.first === follow.words) wrong.push("the next bar is not told");
  if (follow.left > 0) wrong.push("marks stay when nothing is followed");
  return wrong;
}

async function looks(page) {
  const wrong = [];
  const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const device = await ground();
  await press(page, "Look of the page", "dark");
  const dark = await ground();
  await press(page, "Look of the page", "light");
  if ((await ground()) === dark) wrong.push("light and dark look alike");
  await press(page, "Look of the page", "as device");
  if ((await ground()) !== device) wrong.push("the look does not go back to the device's");
  return wrong;
}
