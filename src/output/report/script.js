"use strict";
// What is not needed to read the page: how it looks, in which units it speaks, tables that sort, one order followed
// through all its steps.
(() => {
  const root = document.documentElement;
  const set = document.querySelector(".set");
  const make = (name, attributes, words) => {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    if (words !== undefined) element.textContent = words;
    return element;
  };

  // A switch of which one choice is pressed.
  const choice = (label, options, chosen, first = options[0][0]) => {
    const group = make("div", { class: "switch", role: "group", "aria-label": label });
    options.forEach(([value, words]) => {
      const button = make("button", { type: "button", "aria-pressed": String(value === first) }, words);
      button.addEventListener("click", () => {
        for (const b of group.children) b.setAttribute("aria-pressed", String(b === button));
        chosen(value);
      });
      group.append(button);
    });
    set.append(group);
  };

  choice("Look of the page", [["", "as device"], ["light", "light"], ["dark", "dark"]], (look) => {
    if (look) root.dataset.look = look;
    else delete root.dataset.look;
  });

  // Units, in words and tables: what each turns into, how, and by how many decimals more. Pictures and files stay as they are.
  const times = (by) => (v) => v * by;
  const UNITS = {
    "°C": ["°F", (v) => v * 1.8 + 32, 0],
    L: ["gal", times(1 / 3.785411784), 1],
    mL: ["fl oz", times(1 / 29.5735295625), 1],
    mm: ["in", times(1 / 25.4), 2],
    cm: ["in", times(1 / 2.54), 1],
    kg: ["lb", times(1 / 0.45359237), 0],
    g: ["oz", times(1 / 28.349523125), 1],
    "cm²": ["in²", times(1 / 6.4516), 1],
    "dm²": ["in²", times(100 / 6.4516), -1],
    "m²": ["ft²", times(1 / 0.09290304), -1],
    "g/L": ["oz/gal", times(3.785411784 / 28.349523125), 1],
    "g/m²": ["mg/ft²", times(92.90304), -1],
    "dm²/L": ["ft²/gal", times(0.03785411784 / 0.09290304), 0],
    "L/h": ["gal/h", times(1 / 3.785411784), 1],
  };
  const NAMES = Object.keys(UNITS).sort((a, b) => b.length - a.length).join("|");
  // Of a difference of temperatures only the size of the degrees turns.
  const apart = (node) => node.parentElement.closest("[data-difference]") !== null;
  const APART = (v) => v * 1.8;
  const spoken = new RegExp(
    `([\u2212-]?\\d+(?:\\.\\d+)?)(?:( to |-)([\u2212-]?\\d+(?:\\.\\d+)?))?[ \u00a0](${NAMES})(?![A-Za-z/²³])`,
    "g",
  );
  const turned = (number, unit, by = UNITS[unit][1]) => {
    const value = by(Number(number.replace("\u2212", "-")));
    const places = (number.split(".")[1] ?? "").length + (by === APART ? 1 : UNITS[unit][2]);
    return value.toFixed(Math.max(0, places)).replace("-", "\u2212");
  };
  const other = (words, by) => {
    // A unit alone, behind a blank to write in.
    if (words.trim() === "°C") return words.replace("°C", "°F");
    return words.replace(spoken, (whole, a, to, b, unit, at) => {
      const around = /±[ \u00a0]?$/.test(words.slice(0, at)) ? APART : by;
      const one = (number) => turned(number, unit, unit === "°C" ? around : undefined);
      const range = b === undefined ? one(a) : one(a) + to + one(b);
      return `${range} ${UNITS[unit][0]}`;
    });
  };
  const kept = new Map();
  const words = () => {
    const walker = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT, (node) =>
      node.parentElement.closest("svg, pre, code, select") ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT,
    );
    while (walker.nextNode()) {
      const node = walker.currentNode;
      const text = other(node.data, apart(node) ? APART : undefined);
      if (text !== node.data) kept.set(node, node.data), (node.data = text);
    }
  };
  const columns = () => {
    for (const table of document.querySelectorAll("main table")) {
      [...table.querySelectorAll("thead th")].forEach((head, i) => {
        const unit = new RegExp(`, (${NAMES})$`).exec(head.textContent)?.[1];
        if (!unit) return;
        const nodes = [head, ...[...table.querySelectorAll("tbody tr")].map((row) => row.children[i])];
        nodes.forEach((cell, at) => {
          const node = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT).nextNode();
          if (!node) return;
          const old = node.data;
          if (at === 0) node.data = old.replace(unit, UNITS[unit][0]);
          else if (/^[\u2212-]?\d+(\.\d+)?$/.test(old)) node.data = turned(old, unit);
          if (node.data !== old) kept.set(node, old);
        });
      });
    }
  };
  // Kept from page to page, where the browser lets a page keep anything.
  const KEY = "tankday units";
  const remembered = () => {
    try {
      return localStorage.getItem(KEY);
    } catch {
      return null;
    }
  };
  const remember = (units) => {
    try {
      localStorage.setItem(KEY, units);
    } catch {
      // It is chosen anew on the next page.
    }
  };
  const speak = (units) => {
    for (const [node, text] of kept) node.data = text;
    kept.clear();
    if (units === "other") columns(), words();
    document.dispatchEvent(new CustomEvent("units", { detail: units }));
  };
  const SYSTEMS = [["metric", "°C, L"], ["other", "°F, gal"]];
  const first = SYSTEMS.map(([name]) => name).find((name) => name === (remembered() ?? root.dataset.units)) ?? "metric";
  choice(
    "Units of words and tables",
    SYSTEMS,
    (units) => {
      remember(units);
      speak(units);
    },
    first,
  );
  // What other scripts of the page listen for, they hear once they have begun.
  if (first !== "metric") document.addEventListener("DOMContentLoaded", () => speak(first), { once: true });

  // A table sorts by the values of its cells. Digits among other words are no value: such a cell states its own.
  const key = (cell) => {
    if (cell.dataset.sort !== undefined) return Number(cell.dataset.sort);
    const time = cell.querySelector("time")?.dateTime;
    if (time) return Date.parse(time);
    const text = cell.textContent.trim();
    return /^[\u2212-]?\d+(\.\d+)?$/.test(text) ? Number(text.replace("\u2212", "-")) : text;
  };
  const order = (a, b) => {
    if (typeof a === typeof b) return typeof a === "number" ? a - b : a.localeCompare(b, "en", { numeric: true });
    return typeof a === "number" ? -1 : 1;
  };
  for (const table of document.querySelectorAll("table.sorts")) {
    const heads = [...table.querySelectorAll("thead th")];
    heads.forEach((head, i) => {
      if (head.classList.contains("u")) return;
      const button = make("button", { type: "button" }, head.textContent);
      head.replaceChildren(button);
      button.addEventListener("click", () => {
        const down = head.getAttribute("aria-sort") === "ascending";
        for (const h of heads) h.removeAttribute("aria-sort");
        head.setAttribute("aria-sort", down ? "descending" : "ascending");
        const rows = [...table.tBodies[0].rows];
        rows.sort((a, b) => (down ? -1 : 1) * order(key(a.children[i]), key(b.children[i])));
        table.tBodies[0].append(...rows);
      });
    });
  }

  // What is folded stands open on paper, unless it is long: that is printed only if the reader opened it.
  const LONG = 30;
  const long = (fold) =>
    fold.querySelectorAll("tbody tr").length > LONG || (fold.querySelector("pre")?.textContent.split("\n").length ?? 0) > LONG;
  let opened = [];
  window.addEventListener("beforeprint", () => {
    opened = [...document.querySelectorAll("details:not([open])")].filter((fold) => !long(fold));
    for (const fold of opened) fold.open = true;
  });
  window.addEventListener("afterprint", () => {
    for (const fold of opened) fold.open = false;
  });

  // The timeline: what lies under the pointer, one bar after the other by keyboard, all bars of one order.
  const told = document.getElementById("spots");
  const figure = document.getElementById("pic-day");
  if (!told || !figure) return;
  const spots = JSON.parse(told.textContent);
  const shown = () => [...figure.querySelectorAll("svg[role=img]")].find((s) => s.getBoundingClientRect().width > 0);
  // Each bar: left, top, width, height, words, orders.
  const bars = () =>
    (spots.at[shown()?.viewBox.baseVal.width] ?? []).flatMap((place, i) =>
      place ? [[...place, spots.bars[i][0], spots.bars[i][1].map((o) => spots.orders[o])]] : [],
    );
  const follow = make("div", { class: "follow" });
  const label = make("label", {}, "Follow ");
  const select = make("select", {});
  select.append(make("option", { value: "" }, "every bar"));
  for (const name of spots.orders) select.append(make("option", { value: name }, name));
  label.append(select);
  const back = make("button", { type: "button" }, "earlier");
  const on = make("button", { type: "button" }, "later");
  const words_of = make("output", {});
  follow.append(label, back, on, words_of);
  figure.before(follow);

  const layer = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  layer.setAttribute("class", "spots");
  layer.setAttribute("aria-hidden", "true");
  const hint = make("div", { class: "hint", hidden: "" });
  figure.append(layer, hint);
  let at = -1;
  const chosen = () => bars().filter((b) => select.value === "" || b[5].includes(select.value));
  const rect = (place, name) => {
    const mark = document.createElementNS("http://www.w3.org/2000/svg", "rect");
    ["x", "y", "width", "height"].forEach((side, n) => mark.setAttribute(side, place[n]));
    if (name) mark.setAttribute("class", name);
    return mark;
  };
  // Everything but the bars of the order that is followed stands back.
  const draw = () => {
    const box = shown()?.viewBox.baseVal;
    if (!box) return;
    const whole = [box.x, box.y, box.width, box.height];
    layer.setAttribute("viewBox", whole.join(" "));
    layer.replaceChildren();
    const all = chosen();
    if (select.value !== "") {
      const mask = document.createElementNS("http://www.w3.org/2000/svg", "mask");
      mask.id = "spots-veil";
      const white = rect(whole);
      white.setAttribute("fill", "#fff");
      mask.append(white, ...all.map((bar) => rect(bar)));
      const every = bars();
      const [left, top] = [0, 1].map((n) => Math.min(...every.map((bar) => bar[n])));
      const [right, foot] = [0, 1].map((n) => Math.max(...every.map((bar) => bar[n] + bar[n + 2])));
      const veil = rect([left - 2, top - 2, right - left + 4, foot - top + 4], "veil");
      veil.setAttribute("mask", "url(#spots-veil)");
      layer.append(mask, veil, ...all.map((bar) => rect(bar, "bar")));
    }
    if (all[at]) layer.append(rect(all[at], "bar at"));
  };
  const step = (by) => {
    const all = chosen();
    if (all.length === 0) return;
    at = at < 0 ? (by > 0 ? 0 : all.length - 1) : (at + by + all.length) % all.length;
    words_of.textContent = all[at][4];
    draw();
  };
  back.addEventListener("click", () => step(-1));
  on.addEventListener("click", () => step(1));
  select.addEventListener("change", () => {
    at = -1;
    const all = chosen();
    words_of.textContent = select.value === "" ? "" : `${select.value}: ${all.length} bars`;
    draw();
  });
  window.addEventListener("resize", draw);
  figure.addEventListener("pointermove", (event) => {
    const svg = shown();
    if (!svg) return;
    const place = svg.getBoundingClientRect();
    const box = svg.viewBox.baseVal;
    const scale = box.width / place.width;
    const x = (event.clientX - place.left) * scale + box.x;
    const y = (event.clientY - place.top) * scale + box.y;
    const near = bars().filter((b) => x >= b[0] - 1 && x <= b[0] + b[2] + 1 && y >= b[1] - 2 && y <= b[1] + b[3] + 2);
    hint.hidden = near.length === 0;
    if (hint.hidden) return;
    // At a station that holds several loads their bars lie on each other.
    hint.textContent = near.map((b) => b[4]).join("\n");
    const left = Math.min(event.clientX - place.left + 12, place.width - hint.offsetWidth);
    hint.style.left = `${Math.max(0, left)}px`;
    hint.style.top = `${event.clientY - place.top + 16}px`;
  });
  figure.addEventListener("pointerleave", () => (hint.hidden = true));
})();
