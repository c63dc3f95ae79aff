import { afterAll, beforeAll, describe, expect, test } from "vitest";
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
    await page.getByText("7 of 8 readings are still to come").waitFor({ timeout: 60_000 });
    await page.getByRole("img", { name: /^1 reading of 2 bores/ }).waitFor();
    await page.getByRole("heading", { name: /^The gauge takes .* of the band; / }).waitFor({ timeout: 240_000 });
    expect(await page.getByRole("rowheader", { name: /^Gauge, both/ }).count()).toBe(1);
    await page.getByRole("img", { name: /^8 readings of 2 bores by Ann, Ben/ }).waitFor();
  });
});
