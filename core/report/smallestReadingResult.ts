import { bySmallestReading } from "../fit/smallestReading.ts";
import type { Recording } from "../session/recording.ts";
import type { Result } from "./result.ts";
import { resultUnder } from "./whatIf.ts";

/**
 * The result of a recording with the smallest reading of every sweep in place of its turning point (see
 * `bySmallestReading`), and at each station beside it, as `byTurningPoint`, what the turning points give under the same
 * limits and rule. Of a gauge that sends presses or held minima, whose sweeps are single readings, the two are the same.
 */
export function resultBySmallestReading(
  recording: Recording,
  seal: Result["seal"],
  other: Parameters<typeof resultUnder>[2],
): Result {
  const beside = resultUnder(recording, seal, other);
  const input = bySmallestReading(other.input ?? recording.run.fitInput(), recording.job.zeroHoldNm);
  const result = resultUnder(recording, seal, { ...other, input });
  return {
    ...result,
    lifters: beside.lifters,
    sweepValue: "smallest-reading",
    zeros: result.zeros.map((zero, index) => {
      const { valueNm, spreadNm, returnNm, held } = input.references[index] ?? zero;
      return { ...zero, valueNm, spreadNm, returnNm, held };
    }),
    bores: result.bores.map((bore, index) => ({
      ...bore,
      stations: bore.stations.map((station, nth) => {
        const { valueNm, spreadNm, clearanceNm, uncertaintyNm } = beside.bores[index]?.stations[nth] ?? station;
        return { ...station, byTurningPoint: { valueNm, spreadNm, clearanceNm, uncertaintyNm } };
      }),
    })),
  };
}
