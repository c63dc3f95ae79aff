import { describe, expect, it } from "vitest";
import { BLUNDERS, BlunderError } from "../../electron/simulator/blunders.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { benchJob } from "./jobs.ts";
import { type Walked, walkByEar, walkFeedLines } from "./walkTogether.ts";

/** Differences of the clearances found from the true ones, nm; one that has no clearance counts as infinitely off. */
function errors({ run, truth }: Pick<Walked, "run" | "truth">): number[] {
  const found = new Map(
    run
      .findings()
      .flatMap(({ name, stations }) =>
        stations.map(({ place, clearanceNm }) => [`${name} ${place.height} ${place.clock}`, clearanceNm] as const),
      ),
  );
  return truth.bores.flatMap(({ name, stations }) =>
    stations.map((station) => {
      const clearanceNm = found.get(`${name} ${station.height} ${station.clock}`) ?? null;
      return clearanceNm === null ? Number.POSITIVE_INFINITY : clearanceNm - station.clearanceNm;
    }),
  );
}

const largest = (values: readonly number[]) => Math.max(...values.map(Math.abs));
const codesOf = (outcomes: Walked["outcomes"]) =>
  outcomes.flatMap((outcome) => (outcome.type === "notice" ? [outcome.notice.code] : []));

/** With its errors drawn at a quarter of the budget and steps of 0.00002 in, what is left is noise and rounding. */
const fine = { resolution: "0.00002 in" };
const WITHIN_NM = 2_500;

describe("the simulated person beside the session reducer", () => {
  it.each(["stream", "press", "held"])("walks the block by ear to the end (%s)", (sends) => {
    for (const seed of [1, 2, 3]) {
      const job = benchJob({}, { sends, ...fine });
      const walked = walkByEar(job, { seed, errorShare: 0.25 });
      expect(walked.run.complete).toBe(true);
      expect(largest(errors(walked))).toBeLessThan(WITHIN_NM);
      const kept = walked.outcomes.flatMap((outcome) =>
        outcome.type === "station" && !outcome.again ? [outcome.bore] : [],
      );
      expect(kept).toEqual(job.walk.flatMap((bore) => [bore, bore]));
    }
  });

  it.each(["stream", "press", "held"])("keeps in step with it open loop, by a feed (%s)", (sends) => {
    for (const seed of [1, 2, 3]) {
      const job = benchJob({}, { sends, ...fine });
      const { lines, truth } = simulateFeed(job, { seed, errorShare: 0.25 });
      const { run } = walkFeedLines(job, lines);
      expect(run.complete).toBe(true);
      expect(largest(errors({ run, truth }))).toBeLessThan(WITHIN_NM);
    }
  });

  it("takes four to six seconds a station of a stream", () => {
    const job = benchJob();
    const walked = walkByEar(job, { seed: 1 });
    const times = walked.outcomes.flatMap((outcome) =>
      outcome.type === "station" && !outcome.again ? [outcome.t] : [],
    );
    const first = (times[0] ?? 0) / 1000;
    const fourth = (times[3] ?? 0) / 1000;
    expect((fourth - first) / 3).toBeGreaterThan(3);
    expect((fourth - first) / 3).toBeLessThan(6);
  });

  it("walks the bores again when the zero has moved", () => {
    const walked = walkByEar(benchJob({}, fine), { seed: 1, errorShare: 0.25, blunders: ["zero-moved"] });
    expect(codesOf(walked.outcomes)).toContain("zero-moved");
    expect(walked.run.complete).toBe(true);
    expect(largest(errors(walked))).toBeLessThan(WITHIN_NM);
  });
});

describe("blunders", () => {
  it.each([
    ["zero-moved", "stream", "zero-moved"],
    ["too-quick", "stream", "too-quick"],
    ["no-agreement", "stream", "no-agreement"],
    ["no-agreement", "held", "no-agreement"],
    ["frozen", "stream", "frozen"],
    ["out-of-range", "press", "out-of-range"],
    ["not-understood", "stream", "not-understood"],
    ["step-failed", "press", "step-failed"],
    ["polarity-reversed", "press", "step-failed"],
    ["temperature", "stream", "temperature"],
  ])("%s with a gauge that sends %s is noticed as %s", (blunder, sends, code) => {
    const job = benchJob({}, { sends });
    const { lines } = simulateFeed(job, { seed: 1, blunders: [blunder] });
    expect(codesOf(walkFeedLines(job, lines).outcomes)).toContain(code);
  });

  // A pass cut to pieces by the hole has few readings left, so it may be called too quick instead.
  it("contact-lost is noticed, and no pass over the hole is kept", () => {
    const job = benchJob({}, fine);
    const options = { seed: 1, errorShare: 0.25, blunders: ["contact-lost"] };
    const { lines, truth } = simulateFeed(job, options);
    const { run, outcomes } = walkFeedLines(job, lines);
    expect(codesOf(outcomes).some((code) => code === "contact-lost" || code === "too-quick")).toBe(true);
    expect(largest(errors({ run, truth }))).toBeLessThan(WITHIN_NM);
  });

  it("an outlier is one sweep set aside among good ones", () => {
    for (const sends of ["stream", "press", "held"]) {
      const job = benchJob({}, { sends });
      const { run } = walkFeedLines(job, simulateFeed(job, { seed: 1, blunders: ["outlier"] }).lines);
      const sweeps = run.findings().flatMap(({ stations }) => stations.flatMap(({ station }) => station.sweeps));
      const far = sweeps.filter((sweep) => sweep.why === "outlier" || sweep.why === "disagrees");
      expect(far.length).toBeGreaterThanOrEqual(1);
      expect(run.complete).toBe(true);
    }
  });

  it.each(BLUNDERS.map(({ name }) => name))("%s changes what the bench sends, or says why it cannot", (name) => {
    const sends =
      BLUNDERS.find((blunder) => blunder.name === name)?.impossible?.(benchJob()) === null ? "stream" : "press";
    const job = benchJob({}, { sends });
    const clean = simulateFeed(job, { seed: 6 });
    expect(simulateFeed(job, { seed: 6, blunders: [name] }).lines).not.toEqual(clean.lines);
  });

  it("says in a sentence what each one is", () => {
    for (const { name, sentence } of BLUNDERS) {
      expect(name).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(sentence).toMatch(/^[A-Z].+\.$/);
    }
    expect(new Set(BLUNDERS.map(({ name }) => name)).size).toBe(BLUNDERS.length);
  });

  it("refuses one that the job cannot have, and says why", () => {
    const press = benchJob({}, { sends: "press" });
    expect(() => simulateFeed(press, { seed: 1, blunders: ["frozen"] })).toThrow(BlunderError);
    expect(() => simulateFeed(press, { seed: 1, blunders: ["frozen"] })).toThrow(/sends a stream/);
    const unchecked = benchJob({ returnCheckEvery: 0 });
    expect(() => simulateFeed(unchecked, { seed: 1, blunders: ["zero-moved"] })).toThrow(/no return checks/);
  });

  it("leaves a reading that the other end can tell: odd sizes are in the truth, misreadings are not", () => {
    const job = benchJob();
    const clean = simulateFeed(job, { seed: 1 }).truth;
    const lifters = (name: string) => simulateFeed(job, { seed: 1, blunders: [name] }).truth.lifters;
    expect(
      lifters("odd-lifter").filter(({ diameterNm }, at) => diameterNm !== clean.lifters[at]?.diameterNm),
    ).toHaveLength(1);
    expect(lifters("turn-out")).toEqual(clean.lifters);
  });
});
