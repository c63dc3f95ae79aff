import { describe, expect, test } from "vitest";
import type { FitInput } from "../../core/fit/finding.ts";
import { toNm } from "../../core/length/nm.ts";
import { pairSession } from "../../core/report/pairingReport.ts";
import { REMEDY_CAUTIONS } from "../../core/report/remedyCautions.ts";
import { remedySession } from "../../core/report/remedyReport.ts";
import { type Remedy, remedySchema } from "../../core/report/remedySchema.ts";
import { SIGN_OFF, shopSheet, shopSheetTable } from "../../core/report/shopSheet.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import type { Recording } from "../../core/session/recording.ts";
import { Random } from "../../electron/simulator/random.ts";
import { wornBlock } from "../../electron/simulator/trueBlock.ts";
import { blockJob, type JobJson, measureBlock } from "./measureBlock.ts";

function wornSession(seed: number, job: JobJson = blockJob()): Recording {
  return measureBlock(job, wornBlock(parseJob(job), new Random(seed)), seed);
}

const sessions = [1, 2, 3, 4].map((seed) => wornSession(seed));
const remedies = sessions.map((recording) => remedySession(recording));
const ABOUT = { title: "Worn block", block: "bench example" };

describe("the remedy of a session", () => {
  test("is what its schema says, and the same each time", () => {
    for (const [index, remedy] of remedies.entries()) {
      expect(remedySchema.parse(JSON.parse(JSON.stringify(remedy)))).toEqual(remedy);
      expect(remedySession(sessions[index] as Recording)).toEqual(remedy);
    }
  });

  test("names in each bore the option that its plan takes", () => {
    for (const { bores, block } of remedies) {
      for (const { name, chosen, options } of bores) {
        const deed = block.plan.find(({ bore }) => bore === name);
        const open = block.open?.some(({ bore }) => bore === name);
        if (open) {
          expect(chosen).toBeNull();
          continue;
        }
        expect(chosen).toBe(deed?.kind ?? "leave");
        const option = options.find(({ kind }) => kind === chosen);
        expect(option?.possible).toBe(true);
        if (deed === undefined) continue;
        for (const key of ["lifter", "lifterNm", "finishLowNm", "finishHighNm", "removeNm"] as const) {
          expect(option?.[key]).toBe(deed[key]);
        }
      }
      const cut = block.plan.filter(({ finishLowNm }) => typeof finishLowNm === "number");
      expect(block.boresTouched).toBe(cut.length);
      expect(block.metalNm).toBe(cut.reduce((sum, { removeNm = 0 }) => sum + removeNm, 0));
      expect(block.allFit).toBe(block.open?.length === 0 && block.near?.length === 0);
      expect(block.plans?.filter(({ chosen }) => chosen)).toHaveLength(1);
    }
  });

  test("pairs only as the pairing does", () => {
    for (const [index, recording] of sessions.entries()) {
      const { assignments, after } = pairSession(recording);
      const plan = remedies[index]?.block.plans?.find(({ name }) => name === "pair only");
      expect(plan?.open).toBe(assignments.length - after.fits);
      expect(plan?.lifterMoves).toBe(after.moved);
    }
  });

  test("carries the cautions and says that sizes are estimates", () => {
    expect(remedies[0]?.cautions).toEqual(REMEDY_CAUTIONS);
    const said = [...(remedies[0]?.notes ?? []), ...REMEDY_CAUTIONS].join(" ");
    for (const word of [
      "estimates",
      "common practice",
      "eye protection",
      "Compressed air",
      "Local rules",
      "maker's sheet",
    ]) {
      expect(said).toContain(word);
    }
  });

  test("may rest on other limits and on other rules for the lifters", () => {
    const recording = sessions[0] as Recording;
    const fit = recording.run.fitInput();
    const input: FitInput = { ...fit, limits: { ...fit.limits, lowNm: toNm(0), highNm: toNm(200_000) } };
    expect(remedySession(recording, { input }).block.plans?.[0]).toMatchObject({ open: 0, chosen: true });
    const notes = Object.fromEntries(recording.job.walk.map((name) => [name, { used: true }]));
    const held = remedySession(recording, { notes });
    expect(held.block.plan.every(({ moves }) => moves === false)).toBe(true);
    expect(() => remedySession(recording, { notes: { S9: { used: true } } })).toThrow("S9");
  });

  test("of a walk broken off has no options for what is missing", () => {
    const job = blockJob();
    const full = sessions[0] as Recording;
    const fit = full.run.fitInput();
    const short = { ...fit, stations: fit.stations.slice(0, 9) };
    const remedy = remedySession(full, { input: short });
    const missing = remedy.bores.slice(4);
    expect(missing).toHaveLength(parseJob(job).walk.length - 4);
    for (const bore of missing) {
      expect(bore).toMatchObject({ diameterMinNm: null, options: [], chosen: null, verdict: "not measured" });
      expect(bore.advice).toContain("before it is measured at every station");
    }
    expect(remedy.notes?.join(" ")).toContain(missing.map(({ name }) => name).join(", "));
  });

  test("without measured lifters says that sizes rest on the nominal one", () => {
    const recording = sessions[0] as Recording;
    const input = { ...recording.run.fitInput(), lifters: new Map() };
    const remedy = remedySession(recording, { input });
    expect(remedy.notes?.[0]).toMatch(/^No lifter was measured\. .*nominal 0\.8420 in/);
    expect(
      remedy.bores.flatMap(({ options }) => options.filter(({ kind, possible }) => kind === "pair" && possible)),
    ).toEqual([]);
  });
});

