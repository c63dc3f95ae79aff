import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LINE_FORMATS } from "../../../core/gauge/lineFormats.ts";
import { CANDIDATES, POWERS } from "../../../core/gauge/teach/serialSetting.ts";
import { Teaching } from "../../../core/gauge/teach/teaching.ts";
import { ModelledTeaching } from "./modelledTeaching.ts";

/** Three presses of each format, at different readings; the step of the last digit is five in inches. */
const READINGS = {
  decimal: { lines: ["+0.00150", "+0.00155", "-0.00005"], unit: "in", from: "digits", resolutionNm: 1270 },
  "decimal-unit": { lines: ["21.387 mm", "21.388 mm", "21.386 mm"], unit: "mm", from: "lines", resolutionNm: 1000 },
  "decimal-comma": { lines: ["+0,012", "+0,013", "-0,001"], unit: "mm", from: "digits", resolutionNm: 1000 },
  "channel-tagged": {
    lines: ["01A+0000.00150", "01A+0000.00155", "01A-0000.00005"],
    unit: "in",
    from: "digits",
    resolutionNm: 1270,
  },
} as const;

const SPEEDS = [
  { baud: 9600, framing: "8N1", presses: 3 },
  { baud: 4800, framing: "7E2", presses: 4 },
  { baud: 4800, framing: "8N1", presses: 4 },
  { baud: 2400, framing: "8N1", presses: 4 },
  { baud: 1200, framing: "7E2", presses: 6 },
  { baud: 1200, framing: "8N1", presses: 5 },
  { baud: 115_200, framing: "8N1", presses: 5 },
  { baud: 19_200, framing: "8N1", presses: 9 },
  { baud: 9600, framing: "7E2", presses: 3 },
  { baud: 9600, framing: "7O2", presses: 3 },
  { baud: 9600, framing: "7N2", presses: 3 },
] as const;

const ends = ["\r", "\n", "\r\n"];

