import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Learnt, learnLines } from "../../core/gauge/learnLines.ts";

const every = (gapMs: number, lines: readonly string[]) => lines.map((line, index) => ({ tMs: index * gapMs, line }));

describe("learnLines", () => {
  it("three presses of an inch indicator that counts in half ten-thousandths", () => {
    const taught = learnLines(every(1500, ["+0.00150", "+0.00155", "+0.00145"]), "in");
    expect(taught).toEqual({
      lines: [
        { raw: "+0.00150", understood: "+0.00150 in", why: null },
        { raw: "+0.00155", understood: "+0.00155 in", why: null },
        { raw: "+0.00145", understood: "+0.00145 in", why: null },
      ],
      format: "decimal",
      unit: null,
      resolutionNm: 1270,
      sends: "press",
      text: "Signed decimal, no unit in its lines, taken as inch, steps of 0.00005 in, one line a press.",
    });
  });

  it("does not guess a unit that the lines do not name", () => {
    const taught = learnLines(every(1500, ["+0.00150", "+0.00155", "+0.00145"]));
    expect(taught).toMatchObject({ unit: null, resolutionNm: null, sends: "press" });
    expect(taught.lines[0]?.understood).toBe("+0.00150 (unit not said)");
    expect(taught.text).toContain("choose it");
  });

  it("takes the unit from the marks, even against the one assumed", () => {
    expect(learnLines(every(1500, ["21.387 mm", "21.388 mm", "21.386 mm"]), "in")).toMatchObject({
      format: "decimal-unit",
      unit: "mm",
      resolutionNm: 1000,
    });
    expect(learnLines(every(1500, ['0.8427"', '0.8426"', '0.8427"']))).toMatchObject({
      unit: "in",
      resolutionNm: 2540,
    });
  });

  it("says so when the display was switched between units", () => {
    const taught = learnLines(every(1500, ["0.8427 in", "0.8426 in", "21.405 mm", "21.406 mm"]));
    expect(taught).toMatchObject({ unit: null, resolutionNm: null });
    expect(taught.text).toContain("switched");
  });

  it("needs a 5 and three lines before it takes the step for five", () => {
    expect(learnLines(every(1500, ["+0.00150", "+0.00150", "+0.00150"]), "in").resolutionNm).toBe(254);
    expect(learnLines(every(1500, ["+0.00155", "+0.00150"]), "in").resolutionNm).toBe(254);
    expect(learnLines(every(1500, ["+0.00155", "+0.00152", "+0.00150"]), "in").resolutionNm).toBe(254);
    expect(learnLines(every(1500, ["0.0005 mm", "0.0010 mm", "0.0005 mm"])).resolutionNm).toBe(500);
  });

  it("finds the finest gauge's step of 0.000005 in", () => {
    expect(learnLines(every(900, ["+0.001505", "+0.001500", "+0.001495"]), "in").resolutionNm).toBe(127);
  });

  it("tells a stream from presses, also with a pause in it and with presses sent twice", () => {
    const ten = Array.from({ length: 20 }, (_, index) => `+0.00${150 + index}`);
    expect(learnLines(every(100, ten), "in")).toMatchObject({
      sends: "stream",
      text: expect.stringContaining("about 10 a second"),
    });
    const paused = every(100, ten).map(({ tMs, line }, index) => ({ tMs: index > 10 ? tMs + 900 : tMs, line }));
    expect(learnLines(paused, "in").sends).toBe("stream");
    const twice = [0, 5, 1400, 1405, 2900, 2905].map((tMs) => ({ tMs, line: "+0.00150" }));
    expect(learnLines(twice, "in").sends).toBe("press");
    expect(learnLines(every(100, ten.slice(0, 3)), "in").sends).toBeNull();
    expect(learnLines(every(100, ten.slice(0, 1)), "in").sends).toBeNull();
  });

  it("asks for more presses while there are fewer than three", () => {
    expect(learnLines(every(1500, ["+0.00150"]), "in").text).toMatch(/so far.*press the data button again\.$/);
  });

  it("is not misled by a torn first line", () => {
    const taught = learnLines(every(1500, ["0150", "150.5", "01A+0000.0015", "01A+0000.0016", "01A+0000.0012"]), "in");
    expect(taught).toMatchObject({ format: "channel-tagged", resolutionNm: 2540 });
    expect(taught.lines.map(({ understood }) => understood)).toEqual([
      null,
      null,
      "channel 01: +0.0015 in",
      "channel 01: +0.0016 in",
      "channel 01: +0.0012 in",
    ]);
    expect(taught.text).toContain("2 of 5 lines not understood");
  });

  it("says what to try when nothing is understood", () => {
    expect(learnLines([])).toMatchObject({ format: null, sends: null, text: expect.stringContaining("Nothing came") });
    expect(learnLines(every(1500, ["HOLD", "HOLD"]))).toMatchObject({
      format: null,
      text: expect.stringContaining("none is a reading"),
    });
    // "+0.00150" and CR with even parity in bit 7, ended by silence.
    expect(learnLines([{ tMs: 0, line: "+0.00\xb150‹8D›" }]).text).toContain("choose 7E2.");
  });

  it("has each line with what was understood or why not, whatever comes in, and the same for the same", () => {
    const line = fc.oneof(fc.string({ maxLength: 20 }), fc.constantFrom("+0.00150", "21.387 mm", "01A+0000.1234"));
    fc.assert(
      fc.property(fc.array(fc.record({ tMs: fc.nat(5000), line }), { maxLength: 12 }), (lines) => {
        const ordered = [...lines].sort((a, b) => a.tMs - b.tMs);
        const taught: Learnt = learnLines(ordered);
        expect(taught.lines.map(({ raw }) => raw)).toEqual(ordered.map((each) => each.line));
        for (const { understood, why } of taught.lines) expect((understood === null) !== (why === null)).toBe(true);
        expect(taught.text).toMatch(/[.]$/);
        expect(learnLines(ordered)).toEqual(learnLines(ordered));
      }),
      { seed: 4206, numRuns: 300 },
    );
  });
});
