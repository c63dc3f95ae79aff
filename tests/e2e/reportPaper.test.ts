import { spawnSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { type Browser, chromium } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import { reportOf } from "../../core/report/reportOf.ts";
import { type Result, resultOf } from "../../core/report/result.ts";
import { FAR_LETTER, findBrowser, hasFarLetter } from "../browser.mjs";
import { everyVerdict, FOUR_STATIONS, type Sample, sampleSession, THIRTY_TWO } from "../report/sampleSession.ts";

const isThere = (command: string) => spawnSync(command, ["-v"]).error === undefined;
const lacking = !isThere("pdftotext") || !isThere("pdfinfo");
if (lacking) console.warn("There is no pdftotext (poppler-utils): the report on paper is not tested.");

/** Pages that a report may take, least and most. */
const SAMPLES: readonly {
  readonly name: string;
  readonly sample: Sample;
  readonly pages: readonly [number, number];
}[] = [
  { name: "sixteen bores of every verdict", sample: { clearanceNm: everyVerdict }, pages: [5, 8] },
  {
    name: "32 bores of four stations",
    sample: { job: { layout: THIRTY_TWO, stations: FOUR_STATIONS }, clearanceNm: everyVerdict },
    pages: [8, 14],
  },
  { name: "two bores, simulated", sample: { job: { walk: ["1I", "1E"] }, simulated: true }, pages: [3, 6] },
];
/** Of the paper, mm. */
const WIDTHS = { A4: 210, Letter: 215.9 } as const;
const PAPERS = { A4: "595.92 x 842.88", Letter: "612 x 792" } as const;

let browser: Browser;
let folder: string;

beforeAll(async () => {
  if (lacking) return;
  folder = await mkdtemp(join(tmpdir(), "borewright-paper-"));
  const path = findBrowser();
  browser = await chromium.launch({
    ...(path === null ? {} : { executablePath: path }),
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  });
});

afterAll(async () => {
  if (lacking) return;
  await browser.close();
  await rm(folder, { recursive: true, force: true });
});

function run(command: string, args: readonly string[]): string {
  const { stdout, status, stderr } = spawnSync(command, args, { encoding: "utf8" });
  if (status !== 0) throw new Error(`${command}: ${stderr}`);
  return stdout;
}

/** Prints a page from a dark screen; answers with what the browser complained of, the text of each page and its size. */
async function print(html: string, format: "A4" | "Letter", name: string) {
  const path = join(folder, `${name.replace(/\W+/g, "-")}-${format}.pdf`);
  const page = await browser.newPage({ colorScheme: "dark" });
  const asked: string[] = [];
  const troubles: string[] = [];
  page.on("request", (request) => asked.push(request.url()));
  page.on("console", (message) => troubles.push(message.text()));
  page.on("pageerror", (error) => troubles.push(error.message));
  try {
    await page.setContent(html);
    await page.pdf({ path, format, printBackground: true });
    // As wide as the paper between its margins: what is wider would be shrunk in print.
    await page.emulateMedia({ media: "print" });
    await page.setViewportSize({ width: Math.floor(((WIDTHS[format] - 28) * 96) / 25.4), height: 900 });
    const tooWide = await page.evaluate(() =>
      [...document.querySelectorAll("body *")]
        .filter((element) => element.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5)
        .map((element) => `${element.tagName} ${element.textContent?.slice(0, 40)}`)
        .filter((text) => !text.includes("SIMULATED")),
    );
    const ground = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    return {
      path,
      asked,
      troubles,
      ground,
      tooWide,
      pages: run("pdftotext", ["-layout", path, "-"]).replace(/\f$/, "").split("\f"),
      size: /Page size:\s+([\d.]+ x [\d.]+)/.exec(run("pdfinfo", [path]))?.[1],
    };
  } finally {
    await page.close();
  }
}

const inches = (nm: number) => formatLength(toNm(nm), "in", 5).replace("-", "−");
const micrometres = (nm: number) => formatLength(toNm(nm), "um", 1).replace("-", "−");

/** The letters of the word printed across each page, sorted: turned as it is, it is read letter by letter. */
function largeLetters(path: string): string[] {
  const pages = run("pdftotext", ["-bbox", path, "-"]).split("<page ").slice(1);
  return pages.map((page) =>
    [...page.matchAll(/yMin="([\d.-]+)" xMax="[\d.-]+" yMax="([\d.-]+)">([^<]*)</g)]
      .filter(([, from, to]) => Number(to) - Number(from) > 30)
      .flatMap(([, , , letters = ""]) => [...letters])
      .sort()
      .join(""),
  );
}

/** Lines of the table of bores that state a clearance: height, clock, clearance and U in both units, sweeps. */
function clearanceLines(text: string): string[] {
  const line = /(\S+) +(axial|cross) +([−\d.]+) +([−\d.]+) +([\d.]+) +([\d.]+) +(\d+ of \d+)/g;
  return [...text.matchAll(line)].map((found) => found.slice(1).join(" "));
}

function expectedLines({ bores }: Result): string[] {
  return bores.flatMap((bore) =>
    bore.stations.flatMap(({ height, clock, clearanceNm: c, uncertaintyNm: u, sweeps }) => {
      if (c === null || u === null) return [];
      const kept = sweeps.filter((sweep) => sweep.use === "kept").length;
      return [
        `${height} ${clock} ${inches(c)} ${micrometres(c)} ${inches(u)} ${micrometres(u)} ${kept} of ${sweeps.length}`,
      ];
    }),
  );
}

describe.skipIf(lacking).each(SAMPLES)("the report of $name", ({ name, sample, pages: [least, most] }) => {
  const { recording, inputs } = sampleSession(sample);
  const html = reportOf({ recording, inputs });
  const result = resultOf(recording, "intact");

  test.each(["A4", "Letter"] as const)("on %s", async (format) => {
    const { pages, path, size, asked, troubles, ground, tooWide } = await print(html, format, name);
    expect(size).toBe(PAPERS[format]);
    expect(pages.length).toBeGreaterThanOrEqual(least);
    expect(pages.length).toBeLessThanOrEqual(most);
    for (const [index, text] of pages.entries()) {
      expect(text).toContain(`Page ${index + 1} of ${pages.length}`);
      expect(text).toContain(`Seal ${recording.seal}`);
      expect(text.includes("SIMULATED: proves nothing about a block")).toBe(sample.simulated === true);
      // A page with a heading and nothing else would be a page wasted.
      expect(text.trim().split("\n").length).toBeGreaterThan(4);
    }
    expect(largeLetters(path)).toEqual(pages.map(() => (sample.simulated === true ? "ADEILMSTU" : "")));
    expect(clearanceLines(pages.join("\n"))).toEqual(expectedLines(result));
    expect(asked.filter((url) => !url.startsWith("about:"))).toEqual([]);
    expect(troubles).toEqual([]);
    expect(tooWide).toEqual([]);
    expect(ground).toBe("rgb(255, 255, 255)");
  });

  test("repeats the head of the table of bores on each of its pages and splits no bore", async () => {
    const { pages } = await print(html, "Letter", `${name} heads`);
    let seen = 0;
    for (const text of pages) {
      const rows = clearanceLines(text);
      if (rows.length === 0) continue;
      expect(text).toMatch(/height\s+clock\s+in\s+µm\s+in\s+µm/);
      expect(rows.length % recording.job.stations.length).toBe(0);
      seen += rows.length;
    }
    expect(seen).toBe(expectedLines(result).length);
  });
});

describe.skipIf(lacking)("odd content, and the page on a screen", () => {
  const long = "Außergewöhnlich-lange-Bezeichnung ".repeat(5).trim();
  const odd: Sample = {
    job: {
      title: long,
      block: `</style><script>document.title = "changed"</script>${"x".repeat(120)}`,
      operator: "محمد \u202Eevil\u202C & 工匠",
      limits: { low: "0.0013 in", high: "0.0019 in", serviceHigh: "0.0026 in", source: "sheet ".repeat(60).trim() },
      stations: [
        { height: "just below the oil gallery, full skirt", clock: "axial" },
        { height: "x".repeat(40), clock: "cross" },
      ],
    },
    clearanceNm: everyVerdict,
  };

  test.each(["A4", "Letter"] as const)("stays inside the paper and whole, on %s", async (format) => {
    const { recording } = sampleSession(odd);
    const html = reportOf({ recording }, { names: { shop: "S".repeat(120), customer: long, address: long } });
    const { path, troubles, tooWide } = await print(html, format, "odd");
    expect(tooWide).toEqual([]);
    expect(troubles).toEqual([]);
    const letters = run("pdftotext", ["-raw", path, "-"]).replace(/\s+/g, "");
    expect(letters).toContain("x".repeat(120));
    expect(letters).toContain("S".repeat(120));
    expect(letters).toContain("</style><script>");
    // Every word lies between the margins of its page.
    const words = run("pdftotext", ["-bbox", path, "-"]);
    const width = Number(/<page width="([\d.]+)"/.exec(words)?.[1]);
    const ends = [...words.matchAll(/<word xMin="([\d.-]+)" yMin="[\d.-]+" xMax="([\d.-]+)"/g)];
    expect(ends.length).toBeGreaterThan(500);
    const margin = (14 / 25.4) * 72 - 1;
    expect(ends.filter(([, from, to]) => Number(from) < margin || Number(to) > width - margin)).toEqual([]);
  });

  test.skipIf(!hasFarLetter())("letters that a font of the system has are printed", async () => {
    const { recording } = sampleSession(odd);
    const { path } = await print(reportOf({ recording }), "A4", "far");
    expect(run("pdftotext", ["-raw", path, "-"])).toContain(`${FAR_LETTER}匠`);
  });

  test("a page on a screen scrolls a wide table, never the page", async () => {
    const { recording } = sampleSession(odd);
    const page = await browser.newPage({ viewport: { width: 480, height: 800 } });
    try {
      await page.setContent(reportOf({ recording }));
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(480);
      expect(await page.title()).not.toBe("changed");
    } finally {
      await page.close();
    }
  });

  test("a reader that cannot see the page finds its way in it", async () => {
    const { recording } = sampleSession({ clearanceNm: everyVerdict });
    // The page's own policy would keep the checker's script out as well.
    const context = await browser.newContext({ bypassCSP: true });
    try {
      const page = await context.newPage();
      await page.setContent(reportOf({ recording }));
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    } finally {
      await context.close();
    }
  });
});
