import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import { type Result, resultSchema } from "../../core/report/result.ts";
import { Recording } from "../../core/session/recording.ts";
import { runHere } from "./runHere.ts";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "smallest-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** One bore of two stations, rocked before a display of ten readings a second that never shows the very turn. */
async function recorded(sends: "stream" | "held"): Promise<string> {
  const recording = Recording.begin({
    job: {
      format: "borewright/job",
      version: 1,
      walk: ["1I"],
      returnCheckEvery: 0,
      gauges: [{ id: "bore", role: "bore", sends, unit: "mm", resolution: "0.0005 mm" }],
    },
    createdIso: "2026-01-02T03:04:05.000Z",
    app: "borewright 0.0.0",
  });
  let text = recording.headerText;
  let t = 0;
  const feed = (event: object, afterMs = 0) => {
    t += afterMs;
    text += recording.record({ ...event, t } as Parameters<Recording["record"]>[0]).text;
  };
  const line = (nm: number) =>
    feed({ type: "line", gauge: "bore", line: formatLength(toNm(Math.round(nm / 500) * 500), "mm", 4, true) }, 100);
  const rock = (footNm: number, phase: number) => {
    if (sends === "held") {
      for (const off of [0, 500, 0]) line(footNm + off);
      return;
    }
    for (let k = 0; k < 60; k += 1) line(footNm + 60_000 * Math.sin((Math.PI * (k + phase)) / 9) ** 2);
    for (let k = 0; k < 15; k += 1) line(900_000);
  };
  feed({ type: "step", step: "zero", lifter: "1I" });
  rock(0, 0.2);
  feed({ type: "step", step: "bores" });
  rock(40_000, 0.5);
  rock(41_000, 0.35);
  const path = join(folder, `${sends}.bwsession`);
  await writeFile(path, text);
  return path;
}

describe("borewright recheck --sweep-value smallest-reading", () => {
  it("puts what the smallest readings give beside what the turning points gave, with an uncertainty that holds both", async () => {
    const path = await recorded("stream");
    const own = JSON.parse((await runHere("recheck", path, "--json")).out) as Result;
    const { status, out } = await runHere("recheck", path, "--sweep-value", "smallest-reading", "--json");
    const result = resultSchema.parse(JSON.parse(out));
    // It agrees with what was recorded, which was by turning points; the other value is a look beside it.
    expect(status).toBe(0);
    expect(result.sweepValue).toBe("smallest-reading");
    expect("sweepValue" in own).toBe(false);
    expect(result.bores[0]?.stations).toHaveLength(2);
    for (const [index, station] of (result.bores[0]?.stations ?? []).entries()) {
      const before = own.bores[0]?.stations[index];
      const { valueNm, spreadNm, clearanceNm, uncertaintyNm } = before as NonNullable<typeof before>;
      expect(station.byTurningPoint).toEqual({ valueNm, spreadNm, clearanceNm, uncertaintyNm });
      const kept = station.sweeps.filter(({ use }) => use === "kept").map(({ rawMinNm }) => rawMinNm);
      expect(Math.min(...kept)).toBeLessThanOrEqual(station.valueNm as number);
      expect(station.valueNm).toBeGreaterThan(valueNm as number);
      expect(station.uncertaintyNm).toBeGreaterThan(uncertaintyNm as number);
      expect(Math.abs((station.clearanceNm as number) - (clearanceNm as number))).toBeLessThan(
        station.uncertaintyNm as number,
      );
    }
    const shown = await runHere("recheck", path, "--sweep-value", "smallest-reading");
    expect(shown.out).toContain("by turning point");
    expect(shown.out).toContain("nearly always too large");
    expect(shown.out).toContain("The raw lines give what was recorded.");
  });

  it("says that nothing changes where every sweep is one reading, and refuses what it does not know", async () => {
    const path = await recorded("held");
    const { out, status } = await runHere("recheck", path, "--sweep-value", "smallest-reading");
    expect(status).toBe(0);
    expect(out).toContain("one reading a sweep");
    const wrong = await runHere("recheck", path, "--sweep-value", "mean");
    expect(wrong.status).toBe(2);
    expect(wrong.err).toContain("expected turning-point or smallest-reading");
  });
});
