import { readFile } from "node:fs/promises";
import type { Page } from "@playwright/test";
import { expect, it } from "vitest";
import { resultOf } from "../../core/report/result.ts";
import { readSessionBytes } from "../../electron/host/sessionFile.ts";
import { beginJob, findingsShown, lookAt, Program } from "./program.ts";

const job = {
  format: "borewright/job",
  version: 1,
  title: "Read by eye",
  layout: "i4",
  walk: ["1E", "1I", "2I"],
  sweepsPerStation: 3,
  agreement: "0.0002 in",
  gauges: [{ id: "dial", role: "bore", source: "typed", unit: "in", resolution: "0.00005 in" }],
};

/** What each dial reading says over the zero, inches. */
const OVER: Readonly<Record<string, string>> = { "1E": "0.0016", "1I": "0.00165", "2I": "0.0024" };

/** Types what the dial shows, wherever the focus is, and waits until it is taken. */
async function type(page: Page, text: string): Promise<void> {
  await page.keyboard.type(text);
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => (document.querySelector<HTMLInputElement>("[data-entry-line]")?.value ?? "") === "");
}

/** What stands on record once so many sweeps are there. */
async function recorded(path: string, sweeps: number) {
  for (;;) {
    const { recording } = readSessionBytes(await readFile(path));
    const { stations, references } = recording.run;
    const here = stations.all.reduce((sum, { collector }) => sum + collector.sweeps.length, 0);
    const open = recording.view().referenceSweeps.length;
    const closed = references.reduce((sum, reference) => sum + reference.sweeps.length, 0);
    if (here + Math.max(open, closed) >= sweeps) return recording;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

it("a walk with a dial that is read by eye: typed from the zero to the return check, marked as typed, and the same when opened again", async () => {
  let program = await Program.start();
  try {
    const { page } = program;
    await beginJob(program, job);
    const path = await program.sessionPath();
    await page.getByRole("navigation").getByRole("button", { name: /^Zero/ }).click();
    await page.getByRole("button", { name: "Take the zero" }).click();
    // Typed faster than the line for it can be there: nothing of it, or all of it, and never the rest of a number.
    await page.keyboard.type("0.00015");
    await page.keyboard.press("Enter");
    const line = page.locator("[data-entry-line]");
    await line.waitFor();
    await page.waitForTimeout(1_200);
    const early = (await recorded(path, 0)).view().referenceSweeps;
    expect(early.map(({ rawMinNm }) => rawMinNm)).toEqual(early.map(() => 3_810));
    for (let count = early.length; count < 3; count += 1) await type(page, "0.0001");
    await page.getByRole("button", { name: "On to the bores" }).click({ timeout: 60_000 });
    await page.getByRole("heading", { name: /^Cylinder 1, exhaust/ }).waitFor();

    let sweeps = 3;
    for (const bore of ["1E", "1I", "2I"]) {
      const zeroed = (Number(OVER[bore]) + 0.0001).toFixed(5);
      for (let place = 0; place < 2; place += 1) {
        // A slip of a digit is refused and does no harm.
        await page.keyboard.type("0.16");
        await page.keyboard.press("Enter");
        await page.getByRole("alert").filter({ hasText: "▲" }).waitFor();
        await page.keyboard.press("Control+A");
        for (let count = 0; count < 3; count += 1) {
          await type(page, zeroed);
          sweeps += 1;
          await recorded(path, sweeps);
        }
      }
    }
    await page.getByRole("heading", { name: /return check/i }).waitFor();
    for (let count = 0; count < 3; count += 1) await type(page, "0.0001");
    await page
      .getByText(/The walk is complete/)
      .first()
      .waitFor();

    const read = readSessionBytes(await readFile(path));
    expect(read.broken).toEqual([]);
    expect(read.differences).toEqual([]);
    const result = resultOf(read.recording, "intact");
    expect(result.complete).toBe(true);
    for (const bore of result.bores) {
      expect(bore.stations.map(({ clearanceNm }) => clearanceNm)).toEqual(
        [0, 0].fill(Math.round(Number(OVER[bore.name]) * 25_400_000)),
      );
      for (const { sweeps: own } of bore.stations) {
        expect(own.map(({ typed, use }) => [typed, use])).toEqual(Array(3).fill([true, "kept"]));
      }
    }
    expect(result.bores.map(({ verdict }) => verdict)).toEqual(["fits", "fits", "too loose"]);

    const shown = await findingsShown(program);
    expect(shown).toContain("typed");
    const { folder } = program;
    await program.close({ keep: true });
    program = await lookAt(folder);
    expect(await findingsShown(program)).toBe(shown);
  } finally {
    await program.close();
  }
});
