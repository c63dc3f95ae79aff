import { describe, expect, test } from "vitest";
import { toNm } from "../../core/length/nm.ts";
import { PairingError } from "../../core/pairing/pairingError.ts";
import { pairSession } from "../../core/report/pairingReport.ts";
import { type Pairing, pairingSchema } from "../../core/report/pairingSchema.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import type { Recording } from "../../core/session/recording.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { walkFeed } from "../session/walkFeed.ts";
import { isBefore } from "./everyChoice.ts";

const GAUGES = [
  { id: "bore", role: "bore", sends: "held", unit: "in", resolution: "0.00005 in" },
  { id: "mic", role: "micrometer", sends: "press", unit: "in", resolution: "0.00005 in" },
];
const BASE = { format: "borewright/job", version: 1, layout: "i4-turns", gauges: GAUGES };
const ROLLERS = { lifter: { style: "roller", nominal: "0.8420 in" } };

function walked(job: Record<string, unknown> = {}, seed = 1, cut: (line: string) => boolean = () => true): Recording {
  const whole = { ...BASE, ...job };
  const { lines } = simulateFeed(parseJob(whole), { seed });
  return walkFeed(whole, lines.filter(cut)).recording;
}

/** Everything that was measured, with some lifters forgotten. */
function without(recording: Recording, ...names: readonly string[]) {
  const input = recording.run.fitInput();
  return { ...input, lifters: new Map([...input.lifters].filter(([name]) => !names.includes(name))) };
}

test("a lifter that stands in a bore left out is no candidate, whoever it was measured for", () => {
  const recording = walked();
  const [one, other] = recording.job.walk as [string, string];
  const swapped = [
    { bore: one, lifter: other },
    { bore: other, lifter: one },
  ];
  recording.record({ type: "pairing", t: recording.tMs + 1000, assignments: swapped });
  // The second bore is to be measured again, so it is left alone, with the first one's lifter in it.
  recording.record({ type: "go", t: recording.tMs + 2000, bore: other });
  const pairing = pairSession(recording);
  expect(pairing.leftOut.map(({ bore }) => bore)).toEqual([other]);
  expect(pairing.assignments.map(({ lifter }) => lifter)).not.toContain(one);
  expect(pairing.assignments.find(({ bore }) => bore === one)?.before.lifter).toBe(other);
});

function accept(recording: Recording, pairing: Pairing): void {
  const assignments = pairing.assignments.map(({ bore, lifter }) => ({ bore, lifter }));
  recording.record({ type: "pairing", t: recording.tMs + 1000, assignments });
}

const worth = (order: Pairing["before"]) => [
  -order.fits,
  -order.preferred,
  order.worstDeviationNm,
  order.sumSquaresNm2,
  order.moved,
];

function troubleOf(pair: () => unknown): PairingError {
  try {
    pair();
  } catch (error) {
    if (error instanceof PairingError) return error;
    throw error;
  }
  throw new Error("there is a pairing");
}

const TIES = { "1E": { pairedWith: "1I" }, "3E": { pairedWith: "3I", mayTurn: true }, "4E": { pairedWith: "4I" } };
const JOBS: readonly (readonly [string, Record<string, unknown>])[] = [
  ["flat-faced, new", {}],
  ["flat-faced, some used", { lifters: { "1I": { used: true }, "2E": { used: true } } }],
  ["with two spare lifters", { lifters: { S1: { spare: true }, S2: { spare: true } } }],
  [
    "rollers on tie bars, with a spare pair",
    { ...ROLLERS, lifters: { ...TIES, S1: { spare: true, pairedWith: "S2" }, S2: { spare: true } } },
  ],
  [
    "simple rule, one pinned and one kept out",
    { rule: "simple", lifters: { "1I": { pinned: "2I" }, "3E": { keptFrom: ["3E", "4E"] } } },
  ],
];

