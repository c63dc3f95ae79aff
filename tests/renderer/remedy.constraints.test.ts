import { describe, expect, test } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import {
  lifterConstraints,
  NO_TIE_BAR,
  noteInWords,
  noteOf,
  oppositeLifter,
  tieBarPartners,
  withEveryNote,
  withNote,
} from "../../renderer/remedy/constraints.ts";

const job = (part: Record<string, unknown> = {}) => parseJob({ format: "borewright/job", version: 1, ...part });
const ROLLER = { lifter: { style: "roller", nominal: "0.8420 in" } };

describe("what the pairing is asked to respect", () => {
  test("is what the job says until something else is tried, and no longer tried when it says the same again", () => {
    const asked = job({ lifters: { "1I": { used: true } } });
    expect(noteOf(asked, {}, "1I")).toEqual({ used: true });
    const freed = withNote(asked, {}, "1I", { used: false });
    expect(freed).toEqual({ "1I": {} });
    expect(noteOf(asked, freed, "1I")).toEqual({});
    expect(withNote(asked, freed, "1I", { used: true })).toEqual({});
  });

  test("a tie bar is noted at both of its ends, and taken off both", () => {
    const plain = job(ROLLER);
    const tied = withNote(plain, {}, "1I", { pairedWith: "1E" });
    expect(tied).toEqual({ "1I": { pairedWith: "1E" }, "1E": { pairedWith: "1I" } });
    const turning = withNote(plain, tied, "1E", { mayTurn: true });
    expect(turning["1I"]).toEqual({ pairedWith: "1E", mayTurn: true });
    expect(withNote(plain, turning, "1E", NO_TIE_BAR)).toEqual({});
  });

  test("a lifter that hangs on another bar lets the first one go, and a third one with it", () => {
    const spares = job({ ...ROLLER, lifters: { S1: { spare: true }, S2: { spare: true }, S3: { spare: true } } });
    const first = withNote(spares, {}, "S1", { pairedWith: "S2" });
    const second = withNote(spares, first, "S3", { pairedWith: "S2" });
    expect(second).toEqual({ S2: { pairedWith: "S3", spare: true }, S3: { pairedWith: "S2", spare: true } });
  });

  test("the whole set at once: tie bars are what a pairing takes, and come off again", () => {
    const plain = job(ROLLER);
    const tied = withEveryNote(plain, {}, (name) => ({ pairedWith: oppositeLifter(plain.layout, name) }));
    expect(Object.keys(tied)).toHaveLength(16);
    for (const [name, { pairedWith }] of Object.entries(tied)) {
      expect(tieBarPartners(plain, name)).toContain(pairedWith);
      expect(tied[pairedWith ?? ""]?.pairedWith).toBe(name);
    }
    expect(() => job({ ...ROLLER, lifters: tied })).not.toThrow();
    expect(withEveryNote(plain, tied, () => NO_TIE_BAR)).toEqual({});
  });

  test("a spare lifter hangs only with spare ones", () => {
    const spares = job({ ...ROLLER, lifters: { S1: { spare: true }, S2: { spare: true } } });
    expect(tieBarPartners(spares, "S1")).toEqual(["S2"]);
    expect(tieBarPartners(spares, "3I")).toEqual(["3E"]);
  });

  test("is said in words, each constraint once", () => {
    expect(noteInWords("3E", {}, "flat")).toEqual([]);
    expect(noteInWords("3E", { used: true }, "flat")).toEqual(["used: stays in its own bore"]);
    expect(noteInWords("3E", { used: true }, "roller")).toEqual(["used"]);
    expect(noteInWords("3E", { pinned: "5E", keptFrom: ["1I", "2I"] }, "flat")).toEqual([
      "goes into 5E",
      "kept from 1I, 2I",
    ]);
    expect(noteInWords("3E", { pinned: "3E", pairedWith: "3I", mayTurn: true }, "roller")).toEqual([
      "stays in its own bore",
      "tie bar with 3I, may turn round",
    ]);
  });

  test("the list shows what the job asks and what is tried, also where that frees a lifter", () => {
    const asked = job({ lifters: { "1I": { used: true }, "2E": { pinned: true } } });
    const tried = withNote(asked, {}, "2E", { pinned: false });
    expect(lifterConstraints(asked, tried)).toEqual([
      { lifter: "1I", words: ["used: stays in its own bore"], tried: false },
      { lifter: "2E", words: [], tried: true },
    ]);
  });
});
