import { describe, expect, it } from "vitest";
import { JobError } from "../../core/session/jobError.ts";
import { jobFileWithDefaults, parseJob } from "../../core/session/jobFile.ts";

const minimal = { format: "borewright/job", version: 1 };

function refused(change: Record<string, unknown>): { path: string; message: string } {
  try {
    parseJob({ ...minimal, ...change });
  } catch (error) {
    if (error instanceof JobError) return { path: error.path, message: error.message };
    throw error;
  }
  throw new Error("it was not refused");
}

describe("the job file", () => {
  it("needs nothing but its format: the rest has defaults", () => {
    const job = parseJob(minimal);
    expect(job.layout.id).toBe("v8-alternate");
    expect(job.walk).toHaveLength(16);
    expect(job.limits).toMatchObject({
      lowNm: 33_020,
      highNm: 48_260,
      preferredLowNm: 38_100,
      preferredHighNm: 43_180,
    });
    expect(job.rule).toBe("guarded");
    expect(job.agreementNm).toBe(2_540);
  });

  it("takes the limits of the lifter's style", () => {
    expect(parseJob({ ...minimal, lifter: { style: "roller" } }).limits).toMatchObject({
      lowNm: 50_800,
      highNm: 76_200,
    });
  });

  it("written out with every default, gives the same job", () => {
    for (const change of [
      {},
      { lifter: { style: "roller", nominal: "21.387 mm" }, limits: { low: "11 um", high: "12.345 um" } },
      { layout: "i6", walk: "firing", agreement: "0.00005 in", returnCheckEvery: 0 },
      { layout: "i4", walk: ["2E", "1I"], lifters: { "1I": { used: true } }, budget: { indicator: "2 um" } },
    ]) {
      const file = { ...minimal, ...change };
      expect(parseJob(jobFileWithDefaults(file))).toEqual(parseJob(file));
      expect(jobFileWithDefaults(jobFileWithDefaults(file))).toEqual(jobFileWithDefaults(file));
    }
  });

  it.each([
    [{ colour: "red" }, "colour", /unknown field/],
    [{ gauges: [{ id: "bore", role: "bore", colour: 1 }] }, "gauges[0].colour", /unknown field/],
    [{ agreement: "0.0001" }, "agreement", /the unit is missing/],
    [{ agreement: 0.0001 }, "agreement", /expected string/],
    [{ limits: { low: "0.0019 in", high: "0.0013 in" } }, "limits", /the wrong way round/],
    [{ limits: { low: "0.0019 in" } }, "limits.high", /go together/],
    [{ walk: ["1I", "9I"] }, "walk[1]", /no bore "9I"/],
    [{ walk: ["1I", "1I"] }, "walk[1]", /twice/],
    [{ layout: "v9" }, "layout", /expected one of/],
    [{ version: 2 }, "version", /expected 1/],
    [{ rule: "hopeful" }, "rule", /found "hopeful"/],
    [{ materials: { block: "cheese" } }, "materials.block", /grey-iron/],
    [
      { materials: { block: { name: "x", alpha: "much" } } },
      "materials.block.alpha",
      /found "much"; .*expected number/,
    ],
    [{ materials: { block: { name: "x", alpha: 500 } } }, "materials.block.alpha", /<=50/],
    [{ materials: { block: { name: "steel", alpha: 12 } } }, "materials.block.name", /name of its own/],
    [{ stations: [] }, "stations", />=1/],
    [{ sweepsPerStation: 1 }, "sweepsPerStation", />=2/],
    [{ zeroHold: "-1 um" }, "zeroHold", /above zero/],
    [{ gauges: [{ id: "m", role: "micrometer" }] }, "gauges", /no gauge with the role "bore"/],
    [
      {
        gauges: [
          { id: "b", role: "bore" },
          { id: "b", role: "micrometer" },
        ],
      },
      "gauges[1].id",
      /twice/,
    ],
    [{ limits: { low: "1 um", high: "9 um", preferredLow: "0 um", preferredHigh: "5 um" } }, "limits", /outside/],
    [{ lifters: { "9I": {} } }, "lifters.9I", /no bore/],
    [{ budget: { thermometerHalfWidthC: -0.1 } }, "budget.thermometerHalfWidthC", />=0/],
    [{ budget: { thermometerHalfWidthC: "0.5" } }, "budget.thermometerHalfWidthC", /expected number/],
  ])("refuses %j at %s", (change, path, message) => {
    const found = refused(change);
    expect(found.path).toBe(path);
    expect(found.message).toMatch(message);
  });

  it("takes a material with an expansion of its own, and keeps it in a session's header", () => {
    const block = { name: "compacted iron", alpha: 11, source: "maker's sheet" };
    const given = { format: "borewright/job", version: 1, materials: { block } };
    const { materials } = parseJob(given);
    expect(materials.block).toEqual({ id: "compacted iron", alpha: 11, alphaHalfWidth: 1, source: "maker's sheet" });
    expect(parseJob(jobFileWithDefaults(given)).materials).toEqual(materials);
  });

  it("says how far off the thermometer may be, half a degree where nobody did, and keeps it in a session's header", () => {
    const budget = (given: unknown) => {
      const { thermometerHalfWidthC } = parseJob({ ...minimal, budget: given }).budget;
      expect(jobFileWithDefaults({ ...minimal, budget: given }).budget?.thermometerHalfWidthC).toBe(
        thermometerHalfWidthC,
      );
      return thermometerHalfWidthC;
    };
    expect(budget({})).toBe(0.5);
    expect(budget({ temperatureHalfWidthC: 4 })).toBe(0.5);
    expect(budget({ thermometerHalfWidthC: 0.1 })).toBe(0.1);
    expect(budget({ thermometerHalfWidthC: 0 })).toBe(0);
  });

  it("refuses what is no object", () => {
    expect(() => parseJob([])).toThrow(JobError);
    expect(() => parseJob("job")).toThrow(/expected an object/);
  });
});
