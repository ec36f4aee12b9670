// The pictures as files, parsed and drawn by a renderer that shares nothing with the one of the program.

import { execFileSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { join } from "node:path";

export function checkPictures(dir) {
  const wrong = [];
  const files = readdirSync(dir).filter((f) => f.endsWith(".svg"));
  if (files.length === 0) wrong.push("svg: there is no picture");
  for (const file of files) {
    try {
      const png = execFileSync("rsvg-convert", [join(dir, file)], { maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "pipe"] });
      // A picture of nothing packs into far less.
      if (png.length < 4000) wrong.push(`svg: ${file} draws next to nothing`);
    } catch (error) {
      wrong.push(`svg: ${file}: ${String(error.stderr).trim()}`);
    }
  }
  return wrong;
}
