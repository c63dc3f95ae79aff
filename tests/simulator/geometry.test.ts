import { describe, expect, it } from "vitest";
import { chord, tiltedLength, tiltOfExcess } from "../../electron/simulator/geometry.ts";

const D = 21_400_000;
const MM = 1_000_000;
const degrees = (angle: number) => (angle * Math.PI) / 180;

describe("rocking geometry", () => {
  // Derived for this project from D 21.4 mm and the stated radius and tilt; excess over D in nm.
  it.each([
    [1, 0, 3_259.8],
    [1, 1, 2_955.2],
    [1, 2, 2_650.5],
    [1, 5, 1_736.5],
    [3, 0, 29_368.2],
    [3, 1, 26_623.5],
    [3, 2, 23_878.8],
    [3, 5, 15_644.7],
  ])("a tilt of %d° with contacts of radius %d mm reads %d nm long", (tilt, radius, excess) => {
    expect(tiltedLength(D, radius * MM, degrees(tilt)) - D).toBeCloseTo(excess, -0.5);
  });

  it.each([
    [0.05, 233.6],
    [0.1, 934.6],
    [0.25, 5_841.9],
    [0.5, 23_377],
  ])("a gauge %d mm off the axis reads %d nm short", (offCentre, short) => {
    expect(D - chord(D, offCentre * MM)).toBeCloseTo(short, -0.5);
  });

  it("finds the tilt that makes a given excess", () => {
    const tilt = tiltOfExcess(D, 3 * MM, 1_000);
    expect(tiltedLength(D, 3 * MM, tilt) - D).toBeCloseTo(1_000, 3);
  });
});
