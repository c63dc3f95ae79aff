import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatLength, formatTenths } from "../../core/length/formatLength.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { LengthError, parseDecimal, parseLength } from "../../core/length/parseLength.ts";
import { NM_PER, type Unit } from "../../core/length/unit.ts";

const UNITS: readonly Unit[] = ["in", "mm", "um"];
/** Places that show every nanometre of a unit, so that printing loses nothing. */
const FULL = { in: 9, mm: 6, um: 3 } as const;

describe("an inch is 25.4 mm exactly (international agreement of 1959)", () => {
  it.each([
    ["1 in", 25_400_000],
    ["25.4 mm", 25_400_000],
    ["0.8427 in", 21_404_580],
    ["0.0001 in", 2_540],
    ["0.000005 in", 127],
    ["0.0013 in", 33_020],
    ["0.0019 in", 48_260],
    ["21.387 mm", 21_387_000],
    ["15 um", 15_000],
    ["15 µm", 15_000],
    ["15 μm", 15_000],
    ["-0.00015in", -3_810],
    ["+.5 mm", 500_000],
    ["  0.8420 in ", 21_386_800],
    ["-0 in", 0],
  ])("%s is %i nm", (text, nm) => {
    expect(parseLength(text)).toBe(nm);
    expect(Object.is(parseLength(text), -0)).toBe(false);
  });

  it("any count of 0.0001 in is the same in inch and in millimetre", () => {
    fc.assert(
      fc.property(fc.integer({ min: -100_000, max: 100_000 }), (tenths) => {
        const inches = `${tenths < 0 ? "-" : ""}${Math.floor(Math.abs(tenths) / 1e4)}.${String(Math.abs(tenths) % 1e4).padStart(4, "0")}`;
        const mm = formatLength((tenths * 2_540) as Nm, "mm", 5);
        expect(parseDecimal(inches, "in")).toBe(tenths === 0 ? 0 : tenths * 2_540);
        expect(parseDecimal(mm, "mm")).toBe(parseDecimal(inches, "in"));
      }),
      { seed: 1201, numRuns: 1000 },
    );
  });
});

describe("decimals are rounded on scaled integers, not on binary fractions", () => {
  it("7.485 and 8.995, which no double holds, round half away from zero", () => {
    expect((7.485).toFixed(2)).toBe("7.49");
    expect((8.995).toFixed(2)).toBe("8.99");
    expect(formatLength(parseLength("7.485 mm"), "mm", 2)).toBe("7.49");
    expect(formatLength(parseLength("8.995 mm"), "mm", 2)).toBe("9.00");
    expect(formatLength(parseLength("-8.995 mm"), "mm", 2)).toBe("-9.00");
    expect(parseLength("7.485 mm")).toBe(7_485_000);
    expect(parseLength("8.995 in")).toBe(228_473_000);
  });

  it("halves of a nanometre go away from zero, less goes towards it", () => {
    expect(parseLength("0.0000005 mm")).toBe(1);
    expect(parseLength("-0.0000005 mm")).toBe(-1);
    expect(parseLength("0.00000049999999 mm")).toBe(0);
    expect(parseLength("0.00000000000001 in")).toBe(0);
    expect(parseLength("0.0005 um")).toBe(1);
  });

  it("agrees with exact rational arithmetic on any decimal, short or long", () => {
    const digits = (min: number, max: number) => fc.stringMatching(new RegExp(`^\\d{${min},${max}}$`));
    fc.assert(
      fc.property(
        digits(1, 6),
        digits(1, 15),
        fc.boolean(),
        fc.constantFrom(...UNITS),
        (whole, fraction, minus, unit) => {
          const scale = 10n ** BigInt(fraction.length);
          const exact = BigInt(whole + fraction) * BigInt(NM_PER[unit]);
          const nearest = Number((exact * 2n + scale) / (scale * 2n));
          const parsed = parseDecimal(`${minus ? "-" : ""}${whole}.${fraction}`, unit);
          expect(parsed).toBe(minus && nearest !== 0 ? -nearest : nearest);
        },
      ),
      { seed: 1202, numRuns: 3000 },
    );
  });
});

