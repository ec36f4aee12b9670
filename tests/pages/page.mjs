// Everything that is checked of one page. Each fault is told as `kind: what`.

import { readFileSync, mkdirSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { HtmlValidate } from "html-validate";
import { open } from "./browser.mjs";
import { checkPaper } from "./paper.mjs";
import { checkTouches } from "./touches.mjs";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const WIDTHS = [320, 360, 768, 1440];
const LOOKS = ["light", "dark"];
const GROUND = { light: "rgb(252, 251, 248)", dark: "rgb(20, 24, 28)" };

const validator = new HtmlValidate({
  root: true,
  extends: ["html-validate:standard"],
  rules: {
    // Matters of taste, not of validity.
    "long-title": "off",
    "no-inline-style": "error",
    "no-trailing-whitespace": "off",
    // A tick box beside its deed has its name as aria-label.
    "input-missing-label": "error",
    // Regions that scroll take the focus on purpose.
    "tel-non-breaking": "off",
    // Many pictures and tables name themselves.
    "no-redundant-aria-label": "off",
  },
});

export async function checkPage(browser, { name, path, sheets }, { shots, looks = LOOKS, widths = WIDTHS } = {}) {
  const wrong = [...(await valid(path))];
  const page = await open(browser, path, wrong);
  try {
    for (const look of looks) {
      await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: look }]);
      for (const width of widths) {
        await page.setViewport({ width, height: width < 700 ? 740 : 900 });
        wrong.push(...(await layout(page, `${look}, ${width} px`)));
        if (shots) await shot(page, shots, `${name.replaceAll("/", "-")}-${look}-${width}`);
      }
      wrong.push(...(await ground(page, look)));
      wrong.push(...(await blank(page)));
      wrong.push(...(await accessible(page, look)));
    }
    await page.emulateMediaFeatures([]);
    wrong.push(...(await keyboard(page)));
    wrong.push(...(await checkTouches(page)));
    wrong.push(...(await checkPaper(page, sheets)));
  } finally {
    await page.close();
  }
  return [...new Set(wrong)];
}

async function valid(path) {
  const report = await validator.validateFile(path);
  const messages = report.results.flatMap((r) => r.messages);
  return messages.slice(0, 12).map((m) => `html: line ${m.line}: ${m.message} (${m.ruleId})`);
}

async function shot(page, dir, name) {
  mkdirSync(dir, { recursive: true });
  await page.screenshot({ path: join(dir, `${name}.png`), fullPage: true });
}

// No sideways scroll; exactly one width of every picture is shown, none of them wider than its place.
async function layout(page, where) {
  return page.evaluate((where) => {
    const wrong = [];
    const root = document.documentElement;
    if (root.scrollWidth > root.clientWidth) {
      const wide = [...document.querySelectorAll("body *")].filter(
        (e) => e.getBoundingClientRect().right > root.clientWidth + 1 && !e.closest(".tw, pre, svg, .vh"),
      );
      const names = wide.slice(0, 3).map((e) => `${e.tagName.toLowerCase()}.${e.getAttribute("class") ?? ""}`);
      wrong.push(`scroll: sideways at ${where}: ${root.scrollWidth} of ${root.clientWidth} px; ${names.join(", ")}`);
    }
    for (const picture of document.querySelectorAll(".pic")) {
      const shown = [...picture.querySelectorAll("svg[role=img]")].filter((s) => s.getBoundingClientRect().width > 0);
      if (shown.length !== 1) wrong.push(`pictures: ${picture.id} shows ${shown.length} of its widths at ${where}`);
    }
    const ids = [...document.querySelectorAll("[id]")].map((e) => e.id);
    const twice = ids.filter((id, i) => ids.indexOf(id) !== i);
    if (twice.length > 0) wrong.push(`ids: twice on the page: ${twice.slice(0, 3).join(", ")}`);
    return wrong;
  }, where);
}

async function ground(page, look) {
  const colour = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  return colour === GROUND[look] ? [] : [`look: the ground is ${colour} where it should be ${look}`];
}

// Every picture is seen: nothing lies over it.
async function blank(page) {
  const wrong = [];
  for (const picture of await page.$$(".pic")) {
    const { length } = await picture.screenshot({ encoding: "binary" });
    // A picture of nothing packs into far less.
    if (length < 3000) wrong.push(`blank: nothing is seen of ${await picture.evaluate((e) => e.id)}`);
  }
  return wrong;
}

async function accessible(page, look) {
  await page.setViewport({ width: 1440, height: 900 });
  await page.evaluate(() => document.querySelectorAll("details").forEach((d) => (d.open = true)));
  // All of it in view: what the bar at the foot covers would count as too small, and scrolls free.
  const tall = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewport({ width: 1440, height: Math.max(900, tall) });
  await page.evaluate(AXE);
  const result = await page.evaluate(() =>
    globalThis.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
      resultTypes: ["violations"],
    }),
  );
  await page.evaluate(() => document.querySelectorAll("details").forEach((d) => (d.open = false)));
  return result.violations.map((v) => {
    const node = v.nodes[0];
    return `axe (${look}): ${v.id}: ${v.help}; ${v.nodes.length} times, first ${node?.html.slice(0, 140)}`;
  });
}

// Tab reaches each control once, and each shows that it has the focus.
async function keyboard(page) {
  const wrong = [];
  await page.evaluate(() => {
    document.querySelectorAll("details").forEach((d) => (d.open = false));
    const all = document.querySelectorAll("a[href], button, summary, input, select, [tabindex='0']");
    [...all].filter((e) => e.checkVisibility()).forEach((e, i) => e.setAttribute("data-control", String(i)));
    document.activeElement?.blur();
    window.scrollTo(0, 0);
  });
  const controls = await page.evaluate(() => document.querySelectorAll("[data-control]").length);
  const reached = new Set();
  for (let i = 0; i < controls + 20; i += 1) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const e = document.activeElement;
      if (!e || e === document.body) return null;
      const style = getComputedStyle(e);
      return {
        control: e.dataset.control,
        seen: parseFloat(style.outlineWidth) >= 2 && style.outlineStyle !== "none",
        name: `${e.tagName.toLowerCase()} ${(e.getAttribute("aria-label") ?? e.textContent).trim().slice(0, 40)}`,
      };
    });
    if (at === null || (at.control !== undefined && reached.has(at.control))) break;
    if (at.control !== undefined) reached.add(at.control);
    if (!at.seen) wrong.push(`keyboard: the focus is not seen on ${at.name}`);
  }
  if (reached.size < controls) {
    const missed = await page.evaluate(
      (reached) =>
        [...document.querySelectorAll("[data-control]")]
          .filter((e) => !reached.includes(e.dataset.control))
          .slice(0, 3)
          .map((e) => e.outerHTML.slice(0, 80)),
      [...reached],
    );
    wrong.push(`keyboard: ${controls - reached.size} of ${controls} controls are not reached: ${missed.join(" | ")}`);
  }
  return wrong.slice(0, 6);
}
