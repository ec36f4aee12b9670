"use strict";
// The sheet at the bench: ticks and times that stay in this browser, the next open row at a tap, and notes from which
// `plan --at --done` plans the rest of the day. The sheet is whole without it.
(() => {
  const sheets = document.getElementById("sheets");
  const make = (name, attributes, words) => {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    if (words !== undefined) element.textContent = words;
    return element;
  };
  const two = (n) => String(n).padStart(2, "0");
  const clock = () => {
    const now = new Date();
    return `${two(now.getHours())}:${two(now.getMinutes())}`;
  };
  const minutes = (time) => Number(time.slice(0, 2)) * 60 + Number(time.slice(3));

  // What is typed: 815, 8:15 and 08.15 are one time; 95,5 and 95.5 one temperature.
  const asTime = (text) => {
    const [, h, m] = /^\s*(\d{1,2})\s*[:.h]?\s*(\d{2})\s*$/.exec(text) ?? [];
    return h !== undefined && Number(h) < 24 && Number(m) < 60 ? `${two(Number(h))}:${m}` : null;
  };
  const asNumber = (text) => {
    const number = Number(text.trim().replace(",", ".").replace("\u2212", "-"));
    return text.trim() !== "" && Number.isFinite(number) ? number : null;
  };
  let fahrenheit = false;
  const shown = (celsius) => String(Math.round((fahrenheit ? celsius * 1.8 + 32 : celsius) * 10) / 10);
  const meant = (number) => (fahrenheit ? Math.round(((number - 32) / 1.8) * 100) / 100 : number);

  // A row that is done: a box, and room to write in.
  const field = (cell, words, name) => {
    const input = make("input", {
      type: "text", inputmode: "decimal", autocomplete: "off", placeholder: words, "aria-label": `${words}: ${name}`,
    });
    cell.querySelector("i").replaceWith(input);
    return input;
  };
  const rows = [...sheets.querySelectorAll("tbody tr")].filter((tr) => tr.querySelector("td.b input")).map((tr) => {
    const name = tr.querySelector("td.x").firstChild.textContent;
    const [date, planned] = tr.querySelector("time").dateTime.split("T");
    const noted = JSON.parse(tr.dataset.note ?? "[]");
    const tank = tr.dataset.tank;
    const at = tr.querySelector("td.w.d");
    return {
      tr, date, planned, noted, tank, name,
      words: tr.querySelector("td.x").textContent.trim(),
      box: tr.querySelector("td.b input"),
      done: field(at, at.dataset.words, name),
      measured: tank ? field(tr.querySelector("td.w:not(.d)"), "measured", `${tank}, ${name}`) : null,
    };
  });
  const pages = [...sheets.querySelectorAll(".notes")].map((notes, i) => {
    const words = make("textarea", { class: "words", rows: "3", placeholder: "what happened", "aria-label": `Notes of day ${i + 1}` });
    notes.querySelector("p").after(words);
    return words;
  });

  // What is known of each row: { done: "08:15" or "", measured: °C, read: "08:15" }. It is kept under a name that
  // belongs to this very sheet, so that the ticks of another never stand on it.
  const KEY = `tankday sheet ${sheets.dataset.sheet}`;
  const OLD = 40 * 86400e3;
  let known = { rows: {}, words: {} };
  let denied = false;
  const checked = (kept) => {
    const sound = { rows: {}, words: {} };
    for (const [i, row] of Object.entries(kept?.rows ?? {})) {
      if (!rows[i] || typeof row !== "object" || row === null) continue;
      const own = {};
      if (row.done === "" || asTime(String(row.done)) === row.done) own.done = row.done;
      if (Number.isFinite(row.measured) && asTime(String(row.read)) === row.read) Object.assign(own, { measured: row.measured, read: row.read });
      if (Object.keys(own).length > 0) sound.rows[i] = own;
    }
    for (const [i, words] of Object.entries(kept?.words ?? {})) if (pages[i] && typeof words === "string") sound.words[i] = words;
    return sound;
  };
  const load = () => {
    try {
      known = checked(JSON.parse(localStorage.getItem(KEY) ?? "{}"));
    } catch (error) {
      // Nothing may be kept here, or what is kept cannot be read: the sheet begins empty.
      denied = !(error instanceof SyntaxError);
    }
  };
  const keep = () => {
    try {
      localStorage.setItem(KEY, JSON.stringify({ ...known, kept: Date.now() }));
      denied = false;
    } catch {
      denied = true;
    }
  };
  const clearOld = () => {
    try {
      for (const key of Object.keys(localStorage).filter((k) => k.startsWith("tankday sheet ") && k !== KEY)) {
        let kept = 0;
        try {
          kept = Number(JSON.parse(localStorage.getItem(key)).kept) || 0;
        } catch {
          // Unreadable: as good as old.
        }
        if (Date.now() - kept > OLD) localStorage.removeItem(key);
      }
    } catch {
      denied = true;
    }
  };

  // Tools at the foot of the screen.
  const tools = make("section", { class: "tools", "aria-label": "At the bench" });
  const said = make("p", { role: "status" });
  const button = (words, act) => {
    const made = make("button", { type: "button" }, words);
    made.addEventListener("click", act);
    return made;
  };
  const panel = make("div", { class: "copied", hidden: "" });
  const copied = make("p", {});
  const yaml = make("textarea", { readonly: "", rows: "9", spellcheck: "false", "aria-label": "Notes, to be copied" });
  const buttons = make("div", { class: "buttons" });
  const back = button("Undo", () => undo());
  back.hidden = true;
  buttons.append(button("Now", () => toNext()), back, button("Copy notes", () => copy()));
  const more = make("div", { class: "buttons" });
  more.append(button("Close", () => (panel.hidden = true)), button("Clear all ticks", () => clear()));
  panel.append(copied, yaml, more);
  tools.append(panel, said, buttons);
  document.querySelector(".page").append(tools);
  const tell = (words) => {
    const lost = denied ? " This browser keeps nothing: copy your notes before you close the page." : "";
    said.textContent = words + lost;
  };

  // Shows what is known; the first open row is marked.
  const isDone = (i) => known.rows[i]?.done !== undefined;
  let next = -1;
  const mark = (i) => {
    if (rows[next]) rows[next].tr.classList.remove("now"), rows[next].tr.removeAttribute("aria-current");
    next = i;
    if (rows[next]) rows[next].tr.classList.add("now"), rows[next].tr.setAttribute("aria-current", "step");
  };
  const today = () => {
    const now = new Date();
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  };
  // The first open row: of today's sheet if there is one; by the clock where nothing is ticked yet.
  const firstOpen = () => {
    const open = rows.map((_, i) => i).filter((i) => !isDone(i));
    const own = open.filter((i) => rows[i].date === today());
    if (own.length === 0) return open[0] ?? -1;
    const begun = rows.some((row, i) => row.date === today() && isDone(i));
    const due = own.filter((i) => minutes(rows[i].planned) >= minutes(clock()) - 5);
    return begun ? own[0] : (due[0] ?? own[0]);
  };
  const show = () => {
    rows.forEach((row, i) => {
      const own = known.rows[i] ?? {};
      row.box.checked = own.done !== undefined;
      row.tr.classList.toggle("over", row.box.checked);
      row.done.value = own.done ?? "";
      row.done.removeAttribute("aria-invalid");
      if (!row.measured) return;
      row.measured.value = own.measured === undefined ? "" : shown(own.measured);
      row.measured.removeAttribute("aria-invalid");
    });
    pages.forEach((words, i) => (words.value = known.words[i] ?? ""));
    mark(firstOpen());
  };
  const open = () => rows.filter((_, i) => !isDone(i)).length;
  const toNext = () => {
    const first = firstOpen();
    // Asked again, it goes on to the one after it: a row that was left out does not hold up the rest.
    const after = rows.findIndex((_, i) => i > next && !isDone(i));
    const again = next >= 0 && document.activeElement === rows[next].box;
    mark(again ? (after < 0 ? first : after) : first);
    const row = rows[next];
    if (!row) return tell("Every row is ticked.");
    row.tr.scrollIntoView({ block: "center" });
    row.box.focus({ preventScroll: true });
    const left = rows.filter((r, i) => i < next && r.date === row.date && !isDone(i)).length;
    tell(`Next: ${row.planned} ${row.name}${left > 0 ? `; ${left} open above it` : ""}.`);
  };

  // Every change can be taken back.
  let before = null;
  const change = (words, act) => {
    before = JSON.stringify(known);
    act();
    keep();
    show();
    back.hidden = false;
    tell(words);
  };
  const undo = () => {
    if (before === null) return;
    known = JSON.parse(before);
    before = null;
    keep();
    show();
    back.hidden = true;
    tell("Taken back.");
  };
  const clear = () => {
    panel.hidden = true;
    change("All ticks and times are cleared.", () => (known = { rows: {}, words: {} }));
  };
  const set = (i, what) => {
    const own = { ...known.rows[i], ...what };
    for (const key of Object.keys(own)) if (own[key] === undefined) delete own[key];
    known.rows[i] = own;
  };
  // How a time stands to the sheet's, told only where it is worth a word.
  const late = (row, time) => {
    const by = ((minutes(time) - minutes(row.planned) + 2160) % 1440) - 720;
    return Math.abs(by) < 3 ? "" : `, ${Math.abs(by)} min ${by > 0 ? "later" : "earlier"} than planned`;
  };
  const refuse = (input, words) => {
    input.setAttribute("aria-invalid", "true");
    tell(words);
  };
  rows.forEach((row, i) => {
    row.box.addEventListener("change", () => {
      const time = clock();
      if (row.box.checked) change(`${time} ${row.name}${late(row, time)}.`, () => set(i, { done: time }));
      else change(`Open again: ${row.name}.`, () => set(i, { done: undefined }));
    });
    row.done.addEventListener("change", () => {
      const time = asTime(row.done.value);
      if (row.done.value.trim() === "") return change(`Done, time not known: ${row.name}.`, () => isDone(i) && set(i, { done: "" }));
      if (time === null) return refuse(row.done, `"${row.done.value}" is not a time of day: write 08:15 or 815.`);
      change(`${time} ${row.name}${late(row, time)}.`, () => set(i, { done: time }));
    });
    row.measured?.addEventListener("change", () => {
      const number = asNumber(row.measured.value);
      if (row.measured.value.trim() === "") {
        return change("Reading removed.", () => set(i, { measured: undefined, read: undefined }));
      }
      if (number === null) return refuse(row.measured, `"${row.measured.value}" is not a temperature: write 95 or 95.5.`);
      const words = `${row.tank}: ${row.measured.value} ${fahrenheit ? "°F" : "°C"} at ${clock()}.`;
      change(words, () => set(i, { measured: meant(number), read: clock() }));
    });
  });
  pages.forEach((words, i) =>
    words.addEventListener("change", () => change("Notes kept.", () => (known.words[i] = words.value))),
  );
  document.addEventListener("units", (event) => {
    fahrenheit = event.detail === "other";
    show();
  });
  window.addEventListener("storage", (event) => {
    if (event.key === KEY) load(), show();
  });

  // Notes as `plan --at --done` reads them.
  const word = (text) =>
    /^[A-Za-z][A-Za-z0-9 -]*[A-Za-z0-9]$/.test(text) && !/^(null|true|false|yes|no|on|off)$/i.test(text) ? text : JSON.stringify(text);
  const held = (pieces, order) => (word(order) === order ? `${pieces} of ${order}` : JSON.stringify(`${pieces} of ${order}`));
  const dayAfter = (date) => new Date(Date.parse(`${date}T00:00Z`) + 86400e3).toISOString().slice(0, 10);
  const isLate = (row) => minutes(row.planned) >= 1080;
  const isEarly = (time) => minutes(time) < 360;
  // Rows of a day that are not late and are ticked as early as that tell that this clock does not count past midnight.
  const shifted = (date) => rows.some((row, i) => row.date === date && !isLate(row) && known.rows[i]?.done && isEarly(known.rows[i].done));
  // A time of a row: past midnight where a late row is ticked early in the day.
  const moment = (row, time) => {
    const next = isLate(row) && isEarly(time) && !shifted(row.date);
    return { date: next ? dayAfter(row.date) : row.date, time };
  };
  // A load stays in a bath for less than a day: it comes out on the day it went in, in the same minute at the earliest.
  const outOf = (into, at) => (at.date > into.date && at.time >= into.time ? { date: into.date, time: at.time } : at);
  const later = (at, by) => {
    const all = minutes(at.time) + Math.round(by);
    const date = all >= 1440 ? dayAfter(at.date) : at.date;
    return { date, time: `${two(Math.floor(all / 60) % 24)}:${two(all % 60)}` };
  };
  const stamp = (at) => (at.date === sheets.dataset.first ? at.time : `${at.date} ${at.time}`);
  const isAfter = (a, b) => `${a.date} ${a.time}` > `${b.date} ${b.time}`;

  const gather = (now) => {
    const loads = new Map();
    const steps = new Map();
    const apart = [];
    const readings = [];
    const water = [];
    const care = [];
    rows.forEach((row, i) => {
      const own = known.rows[i] ?? {};
      if (own.measured !== undefined) readings.push({ tank: row.tank, at: moment(row, own.done || own.read), celsius: own.measured });
      if (own.done === undefined) return;
      if (own.done === "") return apart.push(`${row.name}: done, but not when`);
      const at = moment(row, own.done);
      if (row.noted.length === 0) return apart.push(`${own.done} ${row.words}`);
      const out = row.noted.some((n) => n.out);
      for (const note of row.noted) {
        if (note.topped) water.push({ tank: note.topped, litres: note.litres, at });
        else if (note.cared) {
          // Wool that is in is noted as done, so that nobody gives it again; when it is taken out, that is the time.
          const open = care.find((c) => c.begun && c.tank === note.cared && c.what === note.what);
          if (open) Object.assign(open, { at, begun: note.begun, row });
          else care.push({ tank: note.cared, what: note.what, begun: note.begun, at, row });
        }
        else if (note.into) loads.set(note.load, { tank: note.into, holds: note.holds, into: at });
        else if (note.out) {
          const load = loads.get(note.out);
          if (load) load.out = outOf(load.into, at);
          else apart.push(`${own.done} ${row.name}: tick when ${note.out} went in, too`);
        } else if (note.load && !loads.has(note.load)) {
          if (!out) apart.push(`${own.done} ${row.name}: tick when ${note.load} went in, too`);
        } else {
          // The time of a row that begins at a tank is that of the tank: what follows it is done by the sheet's times.
          const when = out ? later(at, note.after) : at;
          if (!isAfter(when, now)) steps.set(note.load ?? JSON.stringify([note.order, note.lot]), { ...note, when });
        }
      }
    });
    for (const { begun, at, row } of care) if (begun) apart.push(`${at.time} ${row.name}: noted as done though it is still in: no load goes in before it is taken out`);
    return { loads, steps, readings, water, care, apart };
  };
  const notes = (now) => {
    const { loads, steps, readings, water, care, apart } = gather(now);
    const lines = [`notes: 1`];
    const nth = new Map();
    const count = new Map();
    const number = (order, lot) => {
      const key = JSON.stringify([order, lot]);
      if (!nth.has(key)) nth.set(key, (count.get(order) ?? 0) + 1), count.set(order, nth.get(key));
      return nth.get(key);
    };
    if (loads.size > 0) lines.push("loads:");
    for (const [id, load] of loads) {
      const holds = load.holds.map(([order, lot, pieces]) => (number(order, lot), steps.delete(JSON.stringify([order, lot])), held(pieces, order)));
      const out = load.out ? `, out: ${stamp(load.out)}` : "";
      lines.push(`  - {id: ${word(id)}, tank: ${word(load.tank)}, holds: [${holds.join(", ")}], in: ${stamp(load.into)}${out}}`);
    }
    if (steps.size > 0) lines.push("done:");
    for (const step of steps.values()) {
      // Lots are counted through the loads, then on.
      const lot = step.of > 1 ? `, lot: ${number(step.order, step.lot)}, pieces: ${step.pieces}` : "";
      const whose = step.load ? `load: ${word(step.load)}` : `order: ${word(step.order)}${lot}`;
      lines.push(`  - {${whose}, step: ${word(step.step)}, ${step.on ? "begun" : "done"}: ${stamp(step.when)}}`);
    }
    if (readings.length > 0) lines.push("readings:");
    for (const { tank, at, celsius } of readings) {
      lines.push(`  - {tank: ${word(tank)}, at: ${stamp(at)}, temperature: ${celsius} °C}`);
    }
    if (water.length > 0) lines.push("water:");
    for (const { tank, litres, at } of water) {
      lines.push(`  - {top up: ${word(tank)}, at: ${stamp(at)}, amount: ${litres} L}`);
    }
    if (care.length > 0) lines.push("care:");
    for (const { tank, what, at: ticked } of care) {
      // A bath is served with no load in it: a tick that comes later than the load's stands for the time before it.
      const inside = [...loads.values()].find((l) => l.tank === tank && isAfter(ticked, l.into) && !(l.out && isAfter(ticked, l.out)));
      const at = inside?.into ?? ticked;
      lines.push(`  - {tank: ${word(tank)}, do: ${word(what)}, done: ${stamp(at)}}`);
    }
    const words = Object.values(known.words).join("\n").trim();
    if (apart.length > 0) lines.push("# Ticked, and not part of these notes:", ...apart.map((a) => `# ${a}`));
    if (words) lines.push("# In words:", ...words.split("\n").map((w) => `# ${w}`));
    return lines.join("\n") + "\n";
  };
  const copy = async () => {
    const dates = rows.filter((_, i) => isDone(i)).map((row) => row.date);
    const own = rows.some((row) => row.date === today());
    const now = { date: own ? today() : (dates.at(-1) ?? sheets.dataset.first), time: clock() };
    const at = stamp(now).includes(" ") ? `"${stamp(now)}"` : stamp(now);
    const command = `tankday plan SCENARIO --at ${at} --done notes.yaml`;
    yaml.value = `# Save this as notes.yaml, then plan the rest: ${command}\n${notes(now)}`;
    panel.hidden = false;
    yaml.focus();
    yaml.select();
    let done = false;
    try {
      await navigator.clipboard.writeText(yaml.value);
      done = true;
    } catch {
      // Not allowed here: the old way, and the words stand there to be copied by hand.
      done = document.execCommand("copy");
    }
    copied.textContent = done ? "Copied. Save it as notes.yaml; its first line says what to type." : "Not copied: this browser does not allow it. Copy the text by hand.";
  };

  clearOld();
  load();
  show();
  tell(open() < rows.length ? `${open()} of ${rows.length} rows are open.` : "Tick what is done: the time is kept with it.");
})();
