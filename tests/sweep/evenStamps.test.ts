import { describe, expect, it } from "vitest";
import { evenStamps } from "../../core/sweep/evenStamps.ts";
import { Chance } from "./rocking.ts";

describe("time stamps of an even stream", () => {
  it("frees them of the line's delays, with readings missing", () => {
    const chance = new Chance(3);
    const even = Array.from({ length: 60 }, (_, i) => 100 * i).filter((_, i) => i % 11 !== 5);
    const stamps = Float64Array.from(even, (t) => t + 2 * chance.normal());
    const found = evenStamps(stamps);
    expect(found?.scatterMs).toBeGreaterThan(1.5);
    expect(found?.scatterMs).toBeLessThan(2.5);
    for (const [i, t] of (found?.tMs ?? []).entries()) expect(Math.abs(t - (even[i] as number))).toBeLessThan(1);
  });

  it("leaves a stream alone that is not even, and one too short to tell", () => {
    const chance = new Chance(4);
    let t = 0;
    const uneven = Float64Array.from({ length: 60 }, () => {
      t += chance.between(20, 180);
      return t;
    });
    expect(evenStamps(uneven)).toBeNull();
    expect(evenStamps(Float64Array.of(0, 100, 200))).toBeNull();
    expect(evenStamps(Float64Array.of(5, 5, 5, 5, 5))).toBeNull();
  });

  /** Lateness by turns +, −, −, + of `ms`: a straight line through it is even, so the scatter is `ms` itself. */
  const scattered = (interval: number, ms: number, n = 40) =>
    Float64Array.from({ length: n }, (_, i) => interval * i + (i % 4 === 0 || i % 4 === 3 ? ms : -ms));

  it("gives the even times themselves, and how far the stamps were from them", () => {
    const found = evenStamps(scattered(100, 5));
    expect(found?.scatterMs).toBeCloseTo(5, 9);
    for (const [i, t] of (found?.tMs ?? []).entries()) expect(t).toBeCloseTo(100 * i, 9);
    expect(found?.tMs.length).toBe(40);
  });

  it("believes in a line's delay of up to 6 ms, and of a fifth of the interval", () => {
    expect(evenStamps(scattered(100, 5.99))).not.toBeNull();
    expect(evenStamps(scattered(100, 6.01))).toBeNull();
    expect(evenStamps(scattered(20, 3.99))).not.toBeNull();
    expect(evenStamps(scattered(20, 4.01))).toBeNull();
  });

  it("takes four stamps for a stream, and no fewer", () => {
    expect(evenStamps(Float64Array.of(0, 100, 200, 300))).toEqual({
      tMs: Float64Array.of(0, 100, 200, 300),
      scatterMs: 0,
    });
    expect(evenStamps(Float64Array.of(0, 100, 200))).toBeNull();
  });

  it("counts each reading once where late ones come in a bunch", () => {
    const even = Array.from({ length: 60 }, (_, i) => 20 * i);
    const late = Float64Array.from(even, (t, i) => (i === 30 ? t + 6 : i === 31 ? t + 13 : t));
    const found = evenStamps(late);
    expect(found).not.toBeNull();
    for (const [i, t] of (found?.tMs ?? []).entries()) expect(Math.abs(t - (even[i] as number))).toBeLessThan(2);
  });
});