describe("the sheet for the machine shop", () => {
  const sheets = remedies.map((remedy) => shopSheet(remedy, ABOUT));

  test("lists every bore that is cut, and none of the others", () => {
    for (const [index, { rows, leaveAlone }] of sheets.entries()) {
      const { block, bores } = remedies[index] as Remedy;
      expect(rows.map(({ bore }) => bore)).toEqual(
        block.plan.filter(({ finishLowNm }) => typeof finishLowNm === "number").map(({ bore }) => bore),
      );
      expect([...rows.map(({ bore }) => bore), ...leaveAlone].sort()).toEqual(bores.map(({ name }) => name).sort());
    }
    expect(sheets.flatMap(({ rows }) => rows).length).toBeGreaterThan(4);
  });

  test("never prints a size outside the plan's, and states how much comes off", () => {
    for (const [index, { rows }] of sheets.entries()) {
      for (const { bore, finish, remove, now, notToPass, work } of rows) {
        const deed = remedies[index]?.block.plan.find((each) => each.bore === bore);
        for (const [text, unitNm] of [
          ["inches", 25_400_000],
          ["mm", 1_000_000],
        ] as const) {
          expect(Math.round(Number(finish.from[text]) * unitNm)).toBeGreaterThanOrEqual(deed?.finishLowNm as number);
          expect(Math.round(Number(finish.to[text]) * unitNm)).toBeLessThanOrEqual(deed?.finishHighNm as number);
        }
        expect(notToPass).toEqual(finish.to);
        expect(remove === null).toBe(work === "bush");
        if (remove === null) continue;
        expect(remove.atSmallest.nm + now.smallest.nm).toBe(remove.atLargest.nm + now.largest.nm);
      }
    }
  });

  test("leaves room to sign off, and says what to look at", () => {
    const [sheet] = sheets;
    expect(sheet?.signOff).toEqual(SIGN_OFF);
    expect(sheet?.lookAt.join(" ")).toMatch(/wall.*oil hole/);
    const table = shopSheetTable(sheet as NonNullable<typeof sheet>);
    expect(table.columns.slice(-SIGN_OFF.length)).toEqual(SIGN_OFF);
    for (const row of table.rows) {
      expect(row).toHaveLength(table.columns.length);
      expect(row.slice(-SIGN_OFF.length)).toEqual(SIGN_OFF.map(() => null));
    }
  });
});
