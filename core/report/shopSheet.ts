import type { Remedy } from "./remedySchema.ts";
import { inwards, nearest, type SheetLength } from "./sheetLength.ts";
import type { Cell, Table } from "./tables.ts";

export type { SheetLength };

/** One bore that metal is cut in. */
export interface SheetRow {
  readonly bore: string;
  readonly work: "hone" | "body" | "bush";
  /** In words: what is to be done. */
  readonly what: string;
  /** The lifter it is finished for: its name where it was measured, and its diameter. */
  readonly lifter: string | null;
  readonly lifterSize: SheetLength;
  /** Smallest and largest station as measured. */
  readonly now: { readonly smallest: SheetLength; readonly largest: SheetLength };
  /** To remove on diameter, to the middle of the finished size; null for a bush. */
  readonly remove: { readonly atSmallest: SheetLength; readonly atLargest: SheetLength } | null;
  /** Finished size everywhere in the bore, rounded inwards: what is printed is never outside what is allowed. */
  readonly finish: { readonly from: SheetLength; readonly to: SheetLength };
  /** The size not to pass: the upper end of the finished size. */
  readonly notToPass: SheetLength;
  /** The same as clearance to that lifter, for a gauge that is set to it. */
  readonly clearance: { readonly from: SheetLength; readonly to: SheetLength };
  readonly measureAgain: string;
}

/** A sheet for the machine shop: plain data, printed on paper, on screen or as a table. */
export interface ShopSheet {
  readonly title: string;
  readonly block: string;
  /** What the figures are and how to read them, whole sentences. */
  readonly explains: readonly string[];
  readonly rows: readonly SheetRow[];
  /** Bores that nothing is cut in. */
  readonly leaveAlone: readonly string[];
  /** Bores that are not brought to fit by this sheet, with why. */
  readonly open: readonly { readonly bore: string; readonly why: string }[];
  /** To look at before and while cutting: what no measurement of size can tell. */
  readonly lookAt: readonly string[];
  /** To be signed off at every bore, in this order. */
  readonly signOff: readonly string[];
  readonly cautions: readonly string[];
}

/** Signed off bore by bore. */
export const SIGN_OFF = [
  "oil hole re-opened and deburred",
  "washed, oil ways too",
  "measured again: smallest and largest",
  "by whom",
  "date",
] as const;

/** The sheet for a remedy's plan; `about` is the job it belongs to. */
export function shopSheet(remedy: Remedy, about: { readonly title: string; readonly block: string }): ShopSheet {
  const rows = remedy.block.plan.flatMap((deed) => rowOf(remedy, deed));
  const cut = new Set(rows.map(({ bore }) => bore));
  const lookAt = new Set(
    rows.flatMap(
      ({ bore, work }) =>
        remedy.bores.find(({ name }) => name === bore)?.options.find(({ kind }) => kind === work)?.unknown ?? [],
    ),
  );
  return {
    title: about.title,
    block: about.block,
    explains: [
      "Diameters at 20 °C. Every place of the bore must end between the two finished sizes, taper and oval included; the finished size is nowhere below the present largest place, so that the bore is cleaned up.",
      "Finished sizes are rounded inwards in each unit by itself. Where nothing stands for tenths, a gauge that shows tenths is too coarse.",
      ...(remedy.notes ?? []),
    ],
    rows,
    leaveAlone: remedy.bores
      .filter(({ name, diameterMinNm }) => diameterMinNm !== null && !cut.has(name))
      .map(({ name }) => name),
    open: (remedy.block.open ?? []).map(({ bore, why }) => ({ bore, why })),
    lookAt: [...lookAt],
    signOff: SIGN_OFF,
    cautions: remedy.cautions ?? [],
  };
}

/** The rows as a table for a spreadsheet, the sign-off columns empty. */
export function shopSheetTable(sheet: ShopSheet): Table {
  const both = (name: string) => [`${name} (in)`, `${name} (mm)`];
  const cells = (length: SheetLength | null): Cell[] =>
    length === null ? [null, null] : [Number(length.inches), Number(length.mm)];
  return {
    columns: [
      "bore",
      "work",
      "for lifter",
      ...both("lifter"),
      ...both("now smallest"),
      ...both("now largest"),
      ...both("remove at smallest"),
      ...both("remove at largest"),
      ...both("finish from"),
      ...both("finish to, not to pass"),
      "measure again",
      ...sheet.signOff,
    ],
    rows: sheet.rows.map((row) => [
      row.bore,
      row.what,
      row.lifter ?? "to be bought, or the reference",
      ...cells(row.lifterSize),
      ...cells(row.now.smallest),
      ...cells(row.now.largest),
      ...cells(row.remove?.atSmallest ?? null),
      ...cells(row.remove?.atLargest ?? null),
      ...cells(row.finish.from),
      ...cells(row.finish.to),
      row.measureAgain,
      ...sheet.signOff.map(() => null),
    ]),
  };
}

const WHAT = {
  hone: "hone to size",
  body: "open for the larger lifter body",
  bush: "bore out, bush by the bush maker's sheet, finish the bush inside",
} as const;

type PlanEntry = Remedy["block"]["plan"][number];

function rowOf(remedy: Remedy, deed: PlanEntry): SheetRow[] {
  const { bore, kind, lifter = null, lifterNm, finishLowNm, finishHighNm } = deed;
  const { clearanceLowNm, clearanceHighNm, removeNm = 0, removeAtLargestNm = 0 } = deed;
  const now = remedy.bores.find(({ name }) => name === bore);
  if (kind === "leave" || kind === "pair" || now === undefined) return [];
  const { diameterMinNm, diameterMaxNm } = now;
  const known = [lifterNm, finishLowNm, finishHighNm, clearanceLowNm, clearanceHighNm, diameterMinNm, diameterMaxNm];
  if (!known.every((length): length is number => length !== null && length !== undefined)) {
    throw new RangeError(`the plan cuts bore ${bore} and does not say between which sizes`);
  }
  const [size, low, high, clearLow, clearHigh, smallest, largest] = known as [
    number,
    ...[number, number, number, number, number, number],
  ];
  const finish = inwards(low, high);
  return [
    {
      bore,
      work: kind,
      what: WHAT[kind],
      lifter,
      lifterSize: nearest(size),
      now: { smallest: nearest(smallest), largest: nearest(largest) },
      remove: kind === "bush" ? null : { atSmallest: nearest(removeNm), atLargest: nearest(removeAtLargestNm) },
      finish,
      notToPass: finish.to,
      clearance: inwards(clearLow, clearHigh),
      measureAgain:
        deed.measureOn === "its lifter"
          ? `micrometer set to ${lifter === null ? "the lifter that goes in" : `lifter ${lifter}`}, gauge zeroed on it`
          : "as before",
    },
  ];
}
