// The browser, and one page opened in it from disk.

import { existsSync } from "node:fs";
import { pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";

const PLACES = [process.env.CHROMIUM, "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

export async function opened() {
  const place = PLACES.find((p) => p && existsSync(p));
  if (!place) throw new Error("no Chromium: install the Debian package chromium, or name one in CHROMIUM");
  return puppeteer.launch({
    executablePath: place,
    headless: true,
    args: ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--force-color-profile=srgb"],
  });
}

export async function closed(browser) {
  await browser.close();
}

// Opens a file; `wrong` collects requests to anywhere else, and errors of the script.
// `prepare` may change the page's world before anything in it runs.
export async function open(browser, path, wrong, prepare) {
  const page = await browser.newPage();
  await prepare?.(page);
  const own = pathToFileURL(path).href;
  await page.setRequestInterception(true);
  page.on("request", (request) => {
    const url = request.url();
    if (url.split("#")[0] === own) {
      request.continue();
    } else {
      wrong.push(`network: asks for ${url.slice(0, 100)}`);
      request.abort();
    }
  });
  page.on("console", (message) => {
    if (["error", "warn"].includes(message.type())) wrong.push(`console: ${message.text()}`);
  });
  page.on("pageerror", (error) => wrong.push(`console: ${error.message}`));
  await page.goto(own, { waitUntil: "load" });
  return page;
}