describe("Teaching, on a model of the line", () => {
  it("has a case for every line format", () => {
    expect(Object.keys(READINGS).sort()).toEqual(LINE_FORMATS.map(({ name }) => name).sort());
  });

  for (const { baud, framing, presses } of SPEEDS) {
    it.each(Object.entries(READINGS))(
      `model of ${baud} ${framing}: %s is taught from presses, with any line end, in at most ${presses} presses`,
      (format, { lines, unit, from, resolutionNm }) => {
        for (const end of ends) {
          const bench = new ModelledTeaching({ baud, framing });
          bench.wait(1200);
          bench.pressUntilFound(lines.map((line) => line + end));
          expect(bench.view, `line end ${JSON.stringify(end)}`).toMatchObject({
            state: "found",
            setting: { baud, framing, dtr: true, rts: true },
            format,
            unit,
            unitFrom: from,
            resolutionNm,
            sends: "press",
            settleMs: 0,
            lineEnd: { "\r": "CR", "\n": "LF", "\r\n": "CR LF" }[end],
          });
          expect(bench.presses).toBeLessThanOrEqual(presses);
        }
      },
    );
  }

  it.each([
    { baud: 9600, framing: "8N1" },
    { baud: 4800, framing: "7E2" },
    { baud: 2400, framing: "8N1" },
    { baud: 115_200, framing: "8N1" },
    { baud: 57_600, framing: "8N1" },
    { baud: 9600, framing: "8E1" },
  ])("model of a stream at $baud $framing, joined in the middle of a line: taught without a press", (line) => {
    const bench = new ModelledTeaching(line);
    bench.send("0155\r\n");
    for (let index = 0; index < 200 && bench.view.state !== "found"; index += 1) {
      bench.send(`+0.00${150 + 5 * (index % 7)}\r\n`);
      bench.wait(90);
    }
    expect(bench.view).toMatchObject({
      state: "found",
      setting: line,
      sends: "stream",
      unit: "in",
      resolutionNm: 1270,
    });
  });

  it("names 7 data bits with even parity opened as 8N1, and reads the press that showed it", () => {
    const bench = new ModelledTeaching({ baud: 9600, framing: "7E1" });
    bench.wait(1200);
    bench.press("+0.00150\r");
    expect(bench.view).toMatchObject({
      setting: { framing: "7E2" },
      tried: [{ setting: { framing: "8N1" }, heard: "7 data bits with even parity, read as 8" }],
      lines: [{ hex: "2B 30 2E 30 30 31 35 30 0D", raw: "+0.00150", understood: "+0.00150 in" }],
    });
    expect(bench.view.sentence).toContain("Heard 1 of 3");
    bench.press("+0.00155\r");
    bench.press("+0.00160\r");
    expect(bench.view.state).toBe("found");
  });

  it("names lines that have no end: by presses they are read all the same, streamed they are not", () => {
    const presses = new ModelledTeaching({ baud: 9600, framing: "8N1" });
    presses.wait(1200);
    presses.pressUntilFound(["+0.00150", "+0.00155", "+0.00145"]);
    expect(presses.view).toMatchObject({ state: "found", lineEnd: "none" });
    expect(presses.view.sentence).toContain("have no end");
    const stream = new ModelledTeaching({ baud: 9600, framing: "8N1" });
    for (let index = 0; index < 30; index += 1) {
      stream.send(`+0.00${150 + index}`);
      stream.wait(100);
    }
    expect(stream.view).toMatchObject({ state: "no-end", searching: true });
    expect(stream.view.sentence).toContain("no line ever ends");
  });

  it.each([
    ["DTR alone", (power: { dtr: boolean; rts: boolean }) => power.dtr && !power.rts, { dtr: true, rts: false }],
    ["RTS alone", (power: { dtr: boolean; rts: boolean }) => power.rts && !power.dtr, { dtr: false, rts: true }],
    ["neither", (power: { dtr: boolean; rts: boolean }) => !power.rts && !power.dtr, { dtr: false, rts: false }],
  ])("model of a cable powered by %s: found by trying, once nothing came", (_, powered, lines) => {
    const bench = new ModelledTeaching({ baud: 9600, framing: "8N1", powered });
    bench.pressUntilFound(["+0.00150\r", "+0.00155\r", "+0.00145\r"], 40);
    expect(bench.view).toMatchObject({ state: "found", setting: lines });
    expect(bench.view.tried[0]).toMatchObject({ heard: "nothing", setting: { dtr: true, rts: true } });
    expect(bench.view.sentence).toContain("powered with");
  });

  it("waits out what a gauge says while it wakes up, and says for how long", () => {
    const bench = new ModelledTeaching({ baud: 9600, framing: "8N1" });
    bench.wait(150);
    bench.teaching.push(bench.tMs, Uint8Array.of(0x00, 0xfc));
    bench.wait(1500);
    expect(bench.view).toMatchObject({ state: "listening", setting: { baud: 9600 } });
    bench.pressUntilFound(["+0.00150\r", "+0.00155\r", "+0.00145\r"]);
    expect(bench.view).toMatchObject({ state: "found", settleMs: 200 });
    expect(bench.presses).toBe(3);
  });

  it("a silent gauge: says what to look for, goes on trying, and is found when it speaks after all", () => {
    let on = false;
    const bench = new ModelledTeaching({ baud: 9600, framing: "8N1", powered: () => on });
    bench.wait(40_000);
    expect(bench.view).toMatchObject({ state: "silent", searching: true });
    expect(bench.view.sentence).toMatch(/switched on.*right port.*when asked.*keyboard/);
    expect(bench.view.tried).toHaveLength(4);
    on = true;
    bench.pressUntilFound(["+0.00150\r", "+0.00155\r", "+0.00145\r"]);
    expect(bench.view.state).toBe("found");
  });

  it("a babbling one: says that no speed makes text of it, and how to tell the adapter from the gauge", () => {
    const bench = new ModelledTeaching({ baud: 9600, framing: "8N1" });
    const noise = fc.sample(fc.uint8Array({ minLength: 40, maxLength: 60 }), { seed: 77, numRuns: 200 });
    for (const bytes of noise) {
      if (bench.view.state === "babble") break;
      bench.send(String.fromCharCode(...bytes));
      bench.wait(1100);
    }
    expect(bench.view).toMatchObject({ state: "babble", searching: false, format: null });
    expect(bench.view.sentence).toContain("Pull the gauge's plug");
    expect(new Set(bench.view.tried.map(({ setting }) => `${setting.baud} ${setting.framing}`)).size).toBeGreaterThan(
      10,
    );
  });

  it("a flood: more than any gauge sends is named as such", () => {
    const bench = new ModelledTeaching(
      { baud: 115_200, framing: "8N1" },
      new Teaching({ start: { baud: 115_200, framing: "8N1", dtr: true, rts: true } }),
    );
    for (let index = 0; index < 100; index += 1) {
      bench.tMs += 20;
      bench.teaching.push(bench.tMs, new TextEncoder().encode("counter idle, nothing to report\r\n".repeat(5)));
    }
    expect(bench.view.state).toBe("flood");
    expect(bench.view.sentence).toContain("counter idle");
    expect(bench.view.lines.length).toBeLessThanOrEqual(12);
  });

  it("a wrong one: plain text that is no reading is quoted, and another port advised", () => {
    const bench = new ModelledTeaching({ baud: 4800, framing: "8N1" });
    for (let index = 0; index < 12; index += 1) {
      bench.send("$POS,121212.00,north,45.2,east,9.1*5C\r\n");
      bench.wait(1000);
    }
    expect(bench.view).toMatchObject({ state: "wrong", setting: { baud: 4800 }, format: null, unit: null });
    expect(bench.view.sentence).toMatch(/“\$POS.*another port/);
  });

  it("a wrong one that is set right: says so no longer at its first reading, and is found at the third", () => {
    const bench = new ModelledTeaching({ baud: 9600, framing: "8N1" });
    for (let index = 0; index < 10; index += 1) bench.press("STATUS OF THE COUNTER\r\n");
    expect(bench.view.state).toBe("wrong");
    bench.press("+0.00150\r\n");
    expect(bench.view).toMatchObject({ state: "listening", lines: [{ raw: "+0.00150", understood: "+0.00150 in" }] });
    expect(bench.view.sentence).toContain("Heard 1 of 3");
    bench.press("+0.00155\r\n");
    bench.press("+0.00145\r\n");
    expect(bench.view).toMatchObject({ state: "found", format: "decimal", unit: "in" });
    expect(bench.view.sentence).not.toContain("not understood");
  });

  it("a wrong one says nothing of what comes next at another setting", () => {
    for (const [baud, framing, told] of [
      [4800, "8N1", "another speed"],
      [9600, "7E2", "seven bits"],
    ] as const) {
      const bench = new ModelledTeaching({ baud: 9600, framing: "8N1" });
      for (let index = 0; index < 4; index += 1) bench.press("STATUS OF THE COUNTER\r\n");
      expect(bench.view.state, told).toBe("wrong");
      const later = new ModelledTeaching({ baud, framing }, bench.teaching, bench.tMs);
      later.press("+0.00150\r\n");
      expect(later.view.setting.baud + later.view.setting.framing, told).not.toBe("96008N1");
      expect(later.view.state, told).toBe("listening");
    }
  });

  it.each([
    { baud: 9600, framing: "8E1" },
    { baud: 4800, framing: "8O1" },
    { baud: 2400, framing: "8N1" },
    { baud: 57_600, framing: "8N1" },
  ])("searches again by itself without losing its hearing, wherever it stood: model of $baud $framing", (line) => {
    for (const from of CANDIDATES) {
      // The port stays open by the setting that a person had chosen: what comes there sends the search elsewhere.
      const teaching = new Teaching({ start: { ...from, dtr: true, rts: true }, search: false });
      const bench = new ModelledTeaching(line, teaching);
      bench.wait(1200);
      teaching.byHand({ search: true });
      bench.pressUntilFound(["+0.00150\r", "+0.00155\r", "+0.00145\r"], 60);
      // The model lets a character through whose parity is wrong, so either parity reads the gauge.
      const framings = line.framing === "8N1" ? ["8N1"] : ["8E1", "8O1"];
      const what = `from ${from.baud} ${from.framing}`;
      expect(bench.view, what).toMatchObject({ state: "found", setting: { baud: line.baud } });
      expect(framings, what).toContain(bench.view.setting.framing);
    }
  });

  it("a setting that a person leaves for another is searched like any other", () => {
    const bench = new ModelledTeaching({ baud: 9600, framing: "8N1" });
    bench.wait(1200);
    bench.teaching.byHand({ setting: { baud: 1200, framing: "8N1", dtr: true, rts: true }, search: true });
    bench.pressUntilFound(["+0.00150\r", "+0.00155\r", "+0.00145\r"], 40);
    expect(bench.view).toMatchObject({ state: "found", setting: { baud: 9600, framing: "8N1" } });
  });

  it("tries every way of powering the cable, whichever it begins with", () => {
    for (const first of POWERS) {
      for (const wanted of POWERS) {
        const bench = new ModelledTeaching(
          {
            baud: 9600,
            framing: "8N1",
            powered: (power) => power.dtr === wanted.dtr && power.rts === wanted.rts,
          },
          new Teaching({ start: { baud: 9600, framing: "8N1", ...first } }),
        );
        bench.teaching.byHand({ search: true });
        bench.wait(24_500);
        bench.pressUntilFound(["+0.00150\r", "+0.00155\r", "+0.00145\r"], 60);
        expect(bench.view, JSON.stringify([first, wanted])).toMatchObject({ state: "found", setting: wanted });
      }
    }
  });

  it("goes back to nothing when a person sets the speed, stays there, and says what is wrong with it", () => {
    const bench = new ModelledTeaching({ baud: 4800, framing: "7E2" });
    bench.teaching.byHand({ setting: { baud: 4800, framing: "8N1", dtr: true, rts: true } });
    bench.wait(1200);
    for (const line of ["+0.00150\r", "+0.00155\r", "+0.00150\r"]) bench.press(line);
    expect(bench.view).toMatchObject({ state: "listening", searching: false, setting: { baud: 4800, framing: "8N1" } });
    expect(bench.view.sentence).toContain("even parity");
    bench.teaching.byHand({ search: true });
    bench.pressUntilFound(["+0.00150\r", "+0.00155\r", "+0.00145\r"]);
    expect(bench.view).toMatchObject({ state: "found", setting: { framing: "7E2" } });
  });

  it("takes the unit that a person says over the one the digits speak for, and never over the lines' own", () => {
    const taught = (lines: readonly string[], unit: "in" | "mm" | null) => {
      const bench = new ModelledTeaching({ baud: 9600, framing: "8N1" }, new Teaching({ unit }));
      bench.pressUntilFound(lines.map((line) => `${line}\r`));
      return bench.view;
    };
    const four = ["+0.0015", "+0.0016", "+0.0013"];
    expect(taught(four, null)).toMatchObject({ state: "found", unit: null, resolutionNm: null });
    expect(taught(four, "mm")).toMatchObject({ unit: "mm", unitFrom: "hand", resolutionNm: 100 });
    expect(taught(["0.8427 in", "0.8426 in", "0.8427 in"], "mm")).toMatchObject({ unit: "in", unitFrom: "lines" });
  });

  it("keeps a bounded memory of whatever comes, and always has a sentence", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.uint8Array({ maxLength: 200 }), fc.nat(9000)), { maxLength: 30 }), (pieces) => {
        const teaching = new Teaching({});
        let tMs = 0;
        teaching.open(tMs);
        let open = teaching.setting;
        for (const [bytes, waitMs] of pieces) {
          teaching.push(tMs, bytes);
          tMs += waitMs;
          teaching.pass(tMs);
          if (teaching.setting !== open) {
            open = teaching.setting;
            teaching.open(tMs);
          }
          const view = teaching.view();
          expect(view.sentence).toMatch(/[.:?]$/);
          expect(view.lines.length).toBeLessThanOrEqual(12);
          expect(view.tried.length).toBeLessThan(100);
        }
      }),
      { seed: 4307, numRuns: 150 },
    );
  });
});
