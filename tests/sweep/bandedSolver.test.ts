import { describe, expect, it } from "vitest";
import { BandedMatrix } from "../../core/sweep/bandedSolver.ts";
import { Chance } from "./rocking.ts";

describe("solving with few diagonals", () => {
  it("gives back what the matrix was multiplied with", () => {
    const chance = new Chance(11);
    const size = 17;
    const width = 4;
    const matrix = new BandedMatrix(size, width);
    const full = Array.from({ length: size }, () => new Float64Array(size));
    const set = (i: number, j: number, value: number) => {
      matrix.add(i, j, value);
      (full[i] as Float64Array)[j] = value;
      (full[j] as Float64Array)[i] = value;
    };
    for (let i = 0; i < size; i += 1) {
      set(i, i, 10 + chance.next());
      for (let j = Math.max(0, i - width); j < i; j += 1) set(i, j, chance.between(-1, 1));
    }
    const x = Float64Array.from({ length: size }, () => chance.between(-5, 5));
    const right = Float64Array.from(full, (row) => row.reduce((sum, value, j) => sum + value * (x[j] as number), 0));
    const solved = matrix.factor(0)?.solve(right) ?? new Float64Array();
    for (const [i, value] of solved.entries()) expect(value).toBeCloseTo(x[i] as number, 10);
    expect(solved.length).toBe(size);
  });

  it("says when a matrix is not positive definite", () => {
    const matrix = new BandedMatrix(2, 1);
    matrix.add(0, 0, 1);
    matrix.add(1, 0, 2);
    matrix.add(1, 1, 1);
    expect(matrix.factor(0)).toBeNull();
  });

  it("says so of a singular one too, and of one that holds no number", () => {
    const singular = new BandedMatrix(2, 1);
    singular.add(0, 0, 1);
    singular.add(1, 0, 1);
    singular.add(1, 1, 1);
    expect(singular.factor(0)).toBeNull();
    const broken = new BandedMatrix(1, 0);
    broken.add(0, 0, Number.NaN);
    expect(broken.factor(0)).toBeNull();
  });

  it("adds up what is added to one element, from either side of the diagonal", () => {
    const matrix = new BandedMatrix(3, 2);
    for (const i of [0, 1, 2]) matrix.add(i, i, 5);
    matrix.add(0, 2, 1);
    matrix.add(2, 0, 1);
    matrix.add(1, 2, -1);
    // (5 0 2; 0 5 −1; 2 −1 5)·(1 2 3) = (11 7 15)
    const solved = matrix.factor(0)?.solve(Float64Array.of(11, 7, 15));
    expect(Array.from(solved ?? [], (value) => Number(value.toFixed(12)))).toEqual([1, 2, 3]);
  });

  it("multiplies the diagonal, and it alone, by 1 and the damping", () => {
    const matrix = new BandedMatrix(3, 1);
    for (const i of [0, 1, 2]) matrix.add(i, i, 2);
    matrix.add(1, 0, 1);
    matrix.add(2, 1, 1);
    // With half as much again: (3 1 0; 1 3 1; 0 1 3)·(1 −2 4) = (1 −1 10)
    const right = Float64Array.of(1, -1, 10);
    const solved = matrix.factor(0.5)?.solve(right);
    expect(Array.from(solved ?? [], (value) => Number(value.toFixed(12)))).toEqual([1, -2, 4]);
    expect([...right]).toEqual([1, -1, 10]);
  });
});
