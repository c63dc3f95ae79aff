import type { Result } from "./result.ts";

/** A measured station by its turning points and by its smallest readings; lengths in nm. */
export interface SmallestRow {
  readonly bore: string;
  /** Height and clock direction. */
  readonly station: string;
  readonly turningPointNm: number | null;
  readonly turningPointUNm: number | null;
  readonly smallestNm: number | null;
  readonly smallestUNm: number | null;
  /** Clearance by smallest reading minus that by turning point, signed; null where either has none. */
  readonly differenceNm: number | null;
  /** Station value by smallest reading minus that by turning point, signed: what of the difference arises in the bore. */
  readonly beyondNm: number;
  /** Range of the smallest readings that count. */
  readonly spreadNm: number | null;
  /** That range is larger than the sweeps had to agree within. */
  readonly fartherApart: boolean;
}

/** The closed stations of a result by smallest readings (`resultBySmallestReading`), in its order. */
export function smallestRows({ bores }: Result, agreementNm: number): SmallestRow[] {
  return bores.flatMap(({ name, stations }) =>
    stations.flatMap(({ height, clock, valueNm, clearanceNm, uncertaintyNm, spreadNm, byTurningPoint }) => {
      if (byTurningPoint === undefined || valueNm === null) return [];
      const before = byTurningPoint.clearanceNm;
      return [
        {
          bore: name,
          station: `${height} ${clock}`,
          turningPointNm: before,
          turningPointUNm: byTurningPoint.uncertaintyNm,
          smallestNm: clearanceNm,
          smallestUNm: uncertaintyNm,
          differenceNm: clearanceNm === null || before === null ? null : clearanceNm - before,
          beyondNm: valueNm - (byTurningPoint.valueNm ?? valueNm),
          spreadNm,
          fartherApart: spreadNm !== null && spreadNm > agreementNm,
        },
      ];
    }),
  );
}
