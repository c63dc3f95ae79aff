import { describe, expect, it } from "vitest";
import type { Sends } from "../../core/gauge/profile.ts";
import { toNm } from "../../core/length/nm.ts";
import { judgeStation, type StationPass } from "../../core/sweep/judgeStation.ts";
import type { AgreementRule, Pass, PassEnd } from "../../core/sweep/sweep.ts";
import { turningPoints } from "../../core/sweep/turningPoint.ts";
import { hurried } from "./hurried.ts";
import { Chance } from "./rocking.ts";
import { plain } from "./scenes.ts";
import { passesOf } from "./stationError.ts";

const three: AgreementRule = { sweepsPerStation: 3, agreementNm: toNm(2500) };
const STEP = toNm(1000);

/** One value for each sweep, nm, one a second. */
function singles(values: readonly number[], end: PassEnd, struck: readonly number[] = []): StationPass[] {
  return values.map((nm, i) => ({
    pass: { samples: [{ tMs: 1000 * i, valueNm: toNm(nm) }], end },
    struck: struck.includes(i),
  }));
}

interface Circumstances {
  readonly sends?: "press" | "held";
  readonly rule?: AgreementRule;
  readonly closedBefore?: number | null;
  readonly struck?: readonly number[];
}

/** What each sweep counted as, and the station's value if it is closed. */
function judged(values: readonly number[], circumstances: Circumstances = {}): string {
  const { sends = "held", rule = three, closedBefore = null, struck = [] } = circumstances;
  const { sweeps, closed, valueNm } = judgeStation(singles(values, sends, struck), sends, rule, STEP, closedBefore);
  return `${sweeps.map(({ use, why }) => why ?? use).join(", ")}${closed ? `: ${valueNm}` : ""}`;
}

const kept = (count: number) => Array(count).fill("kept").join(", ");

describe("sweeps after the station closed", () => {
  it("join if they lie within the agreement of the value so far, which is included", () => {
    expect(judged([0, 0, 0, 2500])).toBe(`${kept(4)}: 0`);
    expect(judged([0, 0, 0, -2500])).toBe(`${kept(4)}: 0`);
    expect(judged([0, 0, 0, 2501])).toBe(`${kept(3)}, disagrees: 0`);
    expect(judged([0, 0, 0, -2501])).toBe(`${kept(3)}, disagrees: 0`);
    // The value of a press is the smallest, and it follows a smaller one down.
    expect(judged([0, 100, 200, -2400, -4800, 200], { sends: "press" })).toBe(`${kept(5)}, disagrees: -4800`);
  });

  it("can show one from before to be an outlier", () => {
    expect(judged([6000, 0, 100, 200])).toBe(`${kept(4)}: 150`);
    expect(judged([6000, 0, 100, 200, 150, 50])).toBe(`outlier, ${kept(5)}: 100`);
  });
});

describe("sweeps from before the agreement", () => {
  it("stand while the median of all is supported by each that agreed, and otherwise only if they agree with each", () => {
    expect(judged([9000, 0, 1000, 2000])).toBe(`${kept(4)}: 1500`);
    // The median, 4500, is more than 2.5 µm from the lowest that agreed.
    expect(judged([14_000, 10_000, 7000, 0, 1000, 2000])).toBe(`disagrees, disagrees, disagrees, ${kept(3)}: 1000`);
    // Just 2.5 µm from it all stand, and half a nanometre further off none that is not near each.
    expect(judged([8000, 3000, 8000, 0, 2000, 1000])).toBe(`${kept(6)}: 2500`);
    expect(judged([8000, 3001, 8000, 0, 2000, 1000])).toBe(`disagrees, disagrees, disagrees, ${kept(3)}: 1000`);
    const near = (nm: number) => judged([8000, nm, 12_000, 8000, 12_000, 0, 2000, 1000]);
    expect(near(2500)).toBe(`disagrees, kept, disagrees, disagrees, disagrees, ${kept(3)}: 1500`);
    expect(near(2501)).toBe(`disagrees, disagrees, disagrees, disagrees, disagrees, ${kept(3)}: 1000`);
  });

  it("stand among presses down to twice the agreement below those that agreed, or if reached again", () => {
    expect(judged([-5000, 100, 0, 200], { sends: "press" })).toBe(`${kept(4)}: -5000`);
    expect(judged([-5001, 100, 0, 200], { sends: "press" })).toBe(`disagrees, ${kept(3)}: 0`);
    expect(judged([-9000, 4000, -6500, 4000, 100, 0, 200], { sends: "press" })).toBe(`${kept(7)}: -9000`);
    expect(judged([-9001, 4000, -6500, 4000, 100, 0, 200], { sends: "press" })).toBe(
      `disagrees, kept, disagrees, ${kept(4)}: 0`,
    );
  });
});