describe("printing and reading again", () => {
  const length = fc.integer({ min: -(2 ** 46), max: 2 ** 46 }).map((nm) => nm as Nm);

  it("gives the same nanometres when the places show them all", () => {
    fc.assert(
      fc.property(length, fc.constantFrom(...UNITS), fc.boolean(), (nm, unit, sign) => {
        const text = `${formatLength(nm, unit, FULL[unit], sign)} ${unit}`;
        expect(parseLength(text)).toBe(nm === 0 ? 0 : nm);
      }),
      { seed: 1203, numRuns: 2000 },
    );
  });

  it("is off by at most half of the last place, and prints the same again", () => {
    fc.assert(
      fc.property(length, fc.constantFrom(...UNITS), fc.nat(5), (nm, unit, decimals) => {
        const text = formatLength(nm, unit, decimals);
        const back = parseDecimal(text, unit) as number;
        // Half a last place, and half a nanometre since `back` is whole.
        expect(Math.abs(back - nm)).toBeLessThanOrEqual(NM_PER[unit] / 10 ** decimals / 2 + 0.5);
        expect(text.split(".")[1]?.length ?? 0).toBe(decimals);
      }),
      { seed: 1204, numRuns: 2000 },
    );
  });

  it("mirrors: the opposite length prints as the same digits with the other sign", () => {
    fc.assert(
      fc.property(length, fc.constantFrom(...UNITS), fc.nat(6), (nm, unit, decimals) => {
        const way = formatLength(nm, unit, decimals, true);
        const back = formatLength(-nm as Nm, unit, decimals, true);
        expect(back).toBe(way.replace(/[+-]/, (sign) => (sign === "+" ? "-" : "+")));
      }),
      { seed: 1205, numRuns: 500 },
    );
  });

  it("never signs what is printed as zero", () => {
    for (const nm of [0, -0, 100, -100]) expect(formatLength(nm as Nm, "mm", 3, true)).toBe("0.000");
    expect(formatTenths(-100 as Nm, 1, true)).toBe("0.0");
  });

  it("prints whole units without a point", () => {
    expect(formatLength(25_400_000 as Nm, "in", 0)).toBe("1");
    expect(formatLength(-500_000 as Nm, "mm", 0)).toBe("-1");
  });

  it("a tenth is 0.0001 in: 0.0016 in is sixteen tenths", () => {
    expect(formatTenths(parseLength("0.0016 in"), 0)).toBe("16");
    expect(formatTenths(parseLength("0.00165 in"), 1, true)).toBe("+16.5");
    expect(formatTenths(parseLength("-0.00165 in"), 0)).toBe("-17");
    fc.assert(
      fc.property(length, (nm) => {
        expect(formatTenths(nm, 2).replace(".", "")).toBe(movedPoint(formatLength(nm, "in", 6)));
      }),
      { seed: 1206, numRuns: 500 },
    );
  });
});

/** The digits of tenths with two places, had from inches with six. */
function movedPoint(inches: string): string {
  const minus = inches.startsWith("-") ? "-" : "";
  return minus + inches.replace(/[-.]/g, "").replace(/^0+(?=\d{3})/, "");
}

describe("refusals", () => {
  it.each(["0.8420", "15", "-.5", "0"])("%j has no unit, and the message says so", (text) => {
    expect(() => parseLength(text)).toThrow(LengthError);
    expect(() => parseLength(text)).toThrow(/unit is missing.*"0\.8420 in"/);
  });

  it.each([
    "",
    "in",
    ". in",
    "- mm",
    "1.2.3 mm",
    "1e-3 in",
    "0,842 in",
    "1 000 mm",
    "0.842 inch",
    "0.842 IN",
    "0.842 cm",
    "0.842 in in",
    "+-1 mm",
    "∞ mm",
    "NaN in",
    "99999999999 in",
    "1234567890123 mm",
    "0.1234567890123456 mm",
  ])("%j is not a length", (text) => {
    expect(() => parseLength(text)).toThrow(LengthError);
    expect(() => parseLength(text)).toThrow(`found ${JSON.stringify(text)}, expected`);
    expect(() => parseLength(text)).not.toThrow("unit is missing");
  });

  it("parseDecimal gives null rather than a guess", () => {
    for (const text of ["", "+", ".", " 1", "1 ", "1e3", "1,5", "0x10", "--1", "Infinity"]) {
      expect(parseDecimal(text, "mm")).toBeNull();
    }
  });
});

describe("toNm", () => {
  it("rounds halves away from zero and never gives a negative zero", () => {
    expect([0.5, 1.4, -0.5, -1.5, 2.5].map(toNm)).toEqual([1, 1, -1, -2, 3]);
    for (const nm of [-0, -0.4]) expect(Object.is(toNm(nm), 0)).toBe(true);
  });

  it("takes no failed computation for a length", () => {
    for (const nm of [Number.NaN, Number.POSITIVE_INFINITY, -Infinity, 1e17])
      expect(() => toNm(nm)).toThrow(RangeError);
  });
});
