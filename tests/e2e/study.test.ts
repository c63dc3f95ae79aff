import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { publishedStudy } from "../study/publishedStudy.ts";
import { Program } from "./program.ts";

/** The built program, with its own simulated gauges: one simulated person plays all that are named. */
describe("a gauge study on simulated gauges", () => {
  let program: Program;
  beforeAll(async () => {
    program = await Program.start();
  });
  afterAll(() => program.close());

  test("is set up on screen, measured hands-free, and shows both methods and every reading", async () => {
    const { page } = program;
    const place = (name: string) =>
      page
        .getByRole("navigation")
        .getByRole("button", { name: new RegExp(`^${name}`) })
        .click();
    await page.getByRole("button", { name: "Try it with simulated gauges" }).click();
    await page.getByRole("heading", { name: "Lifters" }).waitFor();
    await place("Study");
    await page.getByLabel("People, with commas between").fill("Ann, Ann");
    await page.getByRole("button", { name: "Begin the study" }).click();
    await page.getByText("Ann is named twice").waitFor();
    await page.getByLabel("People, with commas between").fill("Ann, Ben");
    await page.getByLabel("Repeats").fill("2");
    for (const bore of await page.getByRole("checkbox").all()) await bore.uncheck();
    await page.getByText("at least two bores").waitFor();
    await page.getByRole("checkbox", { name: "1I" }).check();
    await page.getByRole("checkbox", { name: "1E" }).check();
    await page.getByText("8 readings in all.").waitFor();
    await page.getByRole("button", { name: "Begin the study" }).click();
    await page.getByRole("heading", { name: "Zero", exact: true }).waitFor();
    await page.getByRole("button", { name: "Let simulated hands work" }).click();
    await place("Study");
    await page.getByText(/of 8 readings are still to come/).waitFor();
    await page.getByText("7 of 8 readings are still to come").waitFor({ timeout: 300_000 });
    await page.getByRole("img", { name: /^1 reading of 2 bores/ }).waitFor();
    await page.getByRole("heading", { name: /^The gauge takes .* of the band; / }).waitFor({ timeout: 240_000 });
    expect(await page.getByRole("rowheader", { name: /^Gauge, both/ }).count()).toBe(1);
    await page.getByRole("img", { name: /^8 readings of 2 bores by Ann, Ben/ }).waitFor();
  });

  test("is read from a file beside the open session; a file that makes no sense is refused with its path", async () => {
    const { page } = program;
    const choose = (name: string, content: object) =>
      page
        .getByLabel("Study file")
        .setInputFiles({ name, mimeType: "application/json", buffer: Buffer.from(JSON.stringify(content)) });
    await choose("spoilt.study.json", { ...publishedStudy, people: ["A", "B"] });
    await page.getByText(/spoilt\.study\.json: readings\[20\]\.person: found "C"/).waitFor();
    await choose("published.study.json", { ...publishedStudy, band: "6 mm" });
    await page.getByRole("heading", { name: "The gauge takes 30.2 % of the band; 4 distinct categories" }).waitFor();
    await page.getByRole("img", { name: /^90 readings of 10 bores by A, B, C/ }).waitFor();
    expect(await page.getByText("spoilt.study.json").count()).toBe(0);
    await page.getByRole("button", { name: "Put it away" }).click();
    await page.getByRole("img", { name: /^90 readings/ }).waitFor({ state: "detached" });
  });
});
