/** What the pairing must respect for one lifter. */
export interface LifterRule {
  /** It has run in an engine: a used flat-faced lifter stays in its own bore, a roller lifter may move. */
  readonly used?: boolean;
  /** The lifter on the other end of its tie bar; both name each other. */
  readonly pairedWith?: string;
  /** The pair may go in turned round; either of the two may say so. */
  readonly mayTurn?: boolean;
  /** It must go to its own bore (true) or to the bore named. */
  readonly pinned?: boolean | string;
  /** Bores it must not go to. */
  readonly keptFrom?: readonly string[];
  /** It was measured for no bore. */
  readonly spare?: boolean;
}

/** By lifter, named after the bore it was measured for, spare ones by their own names; a lifter not named has no rule. */
export type LifterRules = Readonly<Record<string, LifterRule>>;

export type FaceStyle = "flat" | "roller";

/** The bores a lifter has to go to by its own rules, each with why in words that follow its name; none when it may move. */
export function mustGoTo(
  lifter: string,
  rules: LifterRules,
  style: FaceStyle,
): readonly { readonly bore: string; readonly why: string }[] {
  const rule = rules[lifter];
  if (rule === undefined) return [];
  const bores: { bore: string; why: string }[] = [];
  if (rule.used === true && style === "flat" && rule.spare !== true) {
    bores.push({ bore: lifter, why: `is used and flat-faced, so it stays in bore ${lifter}` });
  }
  if (rule.pinned === true) bores.push({ bore: lifter, why: `is pinned to its own bore ${lifter}` });
  if (typeof rule.pinned === "string") bores.push({ bore: rule.pinned, why: `is pinned to bore ${rule.pinned}` });
  return bores;
}
