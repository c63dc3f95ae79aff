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

/** The option that the block's plan takes for a bore: of several of its kind, the one with the plan's finished size. */
export function takenOption(remedy: Remedy, bore: RemedyBore): RemedyOption | null {
  if (bore.chosen === null) return null;
  const planned = remedy.block.plan.find((one) => one.bore === bore.name);
  const ofKind = bore.options.filter((option) => option.kind === bore.chosen);
  const sized = ofKind.find(
    ({ finishLowNm, finishHighNm }) =>
      planned?.finishLowNm !== undefined &&
      finishLowNm === planned.finishLowNm &&
      finishHighNm === (planned.finishHighNm ?? null),
  );
  return sized ?? ofKind[0] ?? null;
}

/** The bore to look at first: one that asks for work, in walking order; else the first. */
export function firstToLookAt(remedy: Remedy): RemedyBore | undefined {
  const asks = ({ verdict }: RemedyBore) => verdict !== "fits" && verdict !== "not measured";
  return remedy.bores.find(asks) ?? remedy.bores[0];
}
