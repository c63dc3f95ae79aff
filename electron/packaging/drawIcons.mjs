// Draws the icons again: each .svg in icons/ as .png (512), .ico for Windows and .icns for macOS. What it writes is kept in
// the repository, so this runs only after a drawing was changed: node electron/packaging/drawIcons.mjs
import { readdir, readFile, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { chromium } from "@playwright/test";
import { findBrowser } from "../../tests/browser.mjs";
import { icnsOf, icoOf } from "./iconFiles.mjs";

const folder = fileURLToPath(new URL("icons/", import.meta.url));
const SIZES = [16, 24, 32, 48, 64, 128, 256, 512, 1024];

const executablePath = findBrowser();
const browser = await chromium.launch({
  ...(executablePath === null ? {} : { executablePath }),
  args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
});
const page = await browser.newPage();
for (const name of (await readdir(folder)).filter((entry) => entry.endsWith(".svg"))) {
  const svg = await readFile(folder + name, "utf8");
  /** @type {Map<number, Buffer>} */
  const pictures = new Map();
  for (const size of SIZES) {
    await page.setViewportSize({ width: size, height: size });
    await page.setContent(`<style>*{margin:0}svg{display:block;width:${size}px;height:${size}px}</style>${svg}`);
    pictures.set(size, await page.screenshot({ omitBackground: true }));
  }
  const stem = folder + name.slice(0, -".svg".length);
  await writeFile(`${stem}.png`, /** @type {Buffer} */ (pictures.get(512)));
  await writeFile(`${stem}.ico`, icoOf(pictures));
  await writeFile(`${stem}.icns`, icnsOf(pictures));
}
await browser.close();
