import type { FitInput } from "../../fit/finding.ts";
import { coverageFactor } from "../../fit/gum.ts";
import { diameterText, smallLength } from "../bothUnits.ts";
import { micrometerSource, type Sized } from "./errorSources.ts";

/** What is known of the lifters that the micrometer was set to in two sessions. */
export interface SetLifters {
  /**
   * Diameter of the later lifter less that of the earlier one, with its errors: none of either where it is the same
   * lifter; null where they can not be compared.
   */
  readonly difference: Sized | null;
  /** What was taken for granted, or why they can not be compared; a whole sentence. */
  readonly text: string;
}

/** What a person can say of the lifters. */
export interface LifterNews {
  /** Lifters of the later session are others than those of the earlier one that bear the same names. */
  readonly newLifters?: boolean;
  /** Why a lifter may be another, or of another size, than the earlier one of its name: the end of a sentence that it begins. */
  readonly doubts?: ReadonlyMap<string, string>;
}

const SAME: Sized = { valueNm: 0, sources: [] };

/**
 * Compares the lifter that the micrometer was set to before with the one after (null: not named).
 *
 * A lifter of the same name is taken to be the same one: then it is in neither bore's clearance, and what the micrometer
 * read of it does not matter. Three things tell against that, and make it count as measured anew, with the micrometer's
 * error once in each session: the person says that they are other lifters, there is a doubt about this one (it has run
 * since and may have worn, or lifters were to change places), or the two readings differ by more than the micrometer
 * explains (95 %). The micrometer reads a lifter that is as warm as itself
 * at its size at 20 °C, both being steel, so the readings are taken as they stand.
 */
export function setLifters(
  before: FitInput,
  after: FitInput,
  names: { readonly before: string | null; readonly after: string | null },
  news: LifterNews = {},
): SetLifters {
  if (names.before === null || names.after === null) {
    const which = names.before === null ? "earlier" : "later";
    return {
      difference: null,
      text: `The zero of the ${which} session does not name the lifter that the micrometer was set to, so it is not known whether both were zeroed on the same one.`,
    };
  }
  const then = before.lifters.get(names.before);
  const now = after.lifters.get(names.after);
  const sameName = names.before === names.after;
  const doubt = sameName ? news.doubts?.get(names.after) : undefined;
  if (then === undefined || now === undefined) {
    if (sameName && news.newLifters !== true) {
      const doubted =
        doubt === undefined
          ? ""
          : ` But it ${doubt}: what it differs shows as a change of every bore alike. Measure it in both sessions to tell them apart.`;
      return {
        difference: SAME,
        text: `Both sessions were zeroed on lifter ${names.after}, taken to be the same one and unworn, so its size cancels.${doubted}`,
      };
    }
    const [missing, which] = then === undefined ? [names.before, "earlier"] : [names.after, "later"];
    return {
      difference: null,
      text: `The sessions were zeroed on different lifters, and lifter ${missing} was not measured in the ${which} one, so its bores can not be compared.`,
    };
  }
  const sources = [micrometerSource("before", before, names.before), micrometerSource("after", after, names.after)];
  const difference = { valueNm: now - then, sources };
  const explainedNm = coverageFactor(0.95, Number.POSITIVE_INFINITY) * Math.hypot(...sources.map(({ byNm }) => byNm));
  const readings = `${diameterText(then)} then and ${diameterText(now)} now`;
  const counts = "so the micrometer's error counts once in each session";
  if (!sameName) {
    return {
      difference,
      text: `The micrometer was set to lifter ${names.before} then and to ${names.after} now (${readings}), ${counts}.`,
    };
  }
  if (news.newLifters === true) {
    return { difference, text: `Lifter ${names.after} is another one than then (${readings}), ${counts}.` };
  }
  if (doubt !== undefined) {
    return { difference, text: `Lifter ${names.after} ${doubt} (${readings}), ${counts}.` };
  }
  if (Math.abs(difference.valueNm) > explainedNm) {
    return {
      difference,
      text: `Lifter ${names.after} read ${readings}, which differs by more than the micrometer explains (${smallLength(explainedNm)}): it is taken as another one, or worn, ${counts}.`,
    };
  }
  return {
    difference: SAME,
    text: `Both sessions were zeroed on lifter ${names.after}, taken to be the same one, so its size cancels; it read ${readings}.`,
  };
}
