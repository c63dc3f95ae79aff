import { describe, expect, test } from "vitest";
import { remedySchema } from "../../core/report/remedySchema.ts";
import { shopSheet } from "../../core/report/shopSheet.ts";
import { cuts, firstToLookAt, type RemedyBore, type RemedyOption, takenOption } from "../../renderer/remedy/kinds.ts";
import { movedLifters, waysOf } from "../../renderer/remedy/pairingMoves.ts";
import { optionFor, optionKey, whyNotTaken, withTakes } from "../../renderer/remedy/takes.ts";
import { BoresBench, inventedClearance } from "./boresBench.ts";
import { benchPairing, benchRemedy } from "./remedyAnswers.ts";

/** A whole block with its lifters measured: bores tight, loose and undecided among them. */
function finished(): BoresBench {
  const bench = new BoresBench({ returnCheckEvery: 0 });
  bench.act({ type: "step", step: "lifters" });
  for (let index = 0; index < 16; index += 1) bench.line(21_386_800 + (((index * 7) % 9) - 4) * 1_270, "mic");
  bench.zero();
  bench.act({ type: "step", step: "bores" });
  bench.walk(32, inventedClearance);
  return bench;
}
const bench = finished();
const remedy = remedySchema.parse(benchRemedy(bench, {}));
const boreOf = (name: string): RemedyBore => {
  const bore = remedy.bores.find((one) => one.name === name);
  if (bore === undefined) throw new Error(`no bore ${name}`);
  return bore;
};
const ofKind = (bore: RemedyBore, kind: RemedyOption["kind"]) => bore.options.find((option) => option.kind === kind);

describe("the ways that lifters go", () => {
  const pairing = benchPairing(bench, {});
  test("every lifter that changes comes out of the bore it stands in now", () => {
    const ways = waysOf(pairing);
    expect(ways).toHaveLength(movedLifters(pairing).length);
    for (const { from, to } of ways) {
      expect(pairing.assignments.find(({ bore }) => bore === to)?.lifter).toBe(from);
      expect(from).not.toBe(to);
    }
  });
  test("after acceptance nothing moves, though lifters stand in other bores", () => {
    const accepted = finished();
    accepted.act({ type: "pairing", assignments: pairing.assignments.map(({ bore, lifter }) => ({ bore, lifter })) });
    const again = benchPairing(accepted, {});
    expect(movedLifters(again)).toEqual([]);
    expect(waysOf(again)).toEqual([]);
    expect(again.assignments.some(({ bore, lifter }) => bore !== lifter)).toBe(true);
  });
});

describe("what is done with a bore", () => {
  test("the option taken is what the plan does there, for the very lifter and size it says", () => {
    expect(remedy.block.plan.length).toBeGreaterThan(0);
    for (const deed of remedy.block.plan) {
      const taken = takenOption(remedy, boreOf(deed.bore));
      expect(taken).toMatchObject({ kind: deed.kind, lifter: deed.lifter, finishHighNm: deed.finishHighNm ?? null });
    }
    for (const bore of remedy.bores) {
      if (remedy.block.plan.some((deed) => deed.bore === bore.name)) continue;
      expect(takenOption(remedy, bore)?.kind ?? null).toBe(bore.chosen);
    }
  });

  test("the first bore to look at is one that does not fit", () => {
    expect(firstToLookAt(remedy)?.verdict).not.toBe("fits");
  });

  test("nothing taken by hand leaves the remedy as the host gave it", () => {
    expect(withTakes(remedy, {})).toBe(remedy);
    const bore = boreOf("5E");
    const planned = takenOption(remedy, bore);
    if (planned === null) throw new Error("5E has no plan");
    expect(withTakes(remedy, { "5E": optionKey(planned) })).toBe(remedy);
  });

  test("an option taken by hand goes into the plan and onto the sheet with its own sizes", () => {
    const bore = boreOf("5E");
    const body = ofKind(bore, "body");
    if (body === undefined) throw new Error("5E has no larger body");
    expect(body.possible).toBe(true);
    const followed = withTakes(remedy, { "5E": optionKey(body) });
    const deed = followed.block.plan.find((one) => one.bore === "5E");
    expect(deed).toMatchObject({ kind: "body", finishLowNm: body.finishLowNm, finishHighNm: body.finishHighNm });
    const row = shopSheet(followed, { title: "", block: "" }).rows.find((one) => one.bore === "5E");
    expect(row?.work).toBe("body");
    expect(followed.block.boresTouched).toBe(followed.block.plan.filter(({ kind }) => cuts(kind)).length);
    // Figures of the whole block are not worked out for a plan changed by hand.
    expect(followed.block.metalNm).toBeUndefined();
    expect(followed.block.plan.map((one) => one.bore)).toEqual(
      remedy.bores.map(({ name }) => name).filter((name) => followed.block.plan.some((one) => one.bore === name)),
    );
  });

  test("what is not possible is not taken, whatever is asked", () => {
    const bore = boreOf("5E");
    const hone = ofKind(bore, "hone");
    if (hone === undefined) throw new Error("5E has no honing");
    expect(hone.possible).toBe(false);
    expect(whyNotTaken(remedy, bore, hone)).toBe(hone.why);
    expect(optionFor(remedy, { "5E": optionKey(hone) }, bore)).toBe(takenOption(remedy, bore));
    expect(withTakes(remedy, { "5E": optionKey(hone), "9X": "no such bore" })).toBe(remedy);
  });

  test("a bore may be left as it is by choice, and then stands among the open ones", () => {
    // With every lifter held where it is, the plan cuts and moves nothing.
    const held = Object.fromEntries(bench.job.walk.map((name) => [name, { pinned: true }]));
    const cutting = remedySchema.parse(benchRemedy(bench, { notes: held }));
    const bore = cutting.bores.find(({ name }) => cutting.block.plan.some((deed) => deed.bore === name));
    const leave = bore === undefined ? undefined : ofKind(bore, "leave");
    if (bore === undefined || leave === undefined) throw new Error("the plan cuts nothing");
    expect(leave.possible).toBe(false);
    const followed = withTakes(cutting, { [bore.name]: optionKey(leave) });
    expect(followed.block.plan.some((deed) => deed.bore === bore.name)).toBe(false);
    expect(followed.block.open).toContainEqual({ bore: bore.name, why: "left as it is by choice" });
    expect(followed.block.allFit).toBe(false);
  });

  test("a lifter that the plan gives to another bore is not taken a second time", () => {
    const moving = remedy.block.plan.find(({ moves, lifter, bore }) => moves === true && lifter !== bore);
    if (moving?.lifter === undefined) throw new Error("no lifter moves by this plan");
    const own = boreOf(moving.lifter);
    const leave = ofKind(own, "leave");
    if (leave === undefined) throw new Error("it can not be left");
    expect(whyNotTaken(remedy, own, leave)).toContain(`goes into ${moving.bore}`);
    expect(withTakes(remedy, { [own.name]: optionKey(leave) })).toBe(remedy);
  });
});
