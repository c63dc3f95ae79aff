import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { studyPlanOf, studyStations, whyNoStudy } from "../../core/report/studySession.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { dotPlot } from "../../renderer/study/dotPlot.ts";
import { namesOf, studyJob } from "../../renderer/study/studyJob.ts";

const person = fc.stringMatching(/^[A-Za-z][A-Za-z0-9 ,.'-]{0,22}[A-Za-z0-9]$/);
const plans = fc
  .record({
    people: fc.uniqueArray(person, { minLength: 1, maxLength: 8 }),
    repeats: fc.integer({ min: 2, max: 12 }),
    clock: fc.constantFrom("axial" as const, "cross" as const),
  })
  .filter(({ people, repeats }) => whyNoStudy(people, repeats) === null);

describe("a study's session", () => {
  it("is a job that says who measures what, and is read back as the same plan", () => {
    fc.assert(
      fc.property(plans, (plan) => {
        const job = parseJob(studyJob({}, ["1I", "1E", "3I"], plan));
        expect(studyPlanOf(job)).toEqual(plan);
        expect(job.walk).toEqual(["1I", "1E", "3I"]);
        expect(job.stations).toHaveLength(plan.people.length * plan.repeats);
        expect(job.gauges.map(({ role }) => role)).toEqual(["bore"]);
      }),
      { seed: 12 },
    );
  });

  it("lets nobody repeat at once what others have still to measure", () => {
    const stations = studyStations({ people: ["Ann", "Ben"], repeats: 2, clock: "cross" });
    expect(stations.map(({ height }) => height)).toEqual([
      "Ann, repeat 1",
      "Ben, repeat 1",
      "Ann, repeat 2",
      "Ben, repeat 2",
    ]);
  });

  it("is not seen in an ordinary walk, nor in one whose trials have gaps", () => {
    const places = (...heights: string[]) => ({
      stations: heights.map((height) => ({ height, clock: "axial" as const })),
    });
    expect(studyPlanOf(places("upper", "lower"))).toBeNull();
    expect(studyPlanOf(places("Ann, repeat 1"))).toBeNull();
    expect(studyPlanOf(places("Ann, repeat 1", "Ann, repeat 3"))).toBeNull();
    expect(studyPlanOf(places("Ann, repeat 1", "Ben, repeat 1", "Ann, repeat 2"))).toBeNull();
  });

  it("keeps the gauge, limits and block of the job it is made from, and leaves its lifters", () => {
    const gauge = { id: "bore", role: "bore", sends: "held", unit: "mm", resolution: "0.001 mm" };
    const from = {
      gauges: [gauge, { id: "mic", role: "micrometer" }],
      limits: { low: "0.0020 in", high: "0.0030 in" },
      lifters: { "1I": { used: true } },
    };
    const job = parseJob(studyJob(from, ["1I", "1E"], { people: ["Ann"], repeats: 3, clock: "axial" }));
    expect(job.gauges).toMatchObject([{ id: "bore", sends: "held", unit: "mm" }]);
    expect(job.limits).toMatchObject({ lowNm: 50_800, highNm: 76_200 });
    expect(job.lifters).toEqual({});
  });

  it.each([
    [[], 3, /Nobody/],
    [["Ann", "Ann"], 3, /named twice/],
    [["A".repeat(26)], 3, /too long/],
    [["Ann"], 1, /at least twice/],
    [["Ann"], 2.5, /at least twice/],
    [["Ann", "Ben", "Cat"], 9, /27 a bore; at most 24/],
  ])("of %j and %d repeats is refused", (people, repeats, says) => {
    expect(whyNoStudy(people, repeats)).toMatch(says);
  });

  it("takes names with commas or lines between them", () => {
    expect(namesOf(" Ann, Ben ;\n Cat,, ")).toEqual(["Ann", "Ben", "Cat"]);
  });
});

describe("the plot of a study's readings", () => {
  const study = {
    people: ["Ann", "Ben"],
    bores: ["1I", "1E"],
    repeats: 2,
    readings: [
      { person: "Ann", bore: "1I", valuesNm: [30_000, 31_000] },
      { person: "Ben", bore: "1I", valuesNm: [33_000, 34_000] },
      { person: "Ann", bore: "1E", valuesNm: [50_000] },
      { person: "Ben", bore: "1E", valuesNm: [] },
    ],
  };

  it("puts larger readings higher, and each person in his lane of the bore's column", () => {
    const { dots } = dotPlot(study, "reading");
    expect(dots).toHaveLength(5);
    expect(dots.map(({ x }) => x)).toEqual([...dots.map(({ x }) => x)].sort((a, b) => a - b));
    expect(dots.slice(0, 4).every(({ x }) => x < 0.5)).toBe(true);
    expect(dots.map(({ y }) => y)).toEqual([...dots.map(({ y }) => y)].sort((a, b) => b - a));
    expect(dots.every(({ y }) => y > 0 && y < 1)).toBe(true);
  });

  it("takes each bore's mean off when asked, and stands empty without readings", () => {
    expect(dotPlot(study, "bore").dots.map(({ valueNm }) => valueNm)).toEqual([-2000, -1000, 1000, 2000, 0]);
    expect(dotPlot({ ...study, readings: [] }, "bore").dots).toEqual([]);
  });
});
