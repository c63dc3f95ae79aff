import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { chromium, type Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording } from "../../core/session/recording.ts";
import { openParcel } from "../../electron/host/parcel/openParcel.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { findBrowser } from "../browser.mjs";
import { walkFeed } from "../session/walkFeed.ts";
import { Program } from "./program.ts";

const job = {
  format: "borewright/job",
  version: 1,
  title: "Three bores",
  block: "invented",
  walk: ["1I", "1E", "3I"],
  returnCheckEvery: 2,
};
const { text } = walkFeed(job, simulateFeed(parseJob(job), { seed: 5, readingsPerSecond: 10 }).lines);
const recorded = Recording.read(text);

/** From the record to the next builder's hands: a recorded session (simulated), the real host, the real page. */
describe("recheck and handover on the built program with a simulated session file", () => {
  let folder: string;
  let program: Program;
  let page: Page;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "borewright-handover-"));
    await writeFile(join(folder, "three.bwsession"), text);
    program = await Program.start(folder);
    page = program.page;
    await page.getByRole("button", { name: "Only look at Three bores" }).click();
    await page.getByRole("heading", { name: "Findings", level: 1 }).waitFor();
  });
  afterAll(async () => {
    await program?.close({ keep: true });
    await rm(folder, { recursive: true, force: true });
  });

  const goTo = (place: string) => page.locator("nav").getByText(place, { exact: true }).click();

  test("the session is watched again: by time, from sweep to sweep, and at the end it shows what Findings show", async () => {
    await goTo("Recheck");
    await page.getByRole("button", { name: "Watch it again" }).click();
    await page.getByRole("button", { name: "Play", exact: true }).waitFor();
    const time = page.getByRole("slider", { name: "Time of the replay" });
    const at = async () => Number(await time.inputValue());
    await page.getByRole("button", { name: "Next sweep" }).click();
    const first = await at();
    await page.getByRole("button", { name: "Next sweep" }).click();
    expect(await at()).toBeGreaterThan(first);
    await page.getByRole("button", { name: "Sweep before" }).click();
    expect(await at()).toBe(first);

    await page.getByText("64×", { exact: true }).click();
    await page.getByRole("button", { name: "Play", exact: true }).click();
    await expect.poll(at).toBeGreaterThan(first + 10_000);
    await page.getByRole("button", { name: "Pause" }).click();

    await page.getByRole("button", { name: "All at once" }).click();
    await page.getByText("Complete", { exact: false }).first().waitFor();
    const { violations } = await new AxeBuilder({ page })
      .withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"])
      .analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    await page.getByRole("button", { name: "Leave the replay" }).click();
  });

  test("a sweep is struck in a derived session that names this one, whose file stays as it was", async () => {
    await goTo("Recheck");
    await page.getByRole("button", { name: "Strike it" }).first().click();
    await page.getByLabel("Why").fill("the gauge slipped");
    await page.getByRole("button", { name: "Make a session with this change" }).click();
    await page.getByRole("button", { name: "Look at it" }).waitFor();
    expect(await readFile(join(folder, "three.bwsession"), "utf8")).toBe(text);
    const name = (await readdir(folder)).find((entry) => entry.includes("derived"));
    const derived = Recording.read(await readFile(join(folder, name ?? "none"), "utf8"));
    expect(derived.header.derivedFrom?.seal).toBe(recorded.recording.seal);
    expect(derived.inputs.at(-1)).toMatchObject({ type: "note", text: "the gauge slipped" });
  });

  test("the parcel that is written is intact and signed, and the next builder's page says so", async () => {
    await goTo("Handover");
    await page.getByText("Sign it with the shop's own key").click();
    await page.getByLabel("Name of the shop").fill("The simulated shop");
    const coming = page.waitForEvent("download");
    await page.getByRole("button", { name: "Make the parcel" }).click();
    const path = join(folder, "made.bwparcel");
    await (await coming).saveAs(path);
    const { check, session } = await openParcel(await readFile(path));
    expect([check.outcome, check.shop?.name]).toEqual(["signed-new", "The simulated shop"]);
    expect(session?.toString("utf8")).toBe(text);

    await page.getByLabel("Parcel file").setInputFiles(path);
    await page.getByText("signed by a key of The simulated shop that was never seen here before").waitFor();
    await page.getByRole("button", { name: "Remember this key" }).click();
    await page.getByText("signed by a known key of The simulated shop").waitFor();

    const bytes = await readFile(path);
    bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] as number) ^ 1;
    const damaged = join(folder, "damaged.bwparcel");
    await writeFile(damaged, bytes);
    await page.getByLabel("Parcel file").setInputFiles(damaged);
    await page.getByText(/CHANGED since it was made|Not readable as a parcel/).waitFor();
    expect(await page.getByRole("button", { name: "Take its session in" }).count()).toBe(0);
    await page.getByRole("button", { name: "Put it away" }).click();
  });

  test("the report is shown in its own styles under the page's strict policy, and prints what it shows", async () => {
    const complaints: string[] = [];
    page.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
    await goTo("Handover");
    await page.getByRole("button", { name: "Show the report" }).click();
    const report = page.frameLocator('iframe[title="Report"]');
    await report.getByText("Lifter bores: report of measurement").waitFor();
    const width = await report
      .locator("table")
      .first()
      .evaluate((table) => table.getBoundingClientRect().width);
    const styled = await report.locator("body").evaluate((body) => body.ownerDocument.adoptedStyleSheets.length);
    expect(width).toBeGreaterThan(300);
    expect(styled).toBe(1);
    expect(complaints).toEqual([]);

    const coming = page.waitForEvent("download");
    await page.getByRole("button", { name: "Keep it as a page (HTML)" }).click();
    const path = join(folder, "report.html");
    await (await coming).saveAs(path);
    const browser = await chromium.launch({
      executablePath: findBrowser() ?? "",
      args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
    });
    const alone = await browser.newPage();
    await alone.goto(`file://${path}`);
    const said = await alone.locator("body").textContent();
    await browser.close();
    for (const { name } of recorded.recording.run.findings()) expect(said).toContain(name);
    expect(said).toContain(recorded.recording.seal);
  });
});
