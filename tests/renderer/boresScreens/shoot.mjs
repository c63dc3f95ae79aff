// Takes a picture of every scene: node tests/renderer/boresScreens/shoot.mjs FOLDER [SCENE,… | all] [SIZE,…] [THEME,…] [PLACE] [EXTRA]
// The sessions are invented and the host is a stand-in; the reducer and the screens are the program's own.
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { chromium } from "@playwright/test";
import react from "@vitejs/plugin-react";
import { createServer } from "vite";
import { findBrowser } from "../../browser.mjs";

const [folder, scenes = "open", sizes = "1280x720", themes = "light", place = "Bores", extra = ""] =
  process.argv.slice(2);
if (folder === undefined) throw new Error("say into which folder");
mkdirSync(folder, { recursive: true });
const root = fileURLToPath(new URL("../../..", import.meta.url));
const server = await createServer({
  root,
  configFile: false,
  plugins: [react()],
  logLevel: "error",
  cacheDir: "node_modules/.cache/vite-screens",
  server: { port: 0, host: "127.0.0.1", hmr: false, watch: null },
});
await server.listen();
const { port } = server.httpServer.address();
const browser = await chromium.launch({ executablePath: findBrowser() ?? undefined });
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
    for (const scene of scenes.split(",")) {
      const query = `scene=${scene}&theme=${theme}&place=${place}${extra === "" ? "" : `&${extra}`}`;
      await page.goto(`http://127.0.0.1:${port}/tests/renderer/boresScreens/index.html?${query}`);
      await page.waitForSelector("h1");
      await page.waitForTimeout(350);
      const overflow = await page.evaluate(() => {
        const main = document.querySelector("main");
        const cut = [...document.querySelectorAll("main *")].filter(
          (one) =>
            one.scrollWidth > one.clientWidth + 1 &&
            getComputedStyle(one).overflowX !== "visible" &&
            one.clientWidth > 1,
        );
        return {
          sheet: main === null ? 0 : main.scrollHeight - main.clientHeight,
          cut: cut.map((one) => one.className).slice(0, 5),
          inner: [...document.querySelectorAll("main *")]
            .filter(
              (one) =>
                one.scrollHeight > one.clientHeight + 1 && ["auto", "scroll"].includes(getComputedStyle(one).overflowY),
            )
            .map((one) => `${one.className} +${one.scrollHeight - one.clientHeight}`),
        };
      });
      const tag = extra === "" ? "" : `-${extra.replace(/[^a-z0-9]/gi, "")}`;
      const name = `${place}-${scene}-${size}-${theme}${tag}.png`;
      await page.screenshot({ path: `${folder}/${name}`, fullPage: false });
      console.log(name, JSON.stringify(overflow));
    }
  }
  await page.close();
}
await browser.close();
await server.close();
process.exit(bad === 0 ? 0 : 1);
