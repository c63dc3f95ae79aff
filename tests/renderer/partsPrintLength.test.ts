import { describe, expect, test } from "vitest";
import type { Nm } from "../../core/length/nm.ts";
import { lengthText } from "../../renderer/parts/figure/printLength.ts";

const nm = (value: number) => value as Nm;

describe("a length as the person asked to see it", () => {
  test.each([
    ["in", "0.00160 in"],
    ["tenths", "16.0 tenths"],
    ["mm", "0.0406 mm"],
    ["um", "40.6 µm"],
  ] as const)("a clearance of sixteen tenths in %s", (unit, text) => {
    expect(lengthText(nm(40_640), unit)).toBe(text);
  });
  test("a diameter stays in inches or millimetres", () => {
    expect(lengthText(nm(21_386_800), "tenths", "diameter")).toBe("0.84200 in");
    expect(lengthText(nm(21_386_800), "um", "diameter")).toBe("21.3868 mm");
  });
  test("signs: minus always, plus when asked, none on zero", () => {
    expect(lengthText(nm(-3810), "tenths")).toBe("-1.5 tenths");
    expect(lengthText(nm(3810), "tenths", "difference", true)).toBe("+1.5 tenths");
    expect(lengthText(nm(0), "tenths", "difference", true)).toBe("0.0 tenths");
  });
});
