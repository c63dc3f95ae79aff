import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LINE_FORMATS } from "../../core/gauge/lineFormats.ts";
import { createLineReader, type LineReader } from "../../core/gauge/lineReader.ts";
import { profileOf } from "./profileOf.ts";

const displayOf = (reader: LineReader, line: string) => {
  const read = reader.read(line);
  return read.ok ? read.displayNm : null;
};
const whyOf = (reader: LineReader, line: string) => {
  const read = reader.read(line);
  return read.ok ? null : read.why;
};
const fresh = (line: string) => createLineReader(profileOf()).read(line);

describe("line formats", () => {
  it("every example fits its own format and no other", () => {
    for (const format of LINE_FORMATS) {
      for (const example of format.examples) {
        expect(LINE_FORMATS.filter(({ pattern }) => pattern.test(example)).map(({ name }) => name)).toEqual([
          format.name,
        ]);
        const asked = createLineReader(profileOf({ line: format.name })).read(example);
        expect(asked).toEqual(fresh(example));
        expect(asked.ok).toBe(true);
      }
    }
  });

  it("a format asked for takes no other's lines, and says which they are", () => {
    for (const format of LINE_FORMATS) {
      for (const other of LINE_FORMATS.filter(({ name }) => name !== format.name)) {
        const reader = createLineReader(profileOf({ line: format.name }));
        for (const example of other.examples) expect(whyOf(reader, example)).toContain(other.title);
      }
    }
  });
});