describe("outliers", () => {
  it("are looked for among five sweeps and more, one in five", () => {
    expect(judged([0, 3000, 100, 900_000])).toBe(kept(4));
    expect(judged([0, 9000, 0, 9001, 100, 5000])).not.toContain("outlier, kept, outlier");
    expect(judged([0, 100, 90_000, 0, 100])).toBe(`kept, kept, outlier, ${kept(2)}: 50`);
    const two = [0, 100, 90_000, -4000, 4000, 0, 100, 900_000, 4000, -4000];
    expect(judged(two)).toBe(`${kept(2)}, outlier, ${kept(4)}, outlier, ${kept(2)}`);
    expect(judged(two.slice(0, 9))).toBe(`${kept(7)}, outlier, kept`);
  });

  it("are none within the agreement of the median, which is included", () => {
    expect(judged([0, 0, 2500, 0, 0])).toBe(`${kept(5)}: 0`);
    expect(judged([0, 4000, 0, 4000, 0, 0, 0])).not.toContain("outlier");
    const wide: AgreementRule = { sweepsPerStation: 5, agreementNm: toNm(1000) };
    expect(judged([0, 0, 1000, 0, 0, 0], { rule: wide })).toBe(`${kept(6)}: 0`);
    expect(judged([0, 0, 1001, 0, 0, 0], { rule: wide })).toBe(`kept, kept, outlier, ${kept(3)}: 0`);
  });

  it("leave as many as an agreement needs", () => {
    const five: AgreementRule = { sweepsPerStation: 5, agreementNm: toNm(2500) };
    expect(judged([0, 0, 90_000, 0, 100], { rule: five })).toBe(kept(5));
    expect(judged([0, 0, 90_000, 0, 100, 0], { rule: five })).toBe(`kept, kept, outlier, ${kept(3)}: 0`);
  });

  it("do not close a station by coming last", () => {
    expect(judged([0, 5000, 100, 5100, 90_000])).toBe("kept, kept, kept, kept, outlier");
  });
});

describe("a station announced as closed", () => {
  it("holds its closing sweeps though they no longer agree, as long as enough of them still count", () => {
    const shifted = [0, 1000, 2600];
    expect(judged(shifted)).toBe(kept(3));
    expect(judged(shifted, { closedBefore: 3 })).toBe(`${kept(3)}: 1000`);
    // What was made later joins by the value of those, or not.
    expect(judged([...shifted, 3500, 4301], { closedBefore: 3 })).toBe(`${kept(4)}, disagrees: 1800`);
    // Two of the three that closed it: a station never closes on so few.
    expect(judged([0, 1000, 2600], { closedBefore: 2 })).toBe(kept(3));
  });

  it("is judged anew if so few still agree that none would have closed on them", () => {
    expect(judged([0, 10_000, 20_000], { closedBefore: 3 })).toBe(kept(3));
    expect(judged([0, 10_000, 20_000, 10_100, 10_200], { closedBefore: 3 })).toBe(
      judged([0, 10_000, 20_000, 10_100, 10_200]),
    );
  });

  it("is judged anew if one that closed it was struck, and not for one struck later", () => {
    expect(judged([0, 1000, 2600, 500], { closedBefore: 3, struck: [3] })).toBe(`${kept(3)}, struck: 1000`);
    expect(judged([0, 1000, 2600, 500], { closedBefore: 3, struck: [2] })).toBe("kept, kept, struck, kept: 500");
    expect(judged([0, 1000, 2600], { closedBefore: 3, struck: [0] })).toBe("struck, kept, kept");
    expect(judged([9000, 0, 1000, 2000], { closedBefore: 4 })).toBe(`${kept(4)}: 1500`);
    expect(judged([9000, 0, 1000, 2000], { closedBefore: 4, struck: [2] })).toBe("kept, kept, struck, kept");
  });
});

