import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Sends } from "../../core/gauge/profile.ts";
import { toNm } from "../../core/length/nm.ts";
import { judgeStation, type StationPass } from "../../core/sweep/judgeStation.ts";
import type { AgreementRule, Pass } from "../../core/sweep/sweep.ts";
import { anyRocking, Chance } from "./rocking.ts";
import { passesOf } from "./stationError.ts";

const rule: AgreementRule = { sweepsPerStation: 3, agreementNm: toNm(2540) };
const RESOLUTION = toNm(1270);

/** Presses or held minima with these values, µm, one a second. */
function pressed(values: readonly number[], end: "press" | "held" = "held"): StationPass[] {
  return values.map((um, i) => ({
    pass: { samples: [{ tMs: 1000 * i, valueNm: toNm(um * 1000) }], end },
    struck: false,
  }));
}

function judge(values: readonly number[], sends: Sends = "held", closedBefore: number | null = null) {
  return judgeStation(pressed(values, sends === "press" ? "press" : "held"), sends, rule, RESOLUTION, closedBefore);
}

const uses = (judgement: ReturnType<typeof judgeStation>) => judgement.sweeps.map((sweep) => sweep.why ?? sweep.use);

describe("when a station closes and what it is worth", () => {
  it("closes when the last three agree, the limit included, and not before", () => {
    expect(judge([0, 2.54]).closed).toBe(false);
    expect(judge([0, 2.54, 1]).closed).toBe(true);
    expect(judge([0, 2.541, 1]).closed).toBe(false);
    expect(judge([9, 0, 2.5, 1]).closed).toBe(true);
    expect(judge([]).valueNm).toBeNull();
  });

  it("takes the median of held minima and the smallest of presses", () => {
    expect(judge([3, 1, 2]).valueNm).toBe(2000);
    expect(judge([3, 1, 2, 2.5]).valueNm).toBe(2250);
    expect(judge([3, 1, 2], "press").valueNm).toBe(1000);
    expect(judge([30, 1, 2, 1.5], "press").valueNm).toBe(1000);
  });

  it("judges the same with and without what it judged of the sweeps before", () => {
    const values = fc.array(fc.integer({ min: -8, max: 8 }), { minLength: 1, maxLength: 30 });
    const tight = { ...rule, agreementNm: toNm(400) };
    fc.assert(
      fc.property(values, fc.constantFrom<Sends>("held", "press"), fc.nat({ max: 9 }), (list, sends, struck) => {
        const passes = pressed(list, sends === "press" ? "press" : "held");
        let before: ReturnType<typeof judgeStation> | null = null;
        for (let count = 1; count <= passes.length; count += 1) {
          const seen = passes.slice(0, count).map((entry, i) => ({ ...entry, struck: i === struck && count > 12 }));
          const judged = judgeStation(seen, sends, tight, RESOLUTION, null, before);
          expect(judged).toEqual(judgeStation(seen, sends, tight, RESOLUTION, null));
          before = judged;
        }
      }),
      { seed: 12, numRuns: 100 },
    );
  });

  it("gives an estimate while it is open", () => {
    const open = judge([4, 1]);
    expect(open).toMatchObject({ closed: false, valueNm: 2500, spreadNm: 3000 });
  });

  it("lets later sweeps join while they agree, and sets aside those that do not", () => {
    const judgement = judge([0, 1, 0.5, 1.2, 9, 0.8]);
    expect(uses(judgement)).toEqual(["kept", "kept", "kept", "kept", "disagrees", "kept"]);
    expect(judgement.valueNm).toBe(800);
    expect(judgement.spreadNm).toBe(1200);
  });

  it("never gives a value that none of the agreeing sweeps supports", () => {
    const judgement = judge([18, 14, 10, 0, 0.5, 1]);
    expect(judgement.closed).toBe(true);
    expect(uses(judgement)).toEqual(["disagrees", "disagrees", "disagrees", "kept", "kept", "kept"]);
    expect(judgement.valueNm).toBe(500);
  });

  it("has no agreement after twelve sweeps that wander, and may still close", () => {
    const wandering = Array.from({ length: 11 }, (_, i) => (i * 37) % 50);
    expect(judge(wandering).noAgreement).toBe(false);
    const twelve = [...wandering, 100];
    expect(judge(twelve)).toMatchObject({ noAgreement: true, closed: false });
    expect(judge([...twelve, 7, 7.5, 8])).toMatchObject({ noAgreement: false, closed: true });
  });
});

