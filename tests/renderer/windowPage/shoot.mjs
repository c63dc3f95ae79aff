// Takes a picture of the window in invented states: node tests/renderer/windowPage/shoot.mjs FOLDER SCENE:PLACE,… [SIZE,…] [THEME,…] [UNIT]
// The host is a stand-in; the reducer and the screens are the program's own.
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { chromium } from "@playwright/test";
import react from "@vitejs/plugin-react";
import { createServer } from "vite";

const [folder, asked = "first:Start", sizes = "1280x720", themes = "light", unit = "in"] = process.argv.slice(2);
if (folder === undefined) throw new Error("say into which folder");
mkdirSync(folder, { recursive: true });
const root = fileURLToPath(new URL("../../..", import.meta.url));
const server = await createServer({
  root,
  configFile: false,
  plugins: [react()],
  logLevel: "error",
  cacheDir: "node_modules/.cache/vite-window-page",
  server: { port: 0, host: "127.0.0.1" },
});
await server.listen();
const { port } = server.httpServer.address();
const browser = await chromium.launch({ executablePath: process.env.BOREWRIGHT_BROWSER ?? "/usr/bin/chromium" });
let bad = 0;
for (const size of sizes.split(",")) {
  const [width, height] = size.split("x").map(Number);
  const page = await browser.newPage({ viewport: { width, height } });
  page.on("pageerror", (error) => {
    bad += 1;
    console.log("error:", error.message);
  });
  page.on("console", (message) => message.type() === "error" && console.log("console:", message.text()));
  for (const theme of themes.split(",")) {
    for (const one of asked.split(",")) {
      const [scene, place] = one.split(":");
      await page.goto(
        `http://127.0.0.1:${port}/tests/renderer/windowPage/index.html?scene=${scene}&place=${place}&theme=${theme}&unit=${unit}`,
      );
      await page.waitForSelector("html[data-ready]");
      await page.waitForTimeout(400);
      const name = `${place}-${scene}-${size}-${theme}.png`;
      await page.screenshot({ path: `${folder}/${name}` });
      const wide = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      const sheet = await page.evaluate(() => {
        const main = document.querySelector("main");
        return main === null
          ? ""
          : `sheet ${main.scrollHeight - main.clientHeight} high, ${main.scrollWidth - main.clientWidth} wide`;
      });
      console.log(name, wide > 0 ? `TOO WIDE by ${wide}` : "", sheet);
    }
  }
  await page.close();
}
await browser.close();
await server.close();
process.exit(bad === 0 ? 0 : 1);