describe.each(JOBS)("pairing a session: %s", (_, job) => {
  test.each([1, 2, 3])("seed %d: as its schema says, never worse than now, and true once it is accepted", (seed) => {
    const recording = walked(job, seed);
    const pairing = pairSession(recording);
    expect(pairingSchema.parse(pairing)).toEqual(pairing);
    expect(pairing.assignments.map(({ bore }) => bore)).toEqual(recording.job.walk);
    expect(new Set(pairing.assignments.map(({ lifter }) => lifter)).size).toBe(8);
    const own = Object.values(recording.job.lifters).every(({ pinned, keptFrom }) => !pinned && !keptFrom);
    if (own) expect(isBefore(worth(pairing.before), worth(pairing.after))).toBe(false);

    const counted = pairing.assignments;
    expect(pairing.after.fits).toBe(counted.filter(({ verdict }) => verdict === "fits").length);
    expect(pairing.after.preferred).toBe(counted.filter(({ preferred }) => preferred).length);
    expect(pairing.after.moved).toBe(counted.filter(({ moves }) => moves).length);
    expect(pairing.after.worstDeviationNm).toBe(Math.max(...counted.map(({ deviationNm }) => Math.abs(deviationNm))));
    for (const one of counted) {
      const middle = (one.clearanceMinNm + one.clearanceMaxNm) / 2 - pairing.targetNm;
      expect(Math.abs(one.deviationNm - middle)).toBeLessThanOrEqual(0.5);
      expect(one.moves).toBe(one.lifter !== one.bore);
    }
    const findings = recording.run.findings();
    expect(counted.map(({ before }) => before)).toEqual(
      findings.map(({ lifter, clearanceMinNm, clearanceMaxNm, verdict, preferred }) => ({
        lifter,
        clearanceMinNm,
        clearanceMaxNm,
        verdict,
        preferred,
      })),
    );

    accept(recording, pairing);
    expect(
      recording.run
        .findings()
        .map(({ name, lifter, clearanceMinNm, clearanceMaxNm, verdict, preferred, confidence }) => ({
          bore: name,
          lifter,
          clearanceMinNm,
          clearanceMaxNm,
          verdict,
          preferred,
          confidence,
        })),
    ).toEqual(
      counted.map(({ bore, lifter, clearanceMinNm, clearanceMaxNm, verdict, preferred, confidence }) => ({
        bore,
        lifter,
        clearanceMinNm,
        clearanceMaxNm,
        verdict,
        preferred,
        confidence,
      })),
    );
    const again = pairSession(recording);
    expect(again.before).toEqual(pairing.after);
    expect(again.after).toEqual(pairing.after);
    expect(again.assignments.every(({ lifter, before }) => lifter === before.lifter)).toBe(true);
    expect(again.notes[0]).toBe("The lifters are in the best order there is under the rules: nothing moves.");
  });
});

describe("what holds a lifter where it is, is said", () => {
  test("used, pinned, and tied to one that is", () => {
    const flat = pairSession(
      walked({ lifters: { "1I": { used: true }, "2I": { pinned: "3I" }, "2E": { pinned: true } } }),
    );
    const whyOf = (pairing: Pairing, bore: string) => pairing.assignments.find((one) => one.bore === bore)?.why;
    expect(whyOf(flat, "1I")).toBe("is used and flat-faced, so it stays in bore 1I");
    expect(whyOf(flat, "3I")).toBe("is pinned to bore 3I");
    expect(whyOf(flat, "2E")).toBe("is pinned to its own bore 2E");
    expect(whyOf(flat, "4I")).toBeUndefined();
    const tied = pairSession(walked({ ...ROLLERS, lifters: { "1I": { pairedWith: "1E", pinned: true } } }));
    expect(whyOf(tied, "1E")).toBe("hangs on one tie bar with 1I, which is pinned to its own bore 1I");
  });

  test("notes for the lifters stand in for the job's, lifter by lifter", () => {
    const recording = walked({ lifters: { "1I": { pinned: "2I" } } });
    expect(pairSession(recording).assignments.find(({ bore }) => bore === "2I")?.lifter).toBe("1I");
    const other = pairSession(recording, { notes: { "1I": { pinned: "3I" } } });
    expect(other.assignments.find(({ bore }) => bore === "3I")?.lifter).toBe("1I");
    expect(() => pairSession(recording, { notes: { "1I": { pairedWith: "9Z" } } })).toThrow(/9Z/);
  });
});

