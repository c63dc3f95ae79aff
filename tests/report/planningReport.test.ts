import { describe, expect, it } from "vitest";
import { planningReport } from "../../core/report/planningReport.ts";
import { planningSchema } from "../../core/report/planningSchema.ts";
import { underWhatIf } from "../../core/report/whatIf.ts";
import { everyVerdict, sampleSession } from "./sampleSession.ts";

const { recording } = sampleSession({ clearanceNm: everyVerdict });
const aluminium = sampleSession({
  clearanceNm: everyVerdict,
  job: { materials: { block: "aluminium-356" } },
}).recording;

describe("planning figures of a session", () => {
  it("are estimates, and say so with every assumption and its mark", () => {
    const planning = planningSchema.parse(planningReport(recording));
    expect(planning.estimate).toBe(true);
    expect(planning.assumptions.map(({ name, value, unit, mark }) => [name, value, unit, mark])).toEqual([
      ["blockC", 90, "°C", "our choice"],
      ["lifterC", 90, "°C", "our choice"],
      ["blockMaterial", "grey-iron", "", "from the job"],
      ["lifterMaterial", "steel", "", "from the job"],
      ["viscosityPaS", 0.01, "Pa·s", "our choice"],
      ["pressureBar", 3, "bar", "our choice"],
      ["guidedLength", "30 mm", "", "our choice"],
      ["eccentricity", 1, "", "our choice"],
    ]);
    const figures = [planning.middleOfBand, ...planning.bores.flatMap((bore) => [bore.smallest, bore.largest])];
    for (const { text } of figures) expect(text).toMatch(/^Estimate: /);
    expect(planning.notes.join(" ")).toContain("The maker's sheet and the machinist's judgement come first.");
  });

  it("tell the block's tightest, middle and loosest place, and every measured bore", () => {
    const { block, bores, notes } = planningReport(recording);
    const findings = recording.run.findings().filter(({ verdict }) => verdict !== "not measured");
    expect(bores.map(({ name }) => name)).toEqual(findings.map(({ name }) => name));
    expect(block?.smallest.clearanceNm).toBe(Math.min(...findings.map(({ clearanceMinNm }) => clearanceMinNm ?? 0)));
    expect(block?.largest.clearanceNm).toBe(Math.max(...findings.map(({ clearanceMaxNm }) => clearanceMaxNm ?? 0)));
    expect(notes.at(-1)).toContain("not measured and left out");
    expect(block?.largest.leakTimesMiddle).toBeGreaterThan(block?.smallest.leakTimesMiddle ?? 99);
  });

  it("count the leak in parts of that at the middle of the band", () => {
    const { middleOfBand, bores } = planningReport(recording);
    expect(middleOfBand.leakTimesMiddle).toBe(1);
    for (const { middle } of bores) {
      const times = (middle.runningNm / middleOfBand.runningNm) ** 3;
      expect(Math.abs((middle.leakTimesMiddle ?? 0) / times - 1)).toBeLessThan(1e-3);
      expect((middle.leakM3PerS ?? 0) * 6e7).toBeCloseTo(middle.leakMlPerMin ?? 0, 9);
    }
  });

  it("open in an aluminium block when warm, and close on a lifter that is warmer", () => {
    const warm = planningReport(aluminium).middleOfBand;
    // (21.5 − 11.5)e-6 · 70 °C · 21.3868 mm = 14.97 µm, and a little of the gap (derived).
    expect(warm.runningNm - warm.clearanceNm).toBeCloseTo(14_970 + 61, -2);
    const started = planningReport(aluminium, { assumptions: { blockC: 0, lifterC: 90 } }).middleOfBand;
    expect(started.runningNm).toBeLessThan(started.clearanceNm);
  });

  it("say what an interference does: no leak, no tilt", () => {
    const { block } = planningReport(aluminium, { assumptions: { blockC: -40, lifterC: 200 } });
    expect(block?.smallest).toMatchObject({ leakM3PerS: 0, leakMlPerMin: 0, tiltMilliradians: 0 });
    expect(block?.smallest.runningNm).toBeLessThan(0);
    expect(block?.smallest.text).toContain("an interference of");
    expect(block?.smallest.text).toContain("held fast");
  });

  it("warn where the expansion coefficients alone could close the gap", () => {
    const { block } = planningReport(recording, { assumptions: { lifterC: 165 } });
    expect(block?.smallest.text).toContain("It may be none at all");
  });

  it("take other assumptions and say that they were given", () => {
    const assumptions = {
      blockC: 110,
      lifterC: 110,
      blockMaterial: { name: "compacted iron", alpha: 11.8 },
      viscosityPaS: 0.02,
      pressureBar: 6,
      guidedLength: "1.5 in",
      eccentricity: 0,
    };
    const other = planningReport(recording, { assumptions });
    const marks = Object.fromEntries(other.assumptions.map(({ name, mark }) => [name, mark]));
    expect(marks).toMatchObject({ blockC: "given", blockMaterial: "given", lifterMaterial: "from the job" });
    // Half the viscosity's, twice the pressure's, 30 mm for 38.1 mm, and 2.5 times less in the middle: all else nearly alike.
    const [now, then] = [planningReport(recording).middleOfBand, other.middleOfBand];
    const times = ((0.01 / 0.02) * (6 / 3) * (30 / 38.1)) / 2.5;
    const gap = (then.runningNm / now.runningNm) ** 3;
    expect((then.leakM3PerS ?? 0) / (now.leakM3PerS ?? 1)).toBeCloseTo(times * gap, 3);
    expect(then.tiltMilliradians / now.tiltMilliradians).toBeCloseTo(((30 / 38.1) * then.runningNm) / now.runningNm, 3);
  });

  it("plan for lifters that are tried", () => {
    const input = underWhatIf(recording, { everyLifter: "0.8423 in" });
    const { block } = planningReport(recording, { input });
    expect(block?.smallest.clearanceNm).toBeLessThan(planningReport(recording).block?.smallest.clearanceNm ?? 0);
  });

  it("are none of a block where nothing was measured, but the band's middle is still told", () => {
    const empty = sampleSession({ clearanceNm: () => null }).recording;
    const planning = planningSchema.parse(planningReport(empty));
    expect(planning.block).toBeNull();
    expect(planning.bores).toEqual([]);
    expect(planning.middleOfBand.runningNm).toBeGreaterThan(0);
  });

  it.each([
    [{ blockC: -61 }, "blockC: found -61 °C; expected -60 to 250 °C"],
    [{ lifterC: Number.NaN }, "lifterC: found NaN °C"],
    [{ viscosityPaS: 0 }, "viscosityPaS: found 0 Pa·s; expected 0.0005 to 10 Pa·s"],
    [{ pressureBar: -1 }, "pressureBar: found -1 bar; expected 0 to 100 bar"],
    [{ eccentricity: 2 }, "eccentricity: found 2; expected 0 to 1"],
    [{ guidedLength: "30" }, "guidedLength: the unit is missing"],
    [{ guidedLength: "3 um" }, 'guidedLength: found "3 um"; expected 1 mm to 200 mm'],
    [{ blockMaterial: "cheese" }, 'blockMaterial: found "cheese"; expected one of'],
    [{ lifterMaterial: { name: "odd", alpha: 900 } }, "lifterMaterial.alpha: found 900"],
  ])("refuse %j", (assumptions, says) => {
    expect(() => planningReport(recording, { assumptions })).toThrow(says);
  });
});
