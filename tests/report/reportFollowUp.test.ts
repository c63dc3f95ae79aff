import { describe, expect, test } from "vitest";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import { type Comparison, comparisonSchema } from "../../core/report/comparisonSchema.ts";
import { pairSession } from "../../core/report/pairingReport.ts";
import { remedySession } from "../../core/report/remedyReport.ts";
import { reportOf } from "../../core/report/reportOf.ts";
import { shopSheet } from "../../core/report/shopSheet.ts";
import { rowsUnder, tagsOf, textOf } from "./readMarkup.ts";
import { sampleSession } from "./sampleSession.ts";

const TENTHS = [16, 17.5, 9, 23, 18.5, 16, 14, 16, 15.5, 16.5, 13.5, 16, 17.5, 26, 16, 16];
const { recording } = sampleSession({
  clearanceNm: (bore, station) => (TENTHS[bore] ?? 16) * 2540 + station * 635,
  job: { budget: { indicator: "0.5 um", micrometer: "0.5 um" } },
});
const inches = (nm: number) => formatLength(toNm(nm), "in", 5).replace("-", "−");

describe("the pairing in the report", () => {
  const pairing = pairSession(recording);
  const html = reportOf({ recording }, { pairing });

  test("is a bench list in walking order", () => {
    const rows = rowsUnder(html, "Pairing of lifters with bores");
    expect(rows.map(([bore]) => bore)).toEqual(pairing.assignments.map(({ bore }) => bore));
    for (const [index, one] of pairing.assignments.entries()) {
      const row = rows[index] ?? [];
      expect(row[1]).toBe(one.before.lifter);
      expect(row[2]?.startsWith(one.moves ? one.lifter : "stays")).toBe(true);
      expect([row[3], row[5]]).toEqual([inches(one.clearanceMinNm), inches(one.clearanceMaxNm)]);
      expect(row[7]).toBe(one.preferred ? `${one.verdict}, preferred` : one.verdict);
    }
    expect(pairing.assignments.some(({ moves }) => moves)).toBe(true);
  });

  test("says what it gains, and what a reader must know", () => {
    const text = textOf(html);
    expect(text).toContain(`as it is ${pairing.before.fits} ${pairing.before.preferred}`);
    expect(text).toContain(`so paired ${pairing.after.fits} ${pairing.after.preferred}`);
    for (const note of pairing.notes) expect(text).toContain(note.replace(/\s+/g, " "));
  });
});

describe("the remedy in the report", () => {
  const remedy = remedySession(recording);
  const html = reportOf({ recording }, { remedy });
  const text = textOf(html);

  test("has each bore with what is done to it", () => {
    const rows = rowsUnder(html, "  Remedy<").filter(([bore]) => bore !== "");
    expect(rows.map(([bore]) => bore)).toEqual(remedy.bores.map(({ name }) => name));
    for (const [index, bore] of remedy.bores.entries()) {
      expect(rows[index]?.[1]).toBe(bore.verdict);
      if (bore.chosen === null) expect(rows[index]?.[3]).toMatch(/nothing found|measure it/);
    }
  });

  test("prints finished sizes as the machine shop's sheet has them, never rounded outwards", () => {
    const sheet = shopSheet(remedy, recording.job);
    const table = html.slice(html.lastIndexOf("<table", html.indexOf("Sheet for the machine shop</caption>")));
    const rows = rowsUnder(table, "<table").filter(([bore]) => bore !== "");
    expect(sheet.rows.length).toBeGreaterThan(0);
    expect(rows.map(([bore]) => bore)).toEqual(sheet.rows.map(({ bore }) => bore));
    for (const [index, { bore, finish }] of sheet.rows.entries()) {
      const printed = rows[index]?.[3] ?? "";
      expect(printed).toBe(`${finish.from.inches} – ${finish.to.inches} in ${finish.from.mm} – ${finish.to.mm} mm`);
      const [low = 0, high = 0, lowMm = 0, highMm = 0] = (printed.match(/[\d.]+/g) ?? []).map(Number);
      const deed = remedy.block.plan.find((one) => one.bore === bore);
      const { finishLowNm, finishHighNm } = deed ?? {};
      if (typeof finishLowNm !== "number" || typeof finishHighNm !== "number") throw new Error("nothing is cut there");
      expect(low * 25.4e6).toBeGreaterThanOrEqual(finishLowNm - 0.01);
      expect(high * 25.4e6).toBeLessThanOrEqual(finishHighNm + 0.01);
      expect(lowMm * 1e6).toBeGreaterThanOrEqual(finishLowNm - 0.01);
      expect(highMm * 1e6).toBeLessThanOrEqual(finishHighNm + 0.01);
    }
  });

  test("brings its own cautions", () => {
    for (const caution of remedy.cautions ?? []) expect(text).toContain(caution);
  });

  test("says which plan holds where the pairing stands beside it", () => {
    const both = textOf(reportOf({ recording }, { remedy, pairing: pairSession(recording) }));
    const moves = remedy.block.plan.some(({ kind }) => kind === "pair");
    expect(both.includes("it stands in place of the pairing above")).toBe(moves);
    expect(text).not.toContain("in place of the pairing above");
  });
});