describe("what is looked at instead of what was measured", () => {
  test("other limits, another rule", () => {
    const recording = walked();
    const input = recording.run.fitInput();
    const limits = { ...input.limits, preferredLowNm: null, preferredHighNm: null };
    const simple = pairSession(recording, { input: { ...input, limits, rule: "simple" } });
    expect(simple.rule).toBe("simple");
    expect(simple.targetNm).toBe(toNm((limits.lowNm + limits.highNm) / 2));
    expect(simple.after.fits).toBeGreaterThanOrEqual(pairSession(recording).after.fits);
  });

  test("every lifter larger and every limit smaller by the same gives the same order", () => {
    const recording = walked({ lifters: { S1: { spare: true } } }, 4);
    const input = recording.run.fitInput();
    const shift = 700;
    const smaller = (length: number | null) => (length === null ? null : toNm(length - shift));
    const { limits } = input;
    const shifted = pairSession(recording, {
      input: {
        ...input,
        lifters: new Map([...input.lifters].map(([name, diameter]) => [name, toNm(diameter + shift)])),
        // The gauge was zeroed in the same micrometer, so a larger lifter there reads a larger bore: put that back.
        stations: input.stations.map((station) => ({ ...station, valueNm: toNm(station.valueNm - shift) })),
        limits: {
          ...limits,
          lowNm: toNm(limits.lowNm - shift),
          highNm: toNm(limits.highNm - shift),
          preferredLowNm: smaller(limits.preferredLowNm),
          preferredHighNm: smaller(limits.preferredHighNm),
        },
      },
    });
    const lifters = (pairing: Pairing) => pairing.assignments.map(({ lifter }) => lifter);
    expect(lifters(shifted)).toEqual(lifters(pairSession(recording)));
  });
});

describe("a record that is in doubt is said to be", () => {
  test("a lifter one turn of the micrometer out", () => {
    const whole = { ...BASE };
    const { lines } = simulateFeed(parseJob(whole), { seed: 4, blunders: ["turn-out"] });
    const { notes } = pairSession(walkFeed(whole, lines).recording);
    expect(notes[0]).toMatch(/^What was measured is in doubt: turn-out.*\. Settle that before a lifter is moved\.$/);
  });

  test("a walk that is not done, and no word of it when it is", () => {
    const recording = walked();
    expect(pairSession(recording).notes.join(" ")).not.toMatch(/in doubt|not complete/);
    const half = walked({}, 1, (line) => JSON.parse(line).t < recording.tMs * 0.8);
    expect(pairSession(half).notes).toContain(
      "The walk is not complete: this order may change with what is still to be measured.",
    );
  });
});

describe("bores and lifters that can not be compared are left alone, and said", () => {
  test("bores not measured, and the other bore of their tie bar", () => {
    const recording = walked({ ...ROLLERS, lifters: { "4E": { pairedWith: "4I" } } });
    const input = recording.run.fitInput();
    const some = {
      ...input,
      stations: input.stations.filter(
        ({ bore, place }) => bore !== "4E" && !(bore === "1I" && place.height === "lower"),
      ),
    };
    const pairing = pairSession(recording, { input: some });
    expect(pairing.leftOut).toEqual([
      { bore: "1I", why: "not measured at lower along the crank" },
      { bore: "4I", why: "its lifter hangs on one tie bar with 4E, whose bore is left out" },
      { bore: "4E", why: "not measured" },
    ]);
    expect(pairing.assignments.map(({ bore }) => bore)).toEqual(["1E", "2I", "2E", "3I", "3E"]);
    expect(pairing.assignments.some(({ lifter }) => ["1I", "4I", "4E"].includes(lifter))).toBe(false);
    expect(pairing.leftOver).toEqual([]);
  });

  test("bores whose zero moved", () => {
    const recording = walked();
    const input = recording.run.fitInput();
    const references = input.references.map((one) => ({ ...one, held: one.kind === "zero" }));
    const trouble = troubleOf(() => pairSession(recording, { input: { ...input, references } }));
    expect(trouble.trouble).toBe("no-bores");
    expect(trouble.message).toContain("its zero moved, so it must be measured again");
  });

  test("a bore nowhere near its lifter, as one of them is misread", () => {
    const recording = walked();
    const input = recording.run.fitInput();
    const turn = toNm((input.lifters.get("2E") ?? 0) + 635_000);
    const pairing = pairSession(recording, { input: { ...input, lifters: new Map([...input.lifters, ["2E", turn]]) } });
    expect(pairing.leftOut).toHaveLength(1);
    expect(pairing.leftOut[0]?.bore).toBe("2E");
    expect(pairing.leftOut[0]?.why).toMatch(
      /^it measures 21\.4\d\d\d mm and its lifter 2E 22\.0\d\d\d mm, so one of the two is misread or they do not belong together$/,
    );
    expect(pairing.assignments.some(({ lifter }) => lifter === "2E")).toBe(false);
  });

  test("spare lifters that were not measured, and the other of their pair", () => {
    const recording = walked({
      ...ROLLERS,
      lifters: { ...TIES, S1: { spare: true, pairedWith: "S2" }, S2: { spare: true }, S3: { spare: true } },
    });
    const pairing = pairSession(recording, { input: without(recording, "S2", "S3") });
    expect(pairing.leftOver).toContain("S1");
    expect(pairing.notes).toContain("Lifter S1 is not used: on one tie bar with S2, which is not measured.");
    expect(pairing.notes).toContain("Lifter S2 is not used: not measured.");
    expect(pairing.notes).toContain("Lifter S3 is not used: not measured.");
  });

  test("a spare lifter of another size, and a used flat-faced one", () => {
    const recording = walked({ lifters: { S1: { spare: true }, S2: { spare: true, used: true } } });
    const input = recording.run.fitInput();
    const lifters = new Map([...input.lifters, ["S1", toNm(22_225_000)] as const]);
    const pairing = pairSession(recording, { input: { ...input, lifters } });
    expect(pairing.leftOver).toEqual(expect.arrayContaining(["S1", "S2"]));
    expect(pairing.notes.join(" ")).toContain("Lifter S1 is not used: of another size than these bores need.");
    expect(pairing.notes.join(" ")).toContain("Spare lifter S2 is not used: it has run in an engine, flat-faced");
  });
});