describe("LineReader", () => {
  it.each([
    ["+0.00150", 38_100],
    ["-0.00015", -3_810],
    ["0.8427", 21_404_580],
    ["  0.84270  ", 21_404_580],
    ["\t-.0012", -30_480],
    ["-0.00000", 0],
    ["+0.00150 in", 38_100],
    ["0.8427 INCH", 21_404_580],
    ['0.8427"', 21_404_580],
    ["21.387mm", 21_387_000],
    ["21.387 Mm ", 21_387_000],
    ["+0,00150", 38_100],
    ["-0,012 mm", -12_000],
    ["01A+0000.1234", 3_134_360],
    ["02A-0000.0005", -12_700],
  ])("reads %j as %i nm", (line, nm) => {
    expect(fresh(line)).toMatchObject({ ok: true, displayNm: nm, valueNm: nm });
  });

  it("names channel, unit mark and decimals", () => {
    expect(fresh("01A+0000.1234")).toMatchObject({ channel: "01", unitMark: null, decimals: 4 });
    expect(fresh("21.387 mm")).toMatchObject({ channel: null, unitMark: "mm", decimals: 3 });
  });

  it("applies the polarity to the value, not to what is displayed, and never makes a negative zero", () => {
    const reader = createLineReader(profileOf({ polarity: -1 }));
    expect(reader.read("+0.00150")).toMatchObject({ valueNm: -38_100, displayNm: 38_100 });
    const zero = reader.read("+0.00000");
    expect(zero.ok && Object.is(zero.valueNm, 0)).toBe(true);
  });

  it("reversing the polarity twice changes nothing", () => {
    const way = createLineReader(profileOf());
    const back = createLineReader(profileOf({ polarity: -1 }));
    fc.assert(
      fc.property(fc.integer({ min: -99_999, max: 99_999 }), (steps) => {
        const line = `${steps < 0 ? "-" : "+"}0.${String(Math.abs(steps)).padStart(5, "0")}`;
        const one = way.read(line);
        const other = back.read(line);
        expect(one.ok && other.ok && one.valueNm + other.valueNm).toBe(0);
      }),
      { seed: 4203 },
    );
  });

  it("reads a line by its own unit mark, whatever the profile says", () => {
    const inch = createLineReader(profileOf({ unit: "in" }));
    const metric = createLineReader(profileOf({ unit: "mm" }));
    for (const reader of [inch, metric]) {
      expect(reader.read("0.8427 in")).toMatchObject({ displayNm: 21_404_580, unitMark: "in" });
      expect(reader.read("0.8425 in")).toMatchObject({ ok: true, unitMark: "in" });
      // The display was switched: other unit, other number of decimals, and the line says so itself.
      expect(reader.read("21.405 mm")).toMatchObject({ displayNm: 21_405_000, unitMark: "mm" });
      expect(reader.read("21.400 mm")).toMatchObject({ ok: true });
      expect(whyOf(reader, "21.40 mm")).toBe("2 decimals where this gauge sends 3");
    }
  });

  it("inch and millimetre lines of the same size give the same nanometres", () => {
    fc.assert(
      fc.property(fc.integer({ min: -9_999, max: 9_999 }), (tenths) => {
        const sign = tenths < 0 ? "-" : "+";
        const inches = `${sign}0.${String(Math.abs(tenths)).padStart(4, "0")}`;
        const um100 = Math.abs(tenths) * 254;
        const mm = `${sign}${Math.floor(um100 / 100_000)}.${String(um100 % 100_000).padStart(5, "0")}`;
        expect(displayOf(createLineReader(profileOf({ unit: "in" })), inches)).toBe(
          displayOf(createLineReader(profileOf({ unit: "mm" })), mm),
        );
      }),
      { seed: 4204 },
    );
  });

  it.each([
    ["", "empty"],
    ["   ", "empty"],
    ["+000150", "without its decimal point"],
    ["+0.0.0150", "more than one decimal point"],
    ["+-0.00150", "more than one sign"],
    ["1.5e-3", "exponent"],
    ["+0.00150x", "not of a form"],
    ["0. 00150", "not of a form"],
    ["0.00150 inn", "not of a form"],
    ["+1.", "not of a form"],
    ["LOW BAT", "battery"],
    ["OVERFLOW", "out of its range"],
    ["------", "out of its range"],
    ["Err 3", "reports an error"],
    ["HOLD", "look at the gauge's display"],
    ["+0.0␀0150", "check speed and framing"],
    ["±0.00150", "check speed and framing"],
    ["01B+0000.1234", "not of a form"],
    ["1A+0000.1234", "not of a form"],
    ["01A0000.1234", "not of a form"],
    ["01A+0000.1234 mm", "not of a form"],
  ])("does not understand %j: %s", (line, why) => {
    expect(whyOf(createLineReader(profileOf()), line)).toContain(why);
  });

  describe("keeps to what the first lines agreed on", () => {
    it("format", () => {
      const reader = createLineReader(profileOf());
      expect(reader.format).toBeNull();
      for (const line of ["+0.00150", "+0.00155"]) expect(reader.read(line).ok).toBe(true);
      expect(reader.format).toBe("decimal");
      for (const line of ["+0,00150", "+0.00150 in", "01A+0000.0015"]) {
        for (let again = 0; again < 5; again += 1) expect(whyOf(reader, line)).toContain("where this gauge sends");
      }
      expect(reader.read("+0.00160").ok).toBe(true);
      expect(reader.format).toBe("decimal");
    });

    it("decimals: a lost zero is ten times the clearance", () => {
      const reader = createLineReader(profileOf());
      for (const line of ["+0.00150", "+0.00155"]) reader.read(line);
      expect(whyOf(reader, "+0.0150")).toContain("4 decimals where this gauge sends 5");
      expect(whyOf(reader, "+0.000150")).toContain("6 decimals where this gauge sends 5");
    });

    it("sign: a gauge that sends a plus has lost a sign when there is none", () => {
      const reader = createLineReader(profileOf());
      for (const line of ["+0.00150", "-0.00155", "+0.00145"]) expect(reader.read(line).ok).toBe(true);
      expect(whyOf(reader, "0.00150")).toBe("its sign is missing");
      expect(displayOf(reader, "0.00000")).toBe(0);
    });

    it("one unsigned line too many does not stop a gauge that does send a plus", () => {
      const reader = createLineReader(profileOf());
      for (const line of ["-0.00150", "0.00155", "+0.00145", "+0.00140"]) expect(reader.read(line).ok).toBe(true);
      expect(whyOf(reader, "0.00150")).toBe("its sign is missing");
    });

    it("channel: another channel is another gauge", () => {
      const reader = createLineReader(profileOf());
      for (const line of ["01A+0000.1234", "01A+0000.1233"]) reader.read(line);
      expect(whyOf(reader, "02A+0000.1234")).toBe("channel 02 where this gauge is on 01");
    });

    it("width of a channel-tagged line", () => {
      const reader = createLineReader(profileOf());
      for (const line of ["01A+0000.1234", "01A+0000.1233"]) reader.read(line);
      expect(whyOf(reader, "01A+000.1234")).toContain("3 digits before the point where this gauge sends 4");
      expect(whyOf(reader, "01A+0000.123")).toContain("3 decimals");
    });

    it("digits before the point: one more or less is believed when it comes again", () => {
      const reader = createLineReader(profileOf({ unit: "mm" }));
      for (const line of ["21.387", "21.390"]) expect(reader.read(line).ok).toBe(true);
      expect(whyOf(reader, "1.387")).toBe("1 digits before the point after 2; believed when it comes again");
      expect(displayOf(reader, "21.388")).toBe(21_388_000);
      expect(whyOf(reader, "221.387")).toContain("3 digits before the point after 2");
      // The gauge has passed ten millimetres: one reading is lost.
      expect(reader.read("9.998").ok).toBe(false);
      expect(displayOf(reader, "9.997")).toBe(9_997_000);
      expect(displayOf(reader, "9.996")).toBe(9_996_000);
    });

    it("a lost minus: where a blank stands for plus, or nothing does", () => {
      const blank = createLineReader(profileOf());
      for (const line of [" 0.0015", "-0.0015", " 0.0016", "-0.0016"]) expect(blank.read(line).ok).toBe(true);
      expect(whyOf(blank, "0.0015")).toBe("moved by a blank, as a lost sign would move it");
      expect(whyOf(blank, " -0.0015")).toContain("moved by a blank");
      const bare = createLineReader(profileOf());
      for (const line of ["0.0015", "-0.0015", "0.0016", "-0.0016"]) expect(bare.read(line).ok).toBe(true);
      expect(whyOf(bare, " 0.0015")).toContain("moved by a blank");
      // A display that is aligned otherwise from now on.
      expect(bare.read(" 0.0015").ok).toBe(true);
    });

    it("fives: a display that counts in fives has shown no other digit for long", () => {
      const reader = createLineReader(profileOf());
      for (let step = 0; step <= 12; step += 1) {
        expect(reader.read(`+0.0${String(step * 5).padStart(4, "0")}`).ok).toBe(true);
      }
      expect(whyOf(reader, "+0.00153")).toBe("ends in 3 where this gauge counts in fives");
      expect(reader.read("+0.00155").ok).toBe(true);
      expect(whyOf(reader, "+0.00151")).toContain("counts in fives");
      // It was set to finer steps.
      for (const line of ["+0.00152", "+0.00153", "+0.00151"]) expect(reader.read(line).ok).toBe(true);
    });

    it("fives: a display that counts in ones, whatever the profile says, is never taken to count in fives", () => {
      const reader = createLineReader(profileOf());
      for (let step = 0; step < 40; step += 1) {
        expect(reader.read(`+0.0${String(step * 5 + (step === 7 ? 1 : 0)).padStart(4, "0")}`).ok).toBe(true);
      }
      for (const line of ["+0.00152", "+0.00155", "+0.00154"]) expect(reader.read(line).ok).toBe(true);
    });

    it("a damaged first line costs one reading and is outvoted", () => {
      const reader = createLineReader(profileOf());
      expect(reader.read("150.0").ok).toBe(true);
      expect(reader.read("+0.00150").ok).toBe(false);
      expect(reader.read("+0.00155").ok).toBe(true);
      expect(reader.read("150.0").ok).toBe(false);
      const tagged = createLineReader(profileOf());
      expect(tagged.read("0000.1234").ok).toBe(true);
      expect(tagged.read("01A+0000.1234").ok).toBe(false);
      expect(tagged.read("01A+0000.1235").ok).toBe(true);
      expect(tagged.format).toBe("channel-tagged");
      expect(tagged.read("01A+0000.1236").ok).toBe(true);
    });
  });
});
