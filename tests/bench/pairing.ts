import { linearSumAssignment } from "linear-sum-assignment";
import munkres from "munkres";
import type { Bore } from "../../core/block/layout.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { toNm } from "../../core/length/nm.ts";
import { lexicographicAssignment, type Option } from "../../core/pairing/lexicographicAssignment.ts";
import { PAIRING_OBJECTIVES, pairLifters } from "../../core/pairing/pairLifters.ts";
import { Chance } from "../sweep/rocking.ts";

/** One row: the whole order of aims, beside general solvers of one sum on the same lifters and bores, ms. */
export interface PairingRow {
  readonly bores: number;
  /** How alike bores and lifters are: as measured, or all the same, so that nothing but the order is left to decide. */
  readonly sizes: "scattered" | "all alike";
  /** Every aim of the pairing, in order. */
  readonly wholeMs: number;
  /** The same with everything about it: rules for the lifters looked at, deviations worked out. */
  readonly pairingMs: number;
  /** The sum of squares alone, by two general solvers on plain numbers. */
  readonly munkresMs: number;
  readonly shortestPathsMs: number;
  /** All aims that are sums, as one sum of long integers: what a general solver can do of the order. */
  readonly longIntegersMs: number;
  /** Whether the sum of squares found alone agrees with the general solver's. */
  readonly agrees: boolean;
}

/** Times of pairing beside general solvers of the assignment problem in the same run. */
export function pairingTable(shortest: (work: () => void) => number): PairingRow[] {
  return [16, 64].flatMap((count) =>
    (["scattered", "all alike"] as const).map((sizes) => pairingRow(count, sizes, shortest)),
  );
}

function pairingRow(count: number, sizes: PairingRow["sizes"], shortest: (work: () => void) => number): PairingRow {
  const chance = new Chance(count);
  const size = () => (sizes === "scattered" ? Math.round(16_000 * chance.between(0, 1)) : 0);
  const bores = Array.from({ length: count }, size);
  const lifters = Array.from({ length: count }, size);
  const rows = bores.map((bore, row) =>
    lifters.map((lifter, column): Option => {
      const doubled = 2 * (bore - lifter);
      const off = Math.abs(doubled) / 2;
      const costs = [off < 7000 ? 0 : 1, off < 2500 ? 0 : 1, Math.abs(doubled), doubled ** 2, row === column ? 0 : 1];
      return { column, costs };
    }),
  );
  const squares = rows.map((row) => row.map(({ costs }) => costs[3] as number));
  const long = rows.map((row) =>
    row.map(({ costs: [inside = 0, preferred = 0, , square = 0, moved = 0] }) =>
      [inside, preferred, square, moved].reduce((sum, cost) => sum * 10n ** 18n + BigInt(cost), 0n),
    ),
  );
  const onlySquares = rows.map((row) => row.map(({ column, costs }) => ({ column, costs: [costs[3] as number] })));
  const sumOf = (pairs: readonly (readonly [number, number])[]) =>
    pairs.reduce((sum, [row, column]) => sum + (squares[row]?.[column] ?? Number.NaN), 0);
  const own = lexicographicAssignment(onlySquares, count, ["sum"]) ?? [];
  return {
    bores: count,
    sizes,
    pairingMs: shortest(() => void pairLifters(requestOf(bores, lifters))),
    wholeMs: shortest(() => void lexicographicAssignment(rows, count, PAIRING_OBJECTIVES)),
    munkresMs: shortest(() => void munkres(squares)),
    shortestPathsMs: shortest(() => void linearSumAssignment(squares, { maximaze: false })),
    longIntegersMs: shortest(() => void munkres(long)),
    agrees: sumOf(own.map((column, row) => [row, column] as const)) === sumOf(munkres(squares)),
  };
}

/** A pairing whose verdicts are known already: some lifters used, on tie bars and kept from a bore. */
function requestOf(boresNm: readonly number[], liftersNm: readonly number[]): Parameters<typeof pairLifters>[0] {
  const bores = boresNm.map((_, index): Bore => {
    const cylinder = 1 + Math.floor(index / 2);
    const valve = index % 2 === 0 ? "I" : "E";
    return { name: `${cylinder}${valve}`, cylinder, valve, bank: 0, along: index, x: 0, y: 0 };
  });
  const size = new Map(bores.map(({ name }, index) => [name, [boresNm[index] ?? 0, liftersNm[index] ?? 0] as const]));
  const judgement = { verdict: "fits", tooTight: 0, tooLoose: 0, inside: 1, confidence: 1 } as const;
  const station = { clearanceNm: 0, value: 0, u: 1, degreesOfFreedom: 100 };
  return {
    bores,
    lifters: bores.map(({ name }) => name),
    rules: { "1I": { keptFrom: ["1I"] }, "2I": { pairedWith: "2E", mayTurn: true }, "2E": { pairedWith: "2I" } },
    style: "roller",
    limits: SHIPPED_LIMITS.flat,
    fitOf: (bore, lifter) => {
      const clearance = 40_640 + (size.get(bore)?.[0] ?? 0) - (size.get(lifter)?.[1] ?? 0);
      const off = Math.abs(clearance - 40_640);
      return {
        clearanceMinNm: toNm(clearance),
        clearanceMaxNm: toNm(clearance),
        verdict: off < 7000 ? "fits" : "undecided",
        preferred: off < 2500,
        confidence: 1,
        judgement,
        extremes: { smallest: station, largest: station },
        stations: [station],
      };
    },
  };
}