describe("what is set aside", () => {
  it("sets an outlier aside once there are five, by the test, and counts on without it", () => {
    const spiked = judge([0, 0.4, -30, 0.1, 0.3]);
    expect(uses(spiked)).toEqual(["kept", "kept", "outlier", "kept", "kept"]);
    expect(spiked.closed).toBe(true);
    expect(uses(judge([0, 0.4, -30, 0.1]))).toEqual(["kept", "kept", "kept", "kept"]);
  });

  it("sets nothing aside that agrees with the rest, however close rounding makes the rest look", () => {
    expect(uses(judge([9, 0, 0, 7, 0]))).toEqual(["kept", "kept", "kept", "kept", "kept"]);
    const rounded = judge([0, 0, 2.54, 0, 0, 0]);
    expect(uses(rounded)).toEqual(Array(6).fill("kept"));
    expect(judge([0, 0, 5, 0, 0]).sweeps[2]?.why).toBe("outlier");
  });

  it("lets the smallest press stand that was nearly reached, but no short one that was not reached again", () => {
    expect(judge([0, 4, 4.5, 5], "press")).toMatchObject({ closed: true, valueNm: 0 });
    const short = judge([-30, 0.1, 0.2, 0.3], "press");
    expect(uses(short)).toEqual(["disagrees", "kept", "kept", "kept"]);
    expect(short).toMatchObject({ closed: true, valueNm: 100, spreadNm: 200 });
    expect(judge([-30, 9, -30, 0.1, 0.2, 0.3], "press").valueNm).toBe(-30_000);
    expect(judge([-30, 9, -29, 0.1, 0.2, 0.3], "press")).toMatchObject({ closed: true, valueNm: -30_000 });
    const tested = judge([0.1, 3, -30, 0.3, 0.2, 0.1], "press");
    expect(uses(tested)[2]).toBe("outlier");
    expect(tested).toMatchObject({ closed: true, valueNm: 100 });
  });

  it("sets aside at most one in five as outliers, so that agreement is not made by throwing away", () => {
    const values = [0, 50, 0.1, -50, 0.2, 40, 0.3, -40, 0.1, 60];
    const judgement = judge(values);
    expect(uses(judgement).filter((use) => use === "outlier").length).toBeLessThanOrEqual(2);
    expect(judgement.closed).toBe(false);
  });

  it("never closes on a sweep that is itself set aside", () => {
    const judgement = judge([0, 5, 0.1, 5.1, 0.2, 80]);
    expect(judgement.closed).toBe(false);
  });

  it("never counts a pass that was too quick, lost contact or was struck", () => {
    const chance = new Chance(8);
    const rocking = { ...anyRocking(chance, 20, "turns", "stamp"), resolutionNm: 1270 };
    const [a, b, c, d] = passesOf(rocking, chance, 4) as [Pass, Pass, Pass, Pass];
    const quick: Pass = { samples: a.samples.slice(0, 3), end: "turned" };
    const lost: Pass = { ...b, end: "contact-lost" };
    const judgement = judgeStation(
      [
        { pass: quick, struck: false },
        { pass: lost, struck: false },
        { pass: b, struck: false },
        { pass: c, struck: true },
        { pass: d, struck: false },
      ],
      "stream",
      rule,
      RESOLUTION,
      null,
    );
    expect(uses(judgement)).toEqual(["too-quick", "contact-lost", "kept", "struck", "kept"]);
    expect(judgement.closed).toBe(false);
    expect(judgement.sweeps.map((sweep) => sweep.samples)).toEqual(
      [quick, lost, b, c, d].map((pass) => pass.samples.length),
    );
  });
});

describe("a station that was announced as closed", () => {
  it("stays closed and judges the rest by its value", () => {
    const judgement = judge([0, 1, 2, 3.5, 3.4, 0.9], "held", 3);
    expect(judgement.closed).toBe(true);
    expect(uses(judgement)).toEqual(["kept", "kept", "kept", "kept", "kept", "kept"]);
    expect(judge([0, 1, 2.6, 9], "held", 3)).toMatchObject({ closed: true });
  });

  it("is judged anew when one of the sweeps that closed it is struck", () => {
    const passes = pressed([0, 1, 2, 1.5]).map((entry, i) => (i === 1 ? { ...entry, struck: true } : entry));
    const judgement = judgeStation(passes.slice(0, 3), "held", rule, RESOLUTION, 3);
    expect(judgement.closed).toBe(false);
    expect(judgeStation(passes, "held", rule, RESOLUTION, 3).closed).toBe(true);
  });
});

describe("laws of judging", () => {
  const list = fc.array(fc.integer({ min: -20, max: 20 }), { maxLength: 15 });
  const senders = fc.constantFrom<Sends>("held", "press");
  const seeded = { seed: 99, numRuns: 500 };

  it("once closed by a part of the presses, closed by all of them, and the part's sweeps keep their values", () => {
    fc.assert(
      fc.property(list, senders, fc.nat(15), (values, sends, cut) => {
        const part = judge(values.slice(0, cut), sends);
        const all = judge(values, sends);
        if (part.closed) expect(all.closed).toBe(true);
        for (const [i, sweep] of part.sweeps.entries()) {
          expect(all.sweeps[i]?.turningPointNm).toBe(sweep.turningPointNm);
        }
        if (part.closed) {
          const latched = judge(values, sends, Math.min(cut, values.length));
          expect(latched.closed).toBe(true);
        }
      }),
      seeded,
    );
  });

  it("a closed value is supported: enough kept sweeps lie within the agreement of it", () => {
    fc.assert(
      fc.property(list, (values) => {
        const judgement = judge(values);
        if (!judgement.closed) return;
        const near = judgement.sweeps.filter(
          (sweep) =>
            sweep.use === "kept" && Math.abs(sweep.turningPointNm - (judgement.valueNm as number)) <= rule.agreementNm,
        );
        expect(near.length).toBeGreaterThanOrEqual(rule.sweepsPerStation);
      }),
      seeded,
    );
  });

  it("a shift of all presses shifts the value and nothing else", () => {
    fc.assert(
      fc.property(list, senders, fc.integer({ min: -1000, max: 1000 }), (values, sends, by) => {
        const plainly = judge(values, sends);
        const shifted = judge(
          values.map((value) => value + by),
          sends,
        );
        expect(uses(shifted)).toEqual(uses(plainly));
        expect(shifted.closed).toBe(plainly.closed);
        expect(shifted.spreadNm).toBe(plainly.spreadNm);
        expect(shifted.valueNm).toBe(plainly.valueNm === null ? null : plainly.valueNm + by * 1000);
      }),
      seeded,
    );
  });

  it("lists every pass, in order", () => {
    fc.assert(
      fc.property(list, senders, (values, sends) => {
        expect(judge(values, sends).sweeps.map((sweep) => sweep.rawMinNm)).toEqual(values.map((v) => v * 1000));
      }),
      seeded,
    );
  });
});
