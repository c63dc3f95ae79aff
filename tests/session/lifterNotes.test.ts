import { describe, expect, test } from "vitest";
import { lifterNames } from "../../core/session/job.ts";
import { JobError } from "../../core/session/jobError.ts";
import { jobFileWithDefaults, parseJob } from "../../core/session/jobFile.ts";
import { pairingClash } from "../../core/session/pairingClash.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";

const jobWith = (lifters: object, more: object = {}) => ({ format: "borewright/job", version: 1, lifters, ...more });

const pathOf = (lifters: object): string => {
  try {
    parseJob(jobWith(lifters));
  } catch (error) {
    if (error instanceof JobError) return error.message;
    throw error;
  }
  return "no error";
};

describe("what a job says of its lifters", () => {
  test("one end of a tie bar is enough: the other is filled in", () => {
    const { lifters } = parseJob(jobWith({ "1I": { pairedWith: "1E" } }));
    expect(lifters).toEqual({ "1I": { pairedWith: "1E" }, "1E": { pairedWith: "1I" } });
  });

  test("a job written out with every default is read as the same job", () => {
    const given = jobWith({
      "1I": { pairedWith: "1E", mayTurn: true, used: true },
      "2I": { pinned: "3I", keptFrom: ["4I", "4E"] },
      "2E": { pinned: true },
      S1: { spare: true, pairedWith: "S2" },
      S2: { spare: true },
    });
    expect(parseJob(jobFileWithDefaults(given))).toEqual(parseJob(given));
  });

  test("spare lifters are measured after those of the walk, as the job lists them", () => {
    const job = parseJob(jobWith({ S2: { spare: true }, S1: { spare: true } }, { walk: ["1I", "1E"] }));
    expect(lifterNames(job)).toEqual(["1I", "1E", "S2", "S1"]);
  });

  test.each([
    [{ "9X": {} }, 'lifters.9X: the layout has no bore "9X"; a lifter for no bore is marked "spare": true'],
    [{ "1I": { spare: true } }, 'lifters.1I.spare: "1I" is a bore; expected a name of its own'],
    [{ "a b": { spare: true } }, 'lifters.a b: found "a b"; expected up to 12 letters'],
    [{ "1I": { pairedWith: "1I" } }, 'lifters.1I.pairedWith: "1I" is named itself'],
    [{ "1I": { pairedWith: "2E" } }, 'lifters.1I.pairedWith: found "2E"; expected the other valve of cylinder 1'],
    [{ "1I": { pairedWith: "9E" } }, 'lifters.1I.pairedWith: the layout has no bore "9E"'],
    [{ "1I": { pairedWith: "S1" }, S1: { spare: true } }, "a spare lifter is paired with a spare one"],
    [
      { S1: { spare: true, pairedWith: "S2" }, S2: { spare: true, pairedWith: "S3" }, S3: { spare: true } },
      "expected both ends to name each other",
    ],
    [{ "1I": { pinned: "9X" } }, 'lifters.1I.pinned: the layout has no bore "9X"'],
    [{ S1: { spare: true, pinned: true } }, "lifters.S1.pinned: a spare lifter has no bore of its own"],
    [{ "1I": { keptFrom: ["1E", "9X"] } }, 'lifters.1I.keptFrom[1]: the layout has no bore "9X"'],
  ])("%j is refused with its place", (lifters, message) => {
    expect(pathOf(lifters)).toContain(message);
  });
});

describe("a pairing", () => {
  const job = parseJob(jobWith({ S1: { spare: true } }, { walk: ["1I", "1E", "2I"] }));

  test.each([
    [[], null],
    [
      [
        { bore: "1I", lifter: "1E" },
        { bore: "1E", lifter: "1I" },
      ],
      null,
    ],
    [[{ bore: "1I", lifter: "S1" }], null],
    [[{ bore: "9X", lifter: "1I" }], 'bore "9X"'],
    [[{ bore: "1I", lifter: "S9" }], 'lifter "S9"'],
    [
      [
        { bore: "1I", lifter: "1E" },
        { bore: "1I", lifter: "S1" },
      ],
      "two lifters, 1E and S1",
    ],
    [[{ bore: "1I", lifter: "1E" }], "Lifter 1E is given to two bores, 1I and 1E"],
  ])("%j: %s", (assignments, clash) => {
    const said = pairingClash(job, assignments);
    if (clash === null) expect(said).toBeNull();
    else expect(said).toContain(clash);
  });

  test("the findings speak of the lifter that will really be there, and an empty list puts every lifter back", () => {
    const held = parseJob({
      ...jobWith({}, { walk: ["1I", "1E"], returnCheckEvery: 0, stations: [{ height: "upper", clock: "axial" }] }),
      gauges: [
        { id: "bore", role: "bore", sends: "held", unit: "mm", resolution: "0.001 mm" },
        { id: "mic", role: "micrometer", unit: "mm", resolution: "0.001 mm" },
      ],
    });
    const run = new SessionRun(held);
    let t = 0;
    const feed = (gauge: string, ...values: string[]) => {
      for (const line of values) {
        t += 2000;
        run.apply({ type: "line", t, gauge, line });
      }
    };
    run.apply({ type: "step", t, step: "lifters" });
    feed("mic", "+21.380", "+21.390");
    run.apply({ type: "step", t, step: "zero", lifter: "1I" });
    feed("bore", "+0.000", "+0.000", "+0.000");
    run.apply({ type: "step", t, step: "bores" });
    feed("bore", "+0.040", "+0.040", "+0.040", "+0.050", "+0.050", "+0.050");
    const shown = () => run.view().bores.map(({ lifter, clearanceMinNm }) => [lifter, clearanceMinNm]);
    expect(shown()).toEqual([
      ["1I", 40_000],
      ["1E", 40_000],
    ]);
    run.apply({
      type: "pairing",
      t,
      assignments: [
        { bore: "1I", lifter: "1E" },
        { bore: "1E", lifter: "1I" },
      ],
    });
    expect(shown()).toEqual([
      ["1E", 30_000],
      ["1I", 50_000],
    ]);
    run.apply({ type: "pairing", t, assignments: [] });
    expect(shown()).toEqual([
      ["1I", 40_000],
      ["1E", 40_000],
    ]);
  });
});