describe("a sweep as it is recorded", () => {
  const passes = passesOf(plain, new Chance(41), 5);
  const judge = (list: readonly StationPass[], sends: Sends = "stream") => judgeStation(list, sends, three, STEP, null);
  const plainly = (list: readonly Pass[]) => list.map((pass) => ({ pass, struck: false }));

  it("bears the time and height of its smallest reading, its turning point, and how that was found", () => {
    const { sweeps } = judge(plainly(passes));
    const points = turningPoints(passes, STEP);
    expect(sweeps).toStrictEqual(
      points.map(({ tMs, rawMinNm, turningPointNm, method }, i) => ({
        tMs,
        rawMinNm,
        turningPointNm,
        method,
        samples: passes[i]?.samples.length,
        use: "kept",
      })),
    );
    const [taken] = judge(plainly([{ ...(passes[0] as Pass), end: "taken" }])).sweeps;
    expect(taken).toMatchObject({ method: "raw", methodWhy: "taken by hand", use: "kept" });
  });

  it("is fitted with those that count alone, and one that was struck by itself", () => {
    const struck = plainly(passes).map((entry, i) => (i === 2 ? { ...entry, struck: true } : entry));
    const without = turningPoints(passes.toSpliced(2, 1), STEP).map((point) => point.turningPointNm);
    const [alone] = turningPoints([passes[2] as Pass], STEP);
    expect(judge(struck).sweeps.map((sweep) => sweep.turningPointNm)).toEqual(
      without.toSpliced(2, 0, alone?.turningPointNm as (typeof without)[number]),
    );
    expect(judge(struck).sweeps[2]?.use).toBe("struck");
    // What was too quick is no neighbour either.
    const quick = plainly(passes).toSpliced(2, 1, {
      pass: { ...(passes[2] as Pass), samples: (passes[2] as Pass).samples.slice(0, 3) },
      struck: false,
    });
    expect(
      judge(quick)
        .sweeps.map((sweep) => sweep.turningPointNm)
        .toSpliced(2, 1),
    ).toEqual(without);
  });

  it("is too quick as well where the display could not follow it, however many readings it has", () => {
    const { passes: coarse, resolutionNm } = hurried(696);
    const { sweeps } = judgeStation(plainly(coarse), "stream", three, resolutionNm, null);
    expect(coarse.every((pass) => pass.samples.length >= 4)).toBe(true);
    expect(sweeps.map(({ use, why }) => `${use}: ${why}`)).toEqual(Array(4).fill("set aside: too-quick"));
  });

  it("says that it was set aside, and why", () => {
    const { sweeps } = judgeStation(singles([0, 100, 90_000, 0, 100, 9000], "held"), "held", three, STEP, null);
    expect(sweeps.map(({ use, why }) => `${use}: ${why}`).toSpliced(0, 2)).toEqual([
      "set aside: outlier",
      "kept: undefined",
      "kept: undefined",
      "set aside: disagrees",
    ]);
  });

  it("needs four readings, unless it is a press; a lost contact is that, however few", () => {
    const of = (readings: number, end: PassEnd) => {
      const { samples } = passes[0] as Pass;
      const [sweep] = judge(plainly([{ samples: samples.slice(0, readings), end }])).sweeps;
      return sweep?.why ?? sweep?.use;
    };
    for (const end of ["turned", "stopped", "withdrawn", "taken"] as const) {
      expect(of(3, end), end).toBe("too-quick");
      expect(of(4, end), end).toBe("kept");
    }
    for (const end of ["press", "held"] as const) expect(of(1, end), end).toBe("kept");
    expect(of(2, "contact-lost")).toBe("contact-lost");
    expect(of(9, "contact-lost")).toBe("contact-lost");
    expect(() => judge(plainly([{ samples: [], end: "press" }]))).toThrow(RangeError);
  });

  it("has no value and no spread without any that counts", () => {
    const struck = judgeStation(singles([1, 2, 3], "held", [0, 1, 2]), "held", three, STEP, null);
    expect(struck).toMatchObject({ closed: false, noAgreement: false, valueNm: null, spreadNm: null });
    const one = judgeStation(singles([7], "held"), "held", three, STEP, null);
    expect(one).toMatchObject({ closed: false, valueNm: 7, spreadNm: 0 });
  });
});
