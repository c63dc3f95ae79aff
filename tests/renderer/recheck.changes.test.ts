import { describe, expect, test } from "vitest";
import type { Comparison } from "../../core/report/comparisonSchema.ts";
import { changeScale } from "../../renderer/recheck/changeScale.ts";
import { earlierFirst } from "../../renderer/recheck/earlierFirst.ts";
import type { SessionEntry } from "../../renderer/store/store.ts";

function changed(...changes: readonly (number | null)[]): Comparison["bores"] {
  return changes.map((changeNm, index) => ({
    name: `${index + 1}I`,
    stations: [
      {
        height: "upper",
        clock: "axial",
        beforeNm: 0,
        afterNm: 0,
        changeNm,
        uncertaintyNm: changeNm === null ? null : 1500,
      },
    ],
    changeMinNm: changeNm,
    changeMaxNm: changeNm,
    change: "none seen",
    verdictBefore: "fits",
    verdictAfter: "fits",
    planned: null,
    text: "",
    attention: false,
  }));
}

describe("scale of the changes", () => {
  test.each([true, false])("holds every change with its uncertainty, and zero on a line (inches: %s)", (inches) => {
    for (const bores of [
      changed(),
      changed(null),
      changed(0),
      changed(10_160, -400, null),
      changed(-600_000, 20_000_000),
    ]) {
      const { fromNm, toNm, marksNm } = changeScale(bores, inches);
      expect(marksNm).toContain(0);
      expect(marksNm.length).toBeLessThanOrEqual(8);
      for (const { changeNm, uncertaintyNm } of bores.flatMap(({ stations }) => stations)) {
        if (changeNm === null) continue;
        expect(changeNm - (uncertaintyNm ?? 0)).toBeGreaterThan(fromNm);
        expect(changeNm + (uncertaintyNm ?? 0)).toBeLessThan(toNm);
      }
    }
  });
  test("lines stand at round figures of the unit that is read", () => {
    expect(changeScale(changed(10_160), true).marksNm.every((nm) => nm % 254 === 0)).toBe(true);
    expect(changeScale(changed(10_160), false).marksNm.every((nm) => nm % 1000 === 0)).toBe(true);
  });
});

describe("sessions to compare with", () => {
  const entry = (id: string, part: Partial<SessionEntry> = {}): SessionEntry => ({
    id,
    title: id,
    block: "other",
    created: "2031-01-01T08:00:00Z",
    modified: "2031-01-01T09:00:00Z",
    bores: 16,
    measured: 16,
    complete: true,
    verdicts: null,
    simulated: false,
    trouble: null,
    ...part,
  });
  test("not itself, none that can not be read; the same block first, the newest of them first", () => {
    const sessions = [
      entry("old", { block: "mine", created: "2030-01-01T08:00:00Z" }),
      entry("own", { block: "mine" }),
      entry("spoilt", { trouble: "line 3 is not a record" }),
      entry("newer", { created: "2031-05-01T08:00:00Z" }),
      entry("young", { block: "mine", created: "2031-02-01T08:00:00Z" }),
    ];
    expect(earlierFirst(sessions, "own", "mine").map(({ id }) => id)).toEqual(["young", "old", "newer"]);
    expect(earlierFirst(sessions, "own", "").map(({ id }) => id)).toEqual(["newer", "young", "old"]);
  });
});
