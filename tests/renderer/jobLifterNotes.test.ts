import { describe, expect, test } from "vitest";
import { LAYOUTS } from "../../core/block/layouts.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { type LifterSet, lifterSetFor, notesOf, setOf } from "../../renderer/job/lifterNotes.ts";

const NEW: LifterSet = { used: false, tied: false, mayTurn: false, spares: 0 };
const sets: LifterSet[] = [
  NEW,
  { ...NEW, used: true },
  { ...NEW, tied: true, mayTurn: true, spares: 4 },
  { used: true, tied: true, mayTurn: false, spares: 3 },
];

describe("what is said of a whole set of lifters", () => {
  for (const layout of LAYOUTS) {
    test.each(sets)(`${layout.id}: %j is a sound job and is read back`, (set) => {
      const notes = notesOf(set, layout);
      expect(setOf(notes, layout)).toEqual(set);
      const lifters = notes === undefined ? {} : { lifters: notes };
      const job = parseJob({ format: "borewright/job", version: 1, layout: layout.id, ...lifters });
      expect(Object.values(job.lifters).filter(({ spare }) => spare === true)).toHaveLength(set.spares);
    });
  }

  test("notes on single lifters are left as they are", () => {
    const [layout] = LAYOUTS;
    if (layout === undefined) throw new Error("a layout ships");
    expect(setOf({ "1I": { pinned: true } }, layout)).toBeNull();
    expect(setOf({ "1I": { used: true } }, layout)).toBeNull();
  });

  test("another layout keeps the set and drops what names the bores of the one before", () => {
    const [before] = LAYOUTS;
    const after = LAYOUTS.find(({ bores }) => bores.length !== before?.bores.length);
    if (before === undefined || after === undefined) throw new Error("layouts of two sizes ship");
    const set = { ...NEW, used: true, spares: 2 };
    expect(setOf(lifterSetFor(notesOf(set, before), before, after), after)).toEqual(set);
    expect(lifterSetFor({ "1I": { pinned: true } }, before, after)).toBeUndefined();
  });
});
