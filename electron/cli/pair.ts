import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { GaugeUnit } from "../../core/length/unit.ts";
import { PairingError } from "../../core/pairing/pairingError.ts";
import { pairSession } from "../../core/report/pairingReport.ts";
import type { Pairing } from "../../core/report/pairingSchema.ts";
import type { ReadSession } from "../../core/session/recording.ts";
import { aligned } from "./aligned.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { need, readOptions } from "./options.ts";
import { readSessionFile, unitOf } from "./recheck.ts";

export const PAIR_HELP = `borewright pair SESSION [--json]

Says which lifter goes into which bore: most bores inside the limits by the job's rule, then most in the
preferred band, then the smallest largest deviation from its middle, then the smallest sum of squares, then
the fewest lifters moved. What the job says of its lifters is kept: used flat-faced ones stay, tie-bar pairs
move together, pinned ones go where they are pinned. The session is only read.
  --json     print the pairing as one JSON object
Exit status: 0 done, 2 also when there is no pairing, 5 a seal is broken (the pairing is printed all the same).
`;

/** `borewright pair`. */
export async function pair(args: readonly string[], io: Io): Promise<number> {
  const { values, files } = readOptions("pair", args, { json: "flag" }, 1);
  const path = need("pair", "SESSION", files[0]);
  const read = await readSessionFile(path);
  const pairing = pairingOf(read, path);
  io.out(values.json ? `${JSON.stringify(pairing)}\n` : benchList(pairing, unitOf(read)));
  return read.broken.length > 0 ? EXIT.sealBroken : EXIT.done;
}

function pairingOf(read: ReadSession, path: string): Pairing {
  const notes = read.broken.map(({ line, why }) => `The seal is broken at line ${line} of the session: ${why}.`);
  if (read.differences.length > 0) {
    notes.push("The session's raw lines do not give what was recorded: recheck it before moving a lifter.");
  }
  try {
    const pairing = pairSession(read.recording);
    return { ...pairing, notes: [...notes, ...pairing.notes] };
  } catch (error) {
    if (error instanceof PairingError) throw new WrongUse(`pair: session ${path}: ${error.message}`);
    throw error;
  }
}

const DECIMALS = { in: 5, mm: 4 } as const;

/** A pairing as a list to work by, in walking order, ending with a line end. Lengths in `unit`. */
function benchList(pairing: Pairing, unit: GaugeUnit): string {
  const length = (value: number) => formatLength(value as Nm, unit, DECIMALS[unit]);
  const between = (one: { readonly clearanceMinNm: number; readonly clearanceMaxNm: number }) =>
    `${length(one.clearanceMinNm)} to ${length(one.clearanceMaxNm)}`;
  const judged = (one: { readonly verdict: string; readonly preferred: boolean }) =>
    one.preferred ? `${one.verdict}, preferred` : one.verdict;
  const rows = pairing.assignments.map((one) => {
    const same = one.lifter === one.before.lifter;
    return [
      one.bore,
      one.lifter,
      `${same ? "stays" : "MOVES"}${one.turned === true ? ", turned round" : ""}`,
      between(one),
      judged(one),
      same ? "the same" : `${one.before.lifter}: ${between(one.before)}, ${judged(one.before)}`,
    ];
  });
  const held = pairing.assignments.flatMap(({ lifter, why }) => (why === undefined ? [] : [`  ${lifter} ${why}`]));
  const moving = pairing.assignments.filter(({ lifter, before }) => lifter !== before.lifter).length;
  return [
    `Lifters to bores, in walking order. Clearances in ${unit}, aimed at ${length(pairing.targetNm)}; rule ${pairing.rule}.`,
    "The lifter or cam maker's sheet comes first.",
    "",
    ...aligned([["bore", "lifter", "", "clearance", "verdict", "now"], ...rows]),
    "",
    moving === 0 ? "Nothing moves." : `${moving} of ${rows.length} bores get another lifter than now.`,
    ...aligned(worthRows(pairing, length)),
    ...(held.length === 0 ? [] : ["", "Lifters held by a rule:", ...held]),
    ...(pairing.leftOver.length === 0 ? [] : ["", `Lifters left over: ${pairing.leftOver.join(", ")}.`]),
    ...(pairing.leftOut.length === 0 ? [] : ["", "Bores left alone, each with its own lifter:"]),
    ...leftAlone(pairing),
    "",
    ...pairing.notes.map((note) => `note: ${note}`),
    "",
  ].join("\n");
}

/** Bores left alone, those with the same reason on one line. */
function leftAlone({ leftOut }: Pairing): string[] {
  const bores = new Map<string, string[]>();
  for (const { bore, why } of leftOut) bores.set(why, [...(bores.get(why) ?? []), bore]);
  return [...bores].map(([why, names]) => `  ${names.join(", ")}: ${why}`);
}

function worthRows({ before, after, assignments }: Pairing, length: (value: number) => string): string[][] {
  const count = assignments.length;
  const mean = (sum: number) => length(count === 0 ? 0 : Math.round(Math.sqrt(sum / count)));
  return [
    ["", "now", "then"],
    ["bores inside the limits", `${before.fits} of ${count}`, `${after.fits} of ${count}`],
    ["bores in the preferred band", `${before.preferred} of ${count}`, `${after.preferred} of ${count}`],
    ["largest deviation from the aim", length(before.worstDeviationNm), length(after.worstDeviationNm)],
    ["root mean square deviation", mean(before.sumSquaresNm2), mean(after.sumSquaresNm2)],
    ["lifters out of their own bore", String(before.moved), String(after.moved)],
  ];
}
