import type { Remedy } from "../../core/report/remedySchema.ts";

export type RemedyBore = Remedy["bores"][number];
export type RemedyOption = RemedyBore["options"][number];
export type RemedyKind = RemedyOption["kind"];

/** Ways to deal with a bore as a column is headed. */
export const KIND_TITLES: Readonly<Record<RemedyKind, string>> = {
  leave: "Leave as it is",
  pair: "Another lifter",
  hone: "Hone to size",
  body: "Larger lifter body",
  bush: "Bush back to size",
};

/** The same in a word, as on the plan. */
export const KIND_WORDS: Readonly<Record<RemedyKind, string>> = {
  leave: "leave",
  pair: "pair",
  hone: "hone",
  body: "body",
  bush: "bush",
};

/** Kinds by which metal is cut. */
export function cuts(kind: RemedyKind): boolean {
  return kind === "hone" || kind === "body" || kind === "bush";
}

/** What the block's plan does at a bore; null where it does nothing there. */
export function deedAt(remedy: Remedy, bore: Pick<RemedyBore, "name">): Remedy["block"]["plan"][number] | null {
  return remedy.block.plan.find((one) => one.bore === bore.name) ?? null;
}

/**
 * What the plan takes for a bore, as an option: the very one among the bore's own where there is one. A plan that moves
 * lifters and cuts together may want a size for another lifter; it is then an option of its own. Null where nothing is
 * taken: not measured, or left open as it is.
 */
export function takenOption(remedy: Remedy, bore: RemedyBore): RemedyOption | null {
  const deed = deedAt(remedy, bore);
  if (deed === null) return bore.options.find(({ kind }) => kind === bore.chosen) ?? null;
  const { kind, lifter, lifterNm, finishLowNm = null, finishHighNm = null } = deed;
  const ofKind = bore.options.filter((option) => option.kind === kind);
  const own = ofKind.find(
    (option) =>
      option.lifter === lifter &&
      (lifterNm === undefined || option.lifterNm === lifterNm) &&
      option.finishHighNm === finishHighNm,
  );
  const like = own ?? ofKind[0];
  if (own !== undefined || like === undefined) return own ?? null;
  return {
    ...like,
    lifterNm: lifterNm ?? like.lifterNm,
    lifter,
    finishLowNm,
    finishHighNm,
    removeNm: deed.removeNm ?? 0,
    removeAtLargestNm: deed.removeAtLargestNm,
    possible: true,
    why: "The plan for the whole block moves lifters and cuts together, so this one is for another lifter.",
    clearanceLowNm: deed.clearanceLowNm ?? null,
    clearanceHighNm: deed.clearanceHighNm ?? null,
    measureOn: deed.measureOn ?? null,
  };
}

/** The bore to look at first: one that asks for work, in walking order; else the first. */
export function firstToLookAt(remedy: Remedy): RemedyBore | undefined {
  const asks = ({ verdict }: RemedyBore) => verdict !== "fits" && verdict !== "not measured";
  return remedy.bores.find(asks) ?? remedy.bores[0];
}