describe("without what is needed there is no pairing, and the reason is said", () => {
  const recording = walked({ lifters: { S1: { spare: true } } });
  const all = [...recording.run.fitInput().lifters.keys()];

  test("no lifter measured", () => {
    const { trouble, message } = troubleOf(() => pairSession(recording, { input: without(recording, ...all) }));
    expect(trouble).toBe("no-lifters");
    expect(message).toMatch(/^No lifter was measured in this session; expected .* Measure them/);
  });

  test("a lifter not measured, though a spare one could stand in", () => {
    const { trouble, message } = troubleOf(() => pairSession(recording, { input: without(recording, "2E") }));
    expect(trouble).toBe("lifter-not-measured");
    expect(message).toContain("lifter 2E is not measured");
  });

  test("fewer lifters than bores", () => {
    const { trouble, message } = troubleOf(() => pairSession(recording, { input: without(recording, "2E", "3I") }));
    expect(trouble).toBe("fewer-lifters");
    expect(message).toMatch(/^Found 7 measured lifters for 8 measured bores: lifters 3I, 2E|2E, 3I are not measured/);
  });

  test("the micrometer set to a lifter that is not named, or not measured", () => {
    const input = recording.run.fitInput();
    const setTo = (lifter: string | null) => ({
      ...input,
      references: input.references.map((one) => ({ ...one, lifter })),
    });
    const unnamed = troubleOf(() => pairSession(recording, { input: setTo(null) }));
    expect(unnamed.trouble).toBe("reference-unknown");
    expect(unnamed.message).toContain("does not name the lifter");
    const unmeasured = troubleOf(() => pairSession(recording, { input: setTo("S9") }));
    expect(unmeasured.trouble).toBe("reference-unknown");
    expect(unmeasured.message).toContain("set to lifter S9, which is not measured");
  });

  test("a lifter pinned to a bore that is left out, or staying with one", () => {
    const input = recording.run.fitInput();
    const some = { ...input, stations: input.stations.filter(({ bore }) => bore !== "4E") };
    const to = troubleOf(() => pairSession(recording, { input: some, notes: { "1I": { pinned: "4E" } } }));
    expect(to.message).toBe(
      "Lifter 1I is pinned to bore 4E, but this bore is left out: not measured. Measure what is missing, or take the pin away.",
    );
    const from = troubleOf(() => pairSession(recording, { input: some, notes: { "4E": { pinned: "1I" } } }));
    expect(from.message).toContain("Lifter 4E is pinned to bore 1I, but its own bore is left out: not measured.");
    const spare = troubleOf(() =>
      pairSession(recording, { input: without(recording, "S1"), notes: { S1: { spare: true, pinned: "1I" } } }),
    );
    expect(spare.message).toContain("Lifter S1 is pinned to bore 1I, but this lifter is not measured.");
    // The lifter of a bore that is left out may be pinned there.
    expect(pairSession(recording, { input: some, notes: { "4E": { pinned: true } } }).assignments).toHaveLength(7);
  });
});
