import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";

const INSTALLED = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome",
  "/usr/bin/google-chrome-stable",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
];

/** Path of a browser for the tests: BOREWRIGHT_BROWSER, an installed one, or null to let the test runner use its own. */
export function findBrowser() {
  const asked = process.env.BOREWRIGHT_BROWSER;
  if (asked) return asked;
  return INSTALLED.find((path) => existsSync(path)) ?? null;
}

const isRoot = () => process.getuid?.() === 0;
const works = (command, args) => spawnSync(command, args, { stdio: "ignore" }).status === 0;

let lists = false;
function installPackage(name) {
  if (!isRoot() || !works("apt-get", ["--version"])) return false;
  const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
  if (!lists) {
    spawnSync("apt-get", ["update", "-qq"], { stdio: "ignore", env });
    lists = true;
  }
  return (
    spawnSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", name], { stdio: "ignore", env }).status ===
    0
  );
}

/** Sees to it that there is a browser, saying in one line what it does. Throws one clear sentence if none can be had. */
export function provideBrowser() {
  if (findBrowser() !== null) return;
  console.log("Fetching a browser for the tests …");
  if (works("npx", ["playwright", "install", "chromium"])) return;
  console.log("That failed; installing the system's Chromium package …");
  if (installPackage("chromium") && findBrowser() !== null) return;
  throw new Error("No browser for the tests: install Chromium or Chrome, or set BOREWRIGHT_BROWSER to its path.");
}

/** Sees to the pseudo-terminal tool on Debian as root; elsewhere the tests that need it are skipped and say so. */
export function providePseudoTerminals() {
  if (works("socat", ["-V"])) return;
  console.log("Installing socat for tests on pseudo-terminals …");
  if (!installPackage("socat")) console.log("There is no socat: tests on pseudo-terminals will be skipped.");
}

/** Sees to the tool that reads printed pages on Debian as root; elsewhere the tests that need it are skipped and say so. */
export function providePrintReader() {
  if (works("pdftotext", ["-v"])) return;
  console.log("Installing poppler-utils for tests of printed pages …");
  if (!installPackage("poppler-utils")) console.log("There is no pdftotext: tests of printed pages will be skipped.");
}

/** A letter outside the alphabets of Europe that the tests print; the fonts of a bare system may have no such letter. */
export const FAR_LETTER = "工";

/** Whether an installed font has FAR_LETTER; where fonts can not be listed, true: such systems come with one. */
export function hasFarLetter() {
  const { status, stdout } = spawnSync("fc-list", [`:charset=${FAR_LETTER.codePointAt(0).toString(16)}`, "file"]);
  return status !== 0 || stdout.length > 0;
}

/** Sees to a font for names in other alphabets on Debian as root; elsewhere the check that needs it is skipped. */
export function provideFarLetter() {
  if (hasFarLetter()) return;
  console.log("Installing a font for tests of names in other alphabets …");
  installPackage("fonts-droid-fallback");
  if (!hasFarLetter()) console.log("No font has such letters: tests of them in print will be skipped.");
}
