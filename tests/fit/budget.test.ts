import { describe, expect, it } from "vitest";
import { type BudgetInput, LINE, largestLine, stationBudget } from "../../core/fit/budget.ts";
import { toNm } from "../../core/length/nm.ts";
import { materialNamed } from "./exampleInput.ts";

const EXACT = Number.POSITIVE_INFINITY;
const SQRT3 = Math.sqrt(3);
const DIAMETER = 20_000_000;

function budgetOf(change: Partial<BudgetInput> = {}) {
  return stationBudget({
    station: { u: 300, degreesOfFreedom: 8 },
    zero: { u: 200, degreesOfFreedom: 4 },
    sends: "held",
    resolutionBore: 150,
    resolutionZero: 140,
    driftHalfWidthNm: 400,
    otherLifter: false,
    gain: 1,
    micrometerResolutionNm: toNm(1000),
    diameterNm: DIAMETER,
    materials: { block: materialNamed("aluminium-356"), lifter: materialNamed("steel") },
    temperature: { blockC: 20, lifterC: 20, halfWidthC: 3, common: true, measured: false },
    budget: {
      indicatorNm: toNm(1000),
      transferNm: toNm(700),
      micrometerNm: toNm(2000),
      centringNm: toNm(500),
      temperatureHalfWidthC: 3,
    },
    ...change,
  });
}

const lineOf = (name: string, change: Partial<BudgetInput> = {}) => {
  const line = budgetOf(change).lines.find((each) => each.name === name);
  if (line === undefined) throw new Error(`no line ${name}`);
  return line;
};

describe("lines of a station's budget", () => {
  it("come in the order of the measurement, each with its distribution and unit", () => {
    expect(budgetOf().lines.map(({ name, unit, distribution }) => [name, unit, distribution])).toEqual([
      ["repeatability of the station value", "nm", "normal"],
      ["repeatability of the zero", "nm", "normal"],
      ["resolution at the bore", "nm", "rectangular"],
      ["resolution at the zero", "nm", "rectangular"],
      ["zero drift between checks", "nm", "rectangular"],
      ["indicator over the small travel used", "nm", "rectangular"],
      ["transfer through the micrometer: faces, feel", "nm", "normal"],
      ["centring of the gauge", "nm", "one-sided rectangular"],
      ["temperature of block and lifter, taken as equal", "°C", "rectangular"],
      ["expansion coefficient of the block", "1e-6/°C", "rectangular"],
      ["expansion coefficient of the lifter", "1e-6/°C", "rectangular"],
    ]);
  });

  it("of presses, which err on one side, say so", () => {
    const oneSided = budgetOf({ sends: "press" }).lines.filter(({ distribution }) =>
      distribution.endsWith("exponential"),
    );
    expect(oneSided.map(({ name }) => name)).toEqual([LINE.station, LINE.zero]);
  });

  it("are as well known as the sweeps say, and otherwise taken as exact", () => {
    const few = budgetOf().lines.filter(({ degreesOfFreedom }) => degreesOfFreedom !== EXACT);
    expect(few.map(({ name, degreesOfFreedom }) => [name, degreesOfFreedom])).toEqual([
      [LINE.station, 8],
      [LINE.zero, 4],
    ]);
  });

  it("take half-widths over √3 (GUM 4.3.7) and standard uncertainties as they are", () => {
    expect(lineOf(LINE.station).u).toBe(300);
    expect(lineOf(LINE.zero).u).toBe(200);
    expect(lineOf(LINE.resolutionBore).u).toBe(150);
    expect(lineOf(LINE.resolutionZero).u).toBe(140);
    expect(lineOf(LINE.drift).u).toBeCloseTo(400 / SQRT3, 9);
    expect(lineOf(LINE.indicator).u).toBeCloseTo(1000 / SQRT3, 9);
    expect(lineOf(LINE.transfer).u).toBe(700);
    expect(lineOf(LINE.centring).u).toBeCloseTo(500 / SQRT3, 9);
  });

  it("of the gauge's readings stretch with its gain, whichever way it counts; lengths of other tools do not", () => {
    for (const gain of [1.02, -1.02]) {
      const read = [LINE.station, LINE.zero, LINE.resolutionBore, LINE.resolutionZero, LINE.drift];
      for (const name of read) {
        expect(lineOf(name, { gain }).contributionNm).toBeCloseTo(1.02 * lineOf(name).contributionNm, 9);
      }
      for (const name of [LINE.indicator, LINE.transfer, LINE.centring]) {
        expect(lineOf(name, { gain }).contributionNm).toBe(lineOf(name).contributionNm);
      }
    }
  });

  it("make up the combined uncertainty by their squares, and share it", () => {
    const { lines, combined } = budgetOf();
    expect(combined ** 2).toBeCloseTo(
      lines.reduce((sum, { contributionNm }) => sum + contributionNm ** 2, 0),
      3,
    );
    for (const { contributionNm, share } of lines) expect(share).toBeCloseTo((contributionNm / combined) ** 2, 12);
  });

  it("have no share where nothing is uncertain at all", () => {
    const certain = { u: 0, degreesOfFreedom: EXACT };
    const stone = { id: "stone", alpha: 5, alphaHalfWidth: 0, source: "made up" };
    const { lines, combined } = budgetOf({
      station: certain,
      zero: certain,
      resolutionBore: 0,
      resolutionZero: 0,
      driftHalfWidthNm: 0,
      materials: { block: stone, lifter: stone },
      budget: {
        indicatorNm: toNm(0),
        transferNm: toNm(0),
        micrometerNm: toNm(0),
        centringNm: toNm(0),
        temperatureHalfWidthC: 0,
      },
    });
    expect(combined).toBe(0);
    expect(lines.map(({ share }) => share)).toEqual(lines.map(() => 0));
  });
});

