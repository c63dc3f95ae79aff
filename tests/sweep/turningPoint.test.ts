import { describe, expect, it } from "vitest";
import { toNm } from "../../core/length/nm.ts";
import type { Pass } from "../../core/sweep/sweep.ts";
import { turningPoints } from "../../core/sweep/turningPoint.ts";
import { Chance, type Rocking, tilted } from "./rocking.ts";
import { plain } from "./scenes.ts";
import { passesOf } from "./stationError.ts";

const resolution = (rocking: Rocking) => toNm(rocking.resolutionNm);

describe("one pass at a time", () => {
  const steadyPass = (rocking: Rocking, count: number, end: Pass["end"] = "turned"): Pass => {
    const lengthMs = 500 / rocking.hertz;
    const samples = Array.from({ length: count }, (_, i) => {
      const tMs = ((i + 0.3) * lengthMs) / count;
      const theta = ((rocking.amplitudeDeg * Math.PI) / 180) * Math.cos((Math.PI * tMs) / lengthMs);
      return { tMs, valueNm: toNm(tilted(rocking, theta)) };
    });
    return { samples, end };
  };

  it("finds the turning point of a lone pass of twelve exact readings to a tenth of a micrometre", () => {
    const [point] = turningPoints([steadyPass(plain, 12)], resolution(plain));
    expect(point?.method).toBe("rhythm");
    expect(Math.abs(point?.turningPointNm ?? Number.NaN)).toBeLessThan(100);
  });

  it("takes a press, a held minimum and a sweep taken by hand as they are", () => {
    for (const end of ["press", "held"] as const) {
      const pass = { samples: [{ tMs: 5, valueNm: toNm(-1270) }], end };
      expect(turningPoints([pass], toNm(1270))).toEqual([
        { rawMinNm: -1270, turningPointNm: -1270, tMs: 5, method: "raw", supported: true },
      ]);
    }
    const [taken] = turningPoints([steadyPass(plain, 12, "taken")], resolution(plain));
    expect(taken).toMatchObject({ method: "raw", methodWhy: "taken by hand" });
    expect(taken?.turningPointNm).toBe(taken?.rawMinNm);
  });

  it("says why it kept to the smallest reading where readings do not follow a rocking", () => {
    const passes = passesOf({ ...plain, perSecond: 20 }, new Chance(4), 7);
    const bad = passes[3] as Pass;
    // A contact that sticks high through square, as on a burr.
    const samples = bad.samples.map((sample, i) =>
      i > 2 && i < bad.samples.length - 2 && i % 2 === 0
        ? { ...sample, valueNm: toNm(sample.valueNm + 30_000) }
        : sample,
    );
    const points = turningPoints(passes.toSpliced(3, 1, { ...bad, samples }), resolution(plain));
    expect(points[3]?.method).not.toBe("rhythm");
    expect(points[3]?.methodWhy).toMatch(/\w/);
    for (const i of [0, 1, 2, 4, 5, 6]) {
      expect(points[i]?.method).toBe("rhythm");
      expect(Math.abs(points[i]?.turningPointNm ?? Number.NaN)).toBeLessThan(1500);
    }
  });

  it("does not hide a pass that truly turned elsewhere behind its neighbours", () => {
    const passes = passesOf(plain, new Chance(6), 7);
    const lifted = passes.map((pass, i) =>
      i === 3 ? { ...pass, samples: pass.samples.map((s) => ({ ...s, valueNm: toNm(s.valueNm - 5000) })) } : pass,
    );
    const before = turningPoints(passes, resolution(plain))[3]?.turningPointNm ?? Number.NaN;
    const after = turningPoints(lifted, resolution(plain))[3]?.turningPointNm ?? Number.NaN;
    expect(before - after).toBeGreaterThan(4000);
    expect(before - after).toBeLessThan(6000);
  });

  it("refuses a pass without a reading", () => {
    expect(() => turningPoints([{ samples: [], end: "turned" }], toNm(1270))).toThrow(RangeError);
  });
});
