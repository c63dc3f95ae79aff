import { describe, expect, test } from "vitest";
import { methods } from "../../core/bridge/messages.ts";
import { lifterInWords, otherLifter } from "../../renderer/findings/lifterWords.ts";
import { NOTHING_ELSE, readWhatIf } from "../../renderer/findings/whatIfDesk.ts";

describe("a what-if as it is written", () => {
  test("nothing written asks nothing", () => {
    expect(readWhatIf(NOTHING_ELSE)).toEqual({ input: null, words: [], errors: {} });
    expect(readWhatIf({ ...NOTHING_ELSE, everyLifter: "  ", lifters: { "3E": "" } }).input).toBeNull();
  });

  test("says all that differs in words, and is what the host takes", () => {
    const { input, words, errors } = readWhatIf({
      ...NOTHING_ELSE,
      limits: "own",
      low: "0.0012 in",
      high: "0.0020 in",
      rule: "simple",
      lifters: { "3E": "21.388 mm" },
      blockC: "24,5",
      lifterC: "21",
    });
    expect(errors).toEqual({});
    expect(words).toEqual([
      "limits 0.0012 in to 0.0020 in",
      "the simple rule",
      "lifter 3E 21.388 mm",
      "block at 24.5 °C",
      "lifters at 21 °C",
    ]);
    expect(input).toEqual({
      limits: { low: "0.0012 in", high: "0.0020 in" },
      rule: "simple",
      lifters: { "3E": "21.388 mm" },
      blockC: 24.5,
      lifterC: 21,
    });
    expect(methods["session.whatIf"].in.safeParse({ whatIf: input }).success).toBe(true);
  });

  test("a field that can not be read is said at that field, and nothing is asked meanwhile", () => {
    const without = readWhatIf({ ...NOTHING_ELSE, rule: "simple", everyLifter: "0.8422" });
    expect(without.input).toBeNull();
    expect(without.errors.everyLifter).toMatch(/^The unit is missing/);
    expect(readWhatIf({ ...NOTHING_ELSE, lifters: { "3E": "wide" } }).errors["lifters.3E"]).toContain("expected");
    expect(readWhatIf({ ...NOTHING_ELSE, blockC: "warm" }).errors.blockC).toContain("degrees Celsius");
    expect(readWhatIf({ ...NOTHING_ELSE, lifterC: "900" }).errors.lifterC).toContain("150");
  });

  test("limits of one's own need both ends", () => {
    expect(readWhatIf({ ...NOTHING_ELSE, limits: "own", low: "0.0012 in" })).toEqual({
      input: null,
      words: [],
      errors: { high: "The largest clearance is needed too." },
    });
    expect(readWhatIf({ ...NOTHING_ELSE, limits: "own" }).errors).toEqual({});
    expect(readWhatIf({ ...NOTHING_ELSE, limits: "roller" }).input).toEqual({ limits: "roller" });
  });
});

describe("the lifter that a bore is judged against", () => {
  test("is named where it is another than its own, and where its own is not measured", () => {
    expect(otherLifter({ name: "1I", lifter: "3E" })).toBe("3E");
    expect(otherLifter({ name: "1I", lifter: "1I" })).toBeNull();
    expect(otherLifter({ name: "1I", lifter: null })).toBeNull();
    expect(lifterInWords({ name: "1I", lifter: "3E" })).toBe("3E, by the accepted pairing");
    expect(lifterInWords({ name: "1I", lifter: "1I" })).toBe("1I, its own");
    expect(lifterInWords({ name: "1I", lifter: null })).toContain("not measured");
  });
});
