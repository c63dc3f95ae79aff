import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import { LengthError, parseLength } from "../../core/length/parseLength.ts";
import type { GaugeUnit } from "../../core/length/unit.ts";
import { remedySession } from "../../core/report/remedyReport.ts";
import type { Remedy } from "../../core/report/remedySchema.ts";
import { inwards } from "../../core/report/sheetLength.ts";
import { shopSheet, shopSheetTable } from "../../core/report/shopSheet.ts";
import type { ReadSession } from "../../core/session/recording.ts";
import { csvOf } from "../host/csv.ts";
import { FileExistsError, writeWhole } from "../host/safeFiles.ts";
import { aligned } from "./aligned.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { need, readOptions } from "./options.ts";
import { fileTrouble } from "./readFiles.ts";
import { readSessionFile, unitOf } from "./recheck.ts";
import { shopSheetText } from "./shopSheetText.ts";

export const REMEDY_HELP = `borewright remedy SESSION [--json] [--lifter LENGTH] [--sheet FILE [--force]]

Says what to do with each bore: leave it, give it another lifter, hone it, open it for a larger lifter body, or
bush it; with finished sizes that leave room for the decision rule and for measuring again. Then a plan for the
whole block: fewest bores left open, then fewest cut in, then least metal. The session is only read.
  --json     print the remedy as one JSON object
  --lifter   a lifter body to plan for beside the standard ones, such as "0.8520 in"
  --sheet    write the sheet for the machine shop: a table where FILE ends in .csv, otherwise text
  --force    write over a sheet that is there
Exit status: 0 done, 5 a seal is broken (the remedy is printed all the same).
`;

/** `borewright remedy`. */
export async function remedy(args: readonly string[], io: Io): Promise<number> {
  const options = { json: "flag", lifter: "text", sheet: "text", force: "flag" } as const;
  const { values, files } = readOptions("remedy", args, options, 1);
  const path = need("remedy", "SESSION", files[0]);
  const lifterNm = values.lifter === undefined ? null : bodyOf(values.lifter);
  if (values.force && values.sheet === undefined) throw new WrongUse("remedy: --force goes with --sheet only");
  const read = await readSessionFile(path);
  const found = remedyOf(read, lifterNm);
  const unit = unitOf(read);
  if (values.sheet !== undefined) await writeSheet(values.sheet, found, read, unit, values.force);
  io.out(values.json ? `${JSON.stringify(found)}\n` : remedyText(found, unit, lifterNm));
  return read.broken.length > 0 ? EXIT.sealBroken : EXIT.done;
}

/** Bodies that a lifter can have, nm: a hundredth of an inch to four inches. */
const BODY_LOW_NM = 254_000;
const BODY_HIGH_NM = 101_600_000;

function bodyOf(given: string): Nm {
  try {
    const body = parseLength(given);
    if (body >= BODY_LOW_NM && body <= BODY_HIGH_NM) return body;
  } catch (error) {
    if (!(error instanceof LengthError)) throw error;
    throw new WrongUse(`remedy: --lifter: ${error.message}`);
  }
  throw new WrongUse(`remedy: --lifter: found "${given}"; expected the diameter of a lifter body, such as "0.8750 in"`);
}

function remedyOf(read: ReadSession, lifterNm: Nm | null): Remedy {
  const notes = read.broken.map(({ line, why }) => `The seal is broken at line ${line} of the session: ${why}.`);
  if (read.differences.length > 0) {
    notes.push("The session's raw lines do not give what was recorded: recheck it before any metal is cut.");
  }
  const found = remedySession(read.recording, lifterNm === null ? {} : { lifterNm });
  return { ...found, notes: [...notes, ...(found.notes ?? [])] };
}

async function writeSheet(path: string, found: Remedy, read: ReadSession, unit: GaugeUnit, force: boolean) {
  const { title, block } = read.recording.job;
  const sheet = shopSheet(found, { title, block });
  const text = path.toLowerCase().endsWith(".csv") ? csvOf(shopSheetTable(sheet)) : shopSheetText(sheet, unit);
  try {
    await writeWhole(path, text, force);
  } catch (error) {
    if (error instanceof FileExistsError) {
      throw new WrongUse(`remedy: ${path} is already there; expected a new file, or --force to write over it`);
    }
    throw new WrongUse(`remedy: sheet ${path}: ${fileTrouble(error)}`);
  }
}

const DECIMALS = { in: 5, mm: 4 } as const;

/** A remedy for a person: the plan, then bore by bore, then what to beware of. Ends with a line end; lengths in `unit`. `asked` is the body asked about. */
function remedyText(found: Remedy, unit: GaugeUnit, asked: Nm | null): string {
  const print = printIn(unit);
  const { limits, block } = found;
  const simulated = (found.notes ?? []).filter((note) => note.startsWith("Simulated"));
  const judged =
    limits === undefined
      ? ""
      : `; limits ${print.range(limits.lowNm, limits.highNm)} (${limits.source}), rule ${found.rule}`;
  return [
    `What to do with each bore. Lengths in ${unit === "in" ? "inches" : "millimetres"}, on diameter, at 20 °C${judged}.`,
    "The lifter or cam maker's sheet comes first; figures are estimates for planning.",
    ...simulated.map((note) => note.toUpperCase()),
    "",
    ...planLines(found, print),
    "",
    ...(found.bores.every(({ diameterMinNm }) => diameterMinNm === null) ? [] : planTable(block.plans ?? [], print)),
    "Bore by bore (* in the plan; of larger bodies the next one, all of them with --json). A lifter given by its size is",
    "still to be bought, or was not measured: measure it first, and move the finished size by as much as it differs.",
    ...found.bores.flatMap((bore) => boreLines(bore, print, asked)),
    "",
    ...(found.notes ?? []).map((note) => `note: ${note}`),
    ...(found.cautions ?? []).map((caution) => `caution: ${caution}`),
    "",
  ].join("\n");
}

