import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import type { GaugeUnit } from "../../core/length/unit.ts";
import { ComparisonError, compareSessions } from "../../core/report/comparisonReport.ts";
import type { Comparison } from "../../core/report/comparisonSchema.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { need, readOptions } from "./options.ts";
import { readSessionFile, unitOf } from "./recheck.ts";

export const COMPARE_HELP = `borewright compare BEFORE AFTER [--new-lifters] [--json]

Lays a later session of a block over an earlier one: what was cut or worn away at each
place, with its uncertainty, and whether that is what the earlier session's remedy
planned. A change counts as seen only where the errors of both sessions hardly explain
it: in a block that nothing was done to, once in a hundred blocks. Both files are only read.
  --new-lifters  the lifters of AFTER are others than those of BEFORE with the same names
  --json         print the comparison as one JSON object
Exit status: 0 done, 2 also when the two can not be compared, 5 a seal is broken
(the comparison is printed all the same).
`;

/** `borewright compare`. */
export async function compare(args: readonly string[], io: Io): Promise<number> {
  const { values, files } = readOptions("compare", args, { "new-lifters": "flag", json: "flag" }, 2);
  const paths = { before: need("compare", "BEFORE", files[0]), after: need("compare", "AFTER", files[1]) };
  const before = await readSessionFile(paths.before);
  const after = await readSessionFile(paths.after);
  const comparison = ((): Comparison => {
    try {
      return compareSessions(before, after, { newLifters: values["new-lifters"] });
    } catch (error) {
      if (!(error instanceof ComparisonError)) throw error;
      throw new WrongUse(`compare: ${paths.before} and ${paths.after}: ${error.message}`);
    }
  })();
  io.out(values.json ? `${JSON.stringify(comparison)}\n` : printed(comparison, unitOf(after)));
  return before.broken.length + after.broken.length > 0 ? EXIT.sealBroken : EXIT.done;
}

const DECIMALS = { in: 5, mm: 4 } as const;

/** A comparison as text for a person, ending with a line end. Lengths in `unit`. */
function printed({ before, after, bores, notes }: Comparison, unit: GaugeUnit): string {
  const length = (nm: number | null, sign = false) =>
    nm === null ? "-" : formatLength(toNm(nm), unit, DECIMALS[unit], sign);
  const rows = bores.flatMap(({ name, stations }) =>
    stations.map(({ height, clock, beforeNm, afterNm, changeNm, uncertaintyNm }) => [
      name,
      `${height} ${clock}`,
      length(beforeNm),
      length(afterNm),
      length(changeNm, true),
      length(uncertaintyNm),
    ]),
  );
  const table = [["bore", "place", "before", "after", "change", "U 95 %"], ...rows];
  const widths = (table[0] ?? []).map((_, column) => Math.max(...table.map((row) => row[column]?.length ?? 0)));
  const look = bores.filter(({ attention }) => attention).map(({ name }) => name);
  return [
    `Before: ${headOf(before)}`,
    `After:  ${headOf(after)}`,
    `Diameters at 20 °C, ${unit}; the later ones on the earlier session's scale.`,
    "",
    ...table.map((row) =>
      row
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join("  ")
        .trimEnd(),
    ),
    "",
    ...bores.map(({ name, text, attention }) => `${attention ? "LOOK " : "     "}${name}: ${text}`),
    "",
    look.length === 0 ? "No bore asks for a second look." : `To be looked at: ${look.join(", ")}.`,
    ...notes.map((note) => `note: ${note}`),
    "The lifter or cam maker's sheet comes first.",
    "",
  ].join("\n");
}

function headOf({ title, block, created }: Comparison["before"]): string {
  const named = [title, block].filter((part) => part.trim() !== "");
  return [...named, `begun ${created}`].join(", ");
}
