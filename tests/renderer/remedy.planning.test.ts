import { describe, expect, test } from "vitest";
import { methods } from "../../core/bridge/messages.ts";
import { gainWord, squaresText } from "../../renderer/remedy/GainTable.tsx";
import { bodyError } from "../../renderer/remedy/OptionsSheet.tsx";
import { readPlanning } from "../../renderer/remedy/planningDraft.ts";

describe("assumptions as they are written", () => {
  test("an empty field leaves the default; a decimal comma is a point; what is asked is what the host takes", () => {
    const { assumptions, errors } = readPlanning({
      blockC: "95",
      viscosityPaS: "0,012",
      eccentricity: " ",
      guidedLength: " 1.2 in ",
      blockMaterial: "aluminium-356",
    });
    expect(errors).toEqual({});
    expect(assumptions).toEqual({
      blockC: 95,
      viscosityPaS: 0.012,
      guidedLength: "1.2 in",
      blockMaterial: "aluminium-356",
    });
    expect(methods["session.planning"].in.safeParse({ assumptions }).success).toBe(true);
  });
  test("a number that is none is said at its field and left out", () => {
    const { assumptions, errors } = readPlanning({ pressureBar: "three", lifterC: "-5" });
    expect(assumptions).toEqual({ lifterC: -5 });
    expect(errors.pressureBar).toContain("three");
  });
});

describe("figures of the pairing", () => {
  test("better and worse go by what the aim wants", () => {
    expect(gainWord(6, 13, true)).toContain("better");
    expect(gainWord(0, 14, false)).toContain("worse");
    expect(gainWord(4, 4, false)).toContain("same");
  });
  test("squares are printed in the square of the unit that is read", () => {
    expect(squaresText(2540 ** 2, "in")).toBe("1.0 tenths²");
    expect(squaresText(2540 ** 2, "tenths")).toBe("1.0 tenths²");
    expect(squaresText(4_000_000, "mm")).toBe("4.0 µm²");
  });
});

describe("a body size", () => {
  test("has a unit and is above zero, or is left empty", () => {
    expect(bodyError("")).toBeNull();
    expect(bodyError("0.8750 in")).toBeNull();
    expect(bodyError("0.8750")).toMatch(/^The unit is missing/);
    expect(bodyError("-1 mm")).toContain("above zero");
  });
});
