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
});