test("before and after: each station's change with its U, both verdicts, and where to look", () => {
  const comparison: Comparison = comparisonSchema.parse({
    format: "borewright/comparison",
    version: 1,
    before: { title: "As it came", block: "bench example", created: "2026-01-01T10:00:00.000Z" },
    after: { title: "Honed", block: "bench example", created: "2026-01-02T03:04:05.000Z" },
    bores: [
      {
        name: "3I",
        stations: [
          {
            height: "upper",
            clock: "axial",
            beforeNm: 21_409_660,
            afterNm: 21_426_170,
            changeNm: 16_510,
            uncertaintyNm: 2_400,
          },
          { height: "lower", clock: "axial", beforeNm: 21_410_930, afterNm: null, changeNm: null, uncertaintyNm: null },
        ],
        changeMinNm: 16_510,
        changeMaxNm: 16_510,
        change: "larger",
        verdictBefore: "too tight",
        verdictAfter: "not measured",
        planned: "hone",
        finishLowNm: 21_425_001,
        finishHighNm: 21_427_999,
        text: "Honed as planned at the upper station; the lower one was not measured.",
        attention: true,
      },
    ],
    notes: ["Both rest on lifter 1E."],
  });
  const html = reportOf({ recording }, { comparison });
  const rows = rowsUnder(html, "Before and after");
  expect(rows[0]).toEqual(
    ["3I", "upper", "axial", "0.84290", "21.4097", "0.84355", "21.4262", "0.00065", "16.5", "0.00009", "2.4"].concat(
      rows[0]?.slice(-1) ?? [],
    ),
  );
  expect(rows[0]?.at(-1)).toBe("too tight not measured");
  expect(rows[1]).toEqual(["lower", "axial", "0.84295", "21.4109", "–", "–", "–", "–", "–", "–"]);
  expect(textOf(html)).toContain("Look at it: Honed as planned at the upper station");
  // Rounded inwards: 21.4250 and 21.4280 would be outside.
  expect(textOf(html)).toContain("Planned to finish between 0.84351 and 0.84362 in (21.4251 and 21.4279 mm).");
  expect(textOf(html)).toContain("Both rest on lifter 1E.");
  expect(textOf(html)).toContain("Before: As it came, bench example, 2026-01-01 10:00 UTC.");
});

test("names in all of them stay text", () => {
  const hostile = `<img src=x onerror="alert(1)">`;
  const pairing = pairSession(recording);
  const remedy = remedySession(recording);
  const [assignment] = pairing.assignments;
  const [bore] = remedy.bores;
  if (assignment === undefined || bore === undefined) throw new Error("nothing measured");
  const html = reportOf(
    { recording },
    {
      pairing: {
        ...pairing,
        assignments: [{ ...assignment, lifter: hostile, why: hostile, moves: true }],
        leftOver: [hostile],
        leftOut: [{ bore: hostile, why: hostile }],
        notes: [hostile],
      },
      remedy: {
        ...remedy,
        bores: [{ ...bore, name: hostile, advice: hostile }],
        block: { ...remedy.block, plan: [], open: [{ bore: hostile, why: hostile }] },
        notes: [hostile],
        cautions: [hostile],
      },
    },
  );
  expect(tagsOf(html).some(({ name }) => name === "img")).toBe(false);
  expect(textOf(html).split(hostile).length).toBeGreaterThan(8);
});
