import { toNm } from "../../length/nm.ts";
import { median } from "../../sweep/median.ts";
import { noticeText } from "../noticeText.ts";
import { type ReadLifter, readLifters } from "./lifterDiameters.ts";
import { NOTHING, type Rule, type Sight } from "./sight.ts";

/** One turn of a thimble: 0.025 in or 0.5 mm (common practice, no source). */
const TURN_NM = { in: 635_000, mm: 500_000 } as const;
/** Lifters of one make lie within this of each other and of a turn (our choice, a tenth of a turn at most). */
const WITHIN_NM = 50_000;

type Seen = Pick<Sight, "job" | "micrometer" | "lifters">;

/**
 * A lifter that reads one whole turn of the micrometer above or below its fellows: the thimble was read a turn out.
 * Its fellows are compared by their median; before there are two of them that agree, the nominal size stands in.
 */
export const turnOut: Rule<Seen> = (sight) => {
  const { micrometer } = sight;
  if (micrometer === null) return NOTHING;
  const { unit } = micrometer.profile;
  return turnedOut(sight).map(({ name, diameterNm, expectedNm }) => ({
    code: "turn-out" as const,
    text: noticeText.turnOut(name, toNm(diameterNm - expectedNm), toNm(TURN_NM[unit]), unit),
    where: { bore: name, gauge: micrometer.profile.id },
  }));
};

/** The lifters that are a turn out, and what was expected of them, nm. */
export function turnedOut(sight: Seen): readonly (ReadLifter & { readonly expectedNm: number })[] {
  const { micrometer, job } = sight;
  if (micrometer === null) return [];
  const turnNm = TURN_NM[micrometer.profile.unit];
  const lifters = readLifters(sight);
  const all = median(lifters.map(({ diameterNm }) => diameterNm));
  const agreeing = lifters.filter(({ diameterNm }) => Math.abs(diameterNm - all) <= WITHIN_NM).length;
  const expectedNm = agreeing >= 2 && agreeing * 2 > lifters.length ? all : job.lifter.nominalNm;
  return lifters
    .filter(({ diameterNm }) => Math.abs(Math.abs(diameterNm - expectedNm) - turnNm) <= WITHIN_NM)
    .map((lifter) => ({ ...lifter, expectedNm }));
}
