import { describe, expect, it } from "vitest";
import { StudyError, type StudyReading, studyByRange, studyByVariance } from "../../core/fit/gaugeStudy.ts";
import { Random } from "./simulatedBlock.ts";

interface Truth {
  readonly part: number;
  readonly appraiser: number;
  readonly interaction: number;
  readonly repeatability: number;
}

function simulateStudy(random: Random, truth: Truth, parts = 10, appraisers = 4, trials = 3): StudyReading[] {
  const people = Array.from({ length: appraisers }, () => truth.appraiser * random.normal());
  return Array.from({ length: parts }, (_, part) => {
    const size = truth.part * random.normal();
    return people.flatMap((person, appraiser) => {
      const together = size + person + truth.interaction * random.normal();
      return Array.from({ length: trials }, () => ({
        part: `${part}`,
        appraiser: `${appraiser}`,
        value: together + truth.repeatability * random.normal(),
      }));
    });
  }).flat();
}

describe("gauge study", () => {
  it.each([
    ["a real interaction", { part: 3, appraiser: 1, interaction: 1.2, repeatability: 1 }],
    ["no interaction", { part: 3, appraiser: 1, interaction: 0, repeatability: 1 }],
  ])(
    "intervals at 95 per cent hold the true deviations of 2000 studies with %s",
    { timeout: 60_000 },
    (name, truth) => {
      const random = new Random(31);
      const held = { repeatability: 0, gauge: 0, part: 0 };
      const studies = 2000;
      const gauge = Math.hypot(truth.appraiser, truth.interaction, truth.repeatability);
      for (let study = 0; study < studies; study += 1) {
        const found = studyByVariance(simulateStudy(random, truth), { band: null });
        const inside = (interval: { low: number; high: number } | null, value: number) =>
          interval !== null && interval.low <= value && value <= interval.high ? 1 : 0;
        held.repeatability += inside(found.repeatability.interval, truth.repeatability);
        held.gauge += inside(found.gauge.interval, gauge);
        held.part += inside(found.part.interval, truth.part);
      }
      console.info(name, Object.fromEntries(Object.entries(held).map(([key, count]) => [key, count / studies])));
      for (const count of Object.values(held)) {
        expect(count / studies).toBeGreaterThan(0.925);
        expect(count / studies).toBeLessThan(0.985);
      }
    },
  );

  it("keeps an interaction that chance does not explain", () => {
    const truth = { part: 3, appraiser: 0, interaction: 3, repeatability: 0.5 };
    const found = studyByVariance(simulateStudy(new Random(5), truth), { band: null });
    expect(found.pooled).toBe(false);
    expect(found.interaction.deviation).toBeGreaterThan(2);
    expect(found.table.map(({ source }) => source)).toEqual(["part", "appraiser", "interaction", "repeatability"]);
  });

  it("finds no reproducibility with one person", () => {
    const readings = simulateStudy(new Random(6), { part: 3, appraiser: 0, interaction: 0, repeatability: 1 }, 8, 1, 3);
    for (const found of [studyByVariance(readings, { band: 15 }), studyByRange(readings, { band: 15 })]) {
      expect(found.reproducibility.deviation).toBe(0);
      expect(found.gauge.deviation).toBe(found.repeatability.deviation);
      expect(found.gauge.shareOfBand).toBeCloseTo((6 * found.gauge.deviation) / 15, 12);
    }
  });

  it("cuts a negative component to nothing, and counts no categories when nothing scatters", () => {
    const equal = ["a", "b"].flatMap((part) =>
      ["x", "y"].flatMap((appraiser) => [1, 2].map(() => ({ part, appraiser, value: part === "a" ? 1 : 2 }))),
    );
    const found = studyByVariance(equal, { band: 1 });
    expect(found).toMatchObject({ categories: null });
    expect(found.gauge.deviation).toBe(0);
    const onlyNoise = simulateStudy(new Random(3), { part: 0, appraiser: 0, interaction: 0, repeatability: 1 });
    expect(studyByVariance(onlyNoise, { band: null }).categories).toBe(1);
  });

  it.each([
    ["a part measured once less", (all: StudyReading[]) => all.slice(1), "expected the same number of measurements"],
    ["one part only", (all: StudyReading[]) => all.filter(({ part }) => part === "0"), "expected at least 2 parts"],
    ["nothing", () => [], "expected at least 2 parts"],
  ])("refuses %s", (_, spoil, message) => {
    const all = simulateStudy(new Random(4), { part: 1, appraiser: 1, interaction: 0, repeatability: 1 });
    expect(() => studyByVariance(spoil(all), { band: null })).toThrow(StudyError);
    expect(() => studyByRange(spoil(all), { band: null })).toThrow(message);
  });
});
