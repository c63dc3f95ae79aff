import type { StudyReadings } from "../../core/bridge/messages.ts";

/** Where a reading stands on the plot: 0 … 1 of its width and height, y from the top. */
export interface PlottedDot {
  readonly person: number;
  readonly bore: string;
  readonly x: number;
  readonly y: number;
  readonly valueNm: number;
}

export interface DotPlot {
  readonly dots: readonly PlottedDot[];
  /** Smallest and largest value of the scale, nm. */
  readonly lowNm: number;
  readonly highNm: number;
  /** Middle of each bore's column, 0 … 1. */
  readonly columns: readonly { readonly bore: string; readonly x: number }[];
}

/**
 * Places every reading in its bore's column, the people side by side in it. `about` "bore" takes each bore's mean off
 * first, so that one sees how people and trials differ when the bores differ more.
 */
export function dotPlot(study: StudyReadings, about: "reading" | "bore"): DotPlot {
  const { bores, people, readings } = study;
  const means = new Map(
    bores.map((bore) => {
      const values = readings.filter((cell) => cell.bore === bore).flatMap((cell) => cell.valuesNm);
      return [bore, values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length)];
    }),
  );
  const off = (bore: string) => (about === "bore" ? (means.get(bore) ?? 0) : 0);
  const all = readings.flatMap((cell) => cell.valuesNm.map((value) => value - off(cell.bore)));
  const low = all.length === 0 ? 0 : Math.min(...all);
  const high = all.length === 0 ? 0 : Math.max(...all);
  // One value alone still has a scale around it.
  const room = Math.max((high - low) * 0.08, 500);
  const lowNm = low - room;
  const highNm = high + room;
  const dots = readings.flatMap(({ bore, person, valuesNm }) => {
    const column = bores.indexOf(bore);
    const lane = people.indexOf(person);
    return valuesNm.map((value, trial) => {
      const valueNm = value - off(bore);
      const within = (lane + (trial + 1) / (valuesNm.length + 1)) / people.length;
      return {
        person: lane,
        bore,
        x: (column + 0.08 + 0.84 * within) / bores.length,
        y: (highNm - valueNm) / (highNm - lowNm),
        valueNm,
      };
    });
  });
  return { dots, lowNm, highNm, columns: bores.map((bore, at) => ({ bore, x: (at + 0.5) / bores.length })) };
}
