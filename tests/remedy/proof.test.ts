import { describe, expect, test } from "vitest";
import type { BoreFinding } from "../../core/fit/finding.ts";
import { remedySession } from "../../core/report/remedyReport.ts";
import type { Remedy } from "../../core/report/remedySchema.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { Random } from "../../electron/simulator/random.ts";
import { type TrueBlock, wornBlock } from "../../electron/simulator/trueBlock.ts";
import { machineAsPlanned } from "./machineShop.ts";
import { blockJob, type JobJson, measureBlock } from "./measureBlock.ts";

/** What became of one bore. */
interface Outcome {
  readonly seed: number;
  readonly bore: string;
  /** The plan said that every bore of this block will be found to fit. */
  readonly allFit: boolean;
  readonly did: "left" | "paired" | "cut";
  /** What the plan said beforehand. */
  readonly said: "fits" | "near" | "undecided" | "does not fit";
  readonly first: BoreFinding["verdict"];
  /** Measured again as told. */
  readonly second: BoreFinding["verdict"];
}

/** Measured, planned, carried out as planned, and measured again as told: in a second session, with every error drawn anew. */
function provenBlock(job: JobJson, seed: number, errorShare: number): readonly Outcome[] {
  const random = new Random(seed);
  const before = wornBlock(parseJob(job), random.fork("worn"));
  const remedy = remedySession(measureBlock(job, before, seed, errorShare));
  const after = machineAsPlanned(remedy, before, random.fork("shop"));
  const again = measureBlock(job, after, seed + 10_000, errorShare).run.findings();
  return remedy.bores.map(({ name, verdict, near, measureOn }): Outcome => {
    const deed = remedy.block.plan.find(({ bore }) => bore === name);
    const open = remedy.block.open?.find(({ bore }) => bore === name);
    const second =
      measureOn === "its lifter"
        ? onItsLifter(job, after, name, seed + 20_000, errorShare)
        : again.find((finding) => finding.name === name)?.verdict;
    return {
      seed,
      bore: name,
      allFit: remedy.block.allFit === true,
      did: didTo(deed),
      said:
        open === undefined ? (near === true ? "near" : "fits") : open.undecided === true ? "undecided" : "does not fit",
      first: verdict,
      second: second ?? "not measured",
    };
  });
}

function didTo(deed: Remedy["block"]["plan"][number] | undefined): Outcome["did"] {
  if (deed === undefined) return "left";
  return deed.finishLowNm === null || deed.finishLowNm === undefined ? "paired" : "cut";
}

/** A session of its own, with the micrometer set to the lifter that is in this bore now. */
function onItsLifter(job: JobJson, block: TrueBlock, bore: string, seed: number, errorShare: number) {
  return measureBlock({ ...job, walk: [bore] }, block, seed, errorShare).run.findings()[0]?.verdict;
}

function provenBlocks(job: JobJson, count: number, errorShare: number): readonly Outcome[] {
  return Array.from({ length: count }, (_, index) => provenBlock(job, index + 1, errorShare)).flat();
}