describe("the largest line of a budget", () => {
  it("is the one with the largest share, the first of equal ones", () => {
    expect(largestLine(budgetOf()).name).toBe(LINE.transfer);
    expect(largestLine(budgetOf({ driftHalfWidthNm: 5000 })).name).toBe(LINE.drift);
    expect(largestLine(budgetOf({ station: { u: 900, degreesOfFreedom: 8 } })).name).toBe(LINE.station);
    const equal = budgetOf({ resolutionBore: 2000, resolutionZero: 2000 });
    expect(largestLine(equal).name).toBe(LINE.resolutionBore);
  });
});

describe("another lifter than the one the micrometer was set to", () => {
  it("costs the micrometer's largest error and graduation, once for each of the two", () => {
    const line = lineOf(LINE.lifterDifference, { otherLifter: true });
    expect(line.contributionNm ** 2).toBeCloseTo(2 * (2000 ** 2 / 3 + 1000 ** 2 / 12), 3);
    expect(line).toMatchObject({ unit: "nm", distribution: "rectangular", degreesOfFreedom: EXACT });
    expect(lineOf(LINE.lifterDifference, { otherLifter: true, gain: 2 }).contributionNm).toBe(line.contributionNm);
  });
});

describe("temperature", () => {
  const measured = { blockC: 26, lifterC: 17, halfWidthC: 0.6, common: false, measured: true };

  it("unmeasured moves block and lifter together: only the difference of their coefficients counts", () => {
    const line = lineOf(LINE.temperature);
    expect(line.u).toBeCloseTo(3 / SQRT3, 12);
    expect(line.contributionNm).toBeCloseTo((DIAMETER * (21.5 - 11.5) * 1e-6 * 3) / SQRT3, 6);
  });

  it("measured on both moves each by its own coefficient", () => {
    const names = budgetOf({ temperature: measured }).lines.map(({ name }) => name);
    expect(names).toContain("temperature of the block");
    expect(names).toContain("temperature of the lifter");
    expect(names).not.toContain(LINE.temperature);
    const of = (name: string) => lineOf(name, { temperature: measured }).contributionNm;
    expect(of(LINE.blockTemperature)).toBeCloseTo((DIAMETER * 21.5e-6 * 0.6) / SQRT3, 6);
    expect(of(LINE.lifterTemperature)).toBeCloseTo((DIAMETER * 11.5e-6 * 0.6) / SQRT3, 6);
  });

  it("makes an expansion coefficient count by how far from 20 °C it is, or may be (GUM 5.1.2, note)", () => {
    const of = (name: string) => lineOf(name, { temperature: measured });
    const one = (celsius: number) => (DIAMETER * 1e-6 * Math.hypot(celsius - 20, 0.6 / SQRT3)) / SQRT3;
    expect(of(LINE.blockExpansion).contributionNm).toBeCloseTo(one(26), 6);
    expect(of(LINE.lifterExpansion).contributionNm).toBeCloseTo(one(17), 6);
    expect(of(LINE.blockExpansion).u).toBeCloseTo(1 / SQRT3, 12);
    expect(lineOf(LINE.blockExpansion).contributionNm).toBeCloseTo((DIAMETER * 1e-6 * (3 / SQRT3)) / SQRT3, 6);
  });
});