interface Print {
  /** A length to the nearest step. */
  length(nm: number): string;
  /** What a bore measures, or ends at. */
  range(low: number | null | undefined, high: number | null | undefined): string;
  /** What is allowed: rounded inwards, so that it is never outside. */
  allowed(low: number | null | undefined, high: number | null | undefined): string;
}

function printIn(unit: GaugeUnit): Print {
  const length = (nm: number) => formatLength(nm as Nm, unit, DECIMALS[unit]);
  const of = (
    low: number | null | undefined,
    high: number | null | undefined,
    print: (low: number, high: number) => string,
  ) => (low === null || low === undefined || high === null || high === undefined ? "-" : print(low, high));
  return {
    length,
    range: (low, high) => of(low, high, (low, high) => `${length(low)} to ${length(high)}`),
    allowed: (low, high) =>
      of(low, high, (low, high) => {
        const { from, to } = inwards(low, high);
        return unit === "in" ? `${from.inches} to ${to.inches}` : `${from.mm} to ${to.mm}`;
      }),
  };
}

function planLines({ bores, block }: Remedy, print: Print): string[] {
  const taken = block.plans?.find(({ chosen }) => chosen === true);
  const open = block.open ?? [];
  const measured = bores.filter(({ diameterMinNm }) => diameterMinNm !== null).length;
  const rows = block.plan.map((deed) => {
    const cut = deed.finishLowNm !== null && deed.finishLowNm !== undefined;
    const removes = cut && deed.kind !== "bush";
    return [
      `  ${deed.bore}`,
      deed.kind === "pair" ? "another lifter" : deed.kind,
      `${deed.lifter ?? print.length(deed.lifterNm ?? 0)}${deed.moves === true ? ", MOVES" : ""}`,
      removes ? `${print.length(deed.removeNm ?? 0)} / ${print.length(deed.removeAtLargestNm ?? 0)}` : "-",
      print.allowed(deed.finishLowNm, deed.finishHighNm),
      (cut ? print.allowed : print.range)(deed.clearanceLowNm, deed.clearanceHighNm),
      deed.measureOn === "its lifter" ? "on its lifter" : "as before",
    ];
  });
  const near = block.near ?? [];
  const sure = measured - open.length - near.length;
  const outcome =
    block.allFit === true
      ? "every measured bore is expected to be found to fit"
      : `${sure} of ${measured} measured bores are expected to be found to fit`;
  return [
    measured === 0 ? "No bore is measured: there is nothing to plan." : `Plan: ${taken?.name ?? "none"}; ${outcome}.`,
    ...(rows.length === 0
      ? []
      : aligned([
          ["  bore", "do", "lifter", "remove, smallest / largest", "finish between", "clearance then", "measure again"],
          ...rows,
        ])),
    ...(near.length === 0 ? [] : [`Fit so narrowly that measuring again may find them undecided: ${near.join(", ")}.`]),
    ...(open.length === 0 ? [] : ["Open:"]),
    ...open.map(({ bore, why, undecided }) => `  ${bore}${undecided === true ? ", undecided" : ""}: ${why}`),
  ];
}

function planTable(plans: NonNullable<Remedy["block"]["plans"]>, print: Print): string[] {
  return [
    "Plans side by side:",
    ...aligned([
      ["", "plan", "open", "undecided", "cut in", "bushes", "metal", "lifters moved", "clearances then"],
      ...plans.map((plan) => [
        plan.chosen === true ? "  *" : "",
        plan.name,
        String(plan.open),
        String(plan.undecided ?? 0),
        String(plan.boresTouched),
        String(plan.bushes ?? 0),
        print.length(plan.metalNm),
        String(plan.lifterMoves),
        print.range(plan.tightestNm, plan.loosestNm),
      ]),
    ]),
    "(* taken. Open: bores not expected to fit, the undecided among them. Metal: at the smallest place, without bushes.)",
    "",
  ];
}

function boreLines(bore: Remedy["bores"][number], print: Print, asked: Nm | null): string[] {
  const { name, diameterMinNm, diameterMaxNm, verdict, options, chosen, advice } = bore;
  if (diameterMinNm === null) return [`${name}: not measured. ${advice ?? ""}`.trimEnd()];
  const taken = options.find(({ kind, possible }) => possible && kind === chosen);
  const bodies = options.filter(({ kind }) => kind === "body");
  const next = bodies.find(({ possible }) => possible) ?? bodies[0];
  const rows = options.flatMap((option) => {
    const { kind, lifter, lifterNm, possible, why, finishLowNm, finishHighNm } = option;
    if (kind === "body" && option !== next && option !== taken && lifterNm !== asked) return [];
    const noOther = kind === "pair" && typeof option.clearanceLowNm !== "number";
    const whose = kind === "leave" || noOther ? "" : ` ${lifter ?? print.length(lifterNm)}`;
    const cut = possible && finishLowNm !== null;
    const on = option.measureOn === "its lifter" ? ", measured again on its lifter" : "";
    const says = cut ? `finish ${print.allowed(finishLowNm, finishHighNm)}${on}` : why;
    return [[`  ${option === taken ? "*" : " "} ${kind}${whose}`, possible ? "can be done" : "no", says]];
  });
  return [`${name}: ${print.range(diameterMinNm, diameterMaxNm)}, ${verdict}`, ...aligned(rows)];
}