function tell(title: string, outcomes: readonly Outcome[]): void {
  const counts = new Map<string, number>();
  for (const { did, said, second } of outcomes) {
    const key = `${did}, said "${said}": found "${second}"`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const lines = [...counts].sort(([a], [b]) => a.localeCompare(b)).map(([key, count]) => `  ${key}: ${count}`);
  console.log([title, ...lines].join("\n"));
}

const where = (outcomes: readonly Outcome[]) =>
  outcomes.map(({ seed, bore, second }) => `seed ${seed} ${bore} ${second}`);

/**
 * Where the plan said that the whole block will be found to fit, all of it is; of every other block it said beforehand that
 * it is not sure, and of which bores. Returns how many blocks were promised.
 */
function keepsItsPromises(outcomes: readonly Outcome[], count: number): number {
  const blocks = Array.from({ length: count }, (_, index) => outcomes.filter(({ seed }) => seed === index + 1));
  const promised = blocks.filter(([first]) => first?.allFit === true);
  console.log(`the plan said of ${promised.length} of ${count} blocks that all of it will be found to fit`);
  expect(where(promised.flat().filter(({ second }) => second !== "fits"))).toEqual([]);
  for (const block of blocks) {
    expect(block[0]?.allFit).toBe(block.every(({ said }) => said === "fits"));
  }
  return promised.length;
}

describe("a worn block measured, planned, machined as planned and measured again", () => {
  test("is found as the plan said beforehand, in 100 of 100 blocks", () => {
    const outcomes = provenBlocks(blockJob(), 100, 0.5);
    tell("100 blocks, 16 bores each, gauge errors half of the budget:", outcomes);
    expect(outcomes).toHaveLength(1600);
    const said = (what: Outcome["said"]) => outcomes.filter((outcome) => outcome.said === what);
    // Everything that the plan stood by is found to fit, and that is most of it.
    expect(where(said("fits").filter(({ second }) => second !== "fits"))).toEqual([]);
    expect(said("fits").length).toBeGreaterThan(700);
    expect(
      outcomes.filter(({ did, said, second }) => did === "cut" && said === "fits" && second === "fits").length,
    ).toBeGreaterThan(200);
    keepsItsPromises(outcomes, 100);
    // What it called narrow is found to fit or, at worst, undecided; never wrong.
    expect(where(said("near").filter(({ second }) => second !== "fits" && second !== "undecided"))).toEqual([]);
    // What it said does not fit does not; what it left undecided is not known to fit in most cases.
    expect(where(said("does not fit").filter(({ second }) => second === "fits"))).toEqual([]);
    const waiting = said("undecided");
    expect(waiting.filter(({ second }) => second === "fits").length).toBeLessThanOrEqual(0.25 * waiting.length);
    // A bore left alone keeps its first verdict, or the second look says that it is too near to tell.
    const left = outcomes.filter(({ did }) => did === "left");
    expect(
      where(left.filter(({ first, second }) => first === "fits" && second !== "fits" && second !== "undecided")),
    ).toEqual([]);
  });

  test("with the wider limits of a roller, most blocks are brought to fit all over, in every one that the plan says so of", () => {
    const outcomes = provenBlocks(blockJob({ lifter: { style: "roller", nominal: "0.8420 in" } }), 100, 0.5);
    tell("100 blocks with the limits of a roller:", outcomes);
    expect(keepsItsPromises(outcomes, 100)).toBeGreaterThan(50);
    expect(where(outcomes.filter(({ said, second }) => said === "near" && second.startsWith("too")))).toEqual([]);
  });

  test("by an ordinary gauge, every bore that was cut is found to fit on its own lifter, in 20 of 20 blocks", () => {
    const ordinary = blockJob({
      gauges: [
        { id: "bore", role: "bore", sends: "held" },
        { id: "mic", role: "micrometer" },
      ],
      budget: {},
    });
    const outcomes = provenBlocks(ordinary, 20, 0.5);
    tell("20 blocks by an ordinary gauge:", outcomes);
    const cut = outcomes.filter(({ did, said }) => did === "cut" && said === "fits");
    expect(cut.length).toBeGreaterThan(40);
    expect(where(cut.filter(({ second }) => second !== "fits"))).toEqual([]);
    expect(where(outcomes.filter(({ said, second }) => said !== "undecided" && second.startsWith("too")))).toEqual([]);
  });

  test("with errors as large as the whole budget allows, what was cut is found to fit 19 times in 20", () => {
    const outcomes = provenBlocks(blockJob(), 30, 1);
    tell("30 blocks, gauge errors all of the budget:", outcomes);
    const stoodBy = outcomes.filter(({ said }) => said === "fits");
    const missed = stoodBy.filter(({ second }) => second !== "fits");
    expect(stoodBy.length).toBeGreaterThan(200);
    expect(missed.length / stoodBy.length).toBeLessThan(0.05);
    expect(where(missed.filter(({ second }) => second !== "undecided"))).toEqual([]);
  });
});
