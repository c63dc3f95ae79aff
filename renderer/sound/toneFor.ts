import type { Limits } from "../../core/fit/finding.ts";
import type { NoticeCode } from "../../core/session/notice.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import type { SessionView } from "../../core/session/view.ts";
import type { ToneName } from "./score.ts";

/** Notices that stop the work until someone does something about them; the others are only worth knowing. */
const STOPS_THE_WORK: ReadonlySet<NoticeCode> = new Set<NoticeCode>([
  "polarity-reversed",
  "unit-mismatch",
  "zero-moved",
  "no-agreement",
  "frozen",
  "link-lost",
  "step-failed",
  "order-of-work",
  "same-bore",
]);

/** Whether a notice is trouble: it sounds again and again until it is dealt with. */
export function isTrouble(code: NoticeCode): boolean {
  return STOPS_THE_WORK.has(code);
}

/**
 * The tone of an outcome, or null for one that is not heard. Outcomes arrive after their record is on disk, so a tone
 * is a promise kept: nothing else makes one. `view` is the picture after the outcome; the limits are the job's.
 */
export function toneFor(outcome: Outcome, view: SessionView | null, limits: Limits | null): ToneName | null {
  switch (outcome.type) {
    case "lifter":
      return "kept";
    case "sweep":
      return outcome.sweep.use === "kept" ? "sweep" : null;
    case "station": {
      if (isOutside(outcome.bore, outcome.clearanceNm, view, limits)) return outcome.again ? null : "outside";
      return outcome.again ? "sweep" : "kept";
    }
    case "opened":
      return outcome.newBore ? "bore" : "opened";
    case "zero":
      return outcome.again ? "sweep" : outcome.reference.held ? "kept" : "trouble";
    case "step-check":
      return outcome.passed ? "kept" : "trouble";
    case "struck":
      return "strike";
    case "notice":
      return isTrouble(outcome.notice.code) ? "trouble" : null;
    case "cured":
      return isTrouble(outcome.notice.code) ? "opened" : null;
    case "complete":
      return "complete";
    case "step":
      return outcome.step === "return" ? "return" : null;
  }
}

/** The bore's verdict speaks where there is one; while the bore is part measured, the station's clearance does. */
function isOutside(bore: string, clearanceNm: number | null, view: SessionView | null, limits: Limits | null): boolean {
  const verdict = view?.bores.find((finding) => finding.name === bore)?.verdict;
  if (verdict === "too tight" || verdict === "too loose") return true;
  if (verdict === "fits" || verdict === "undecided") return false;
  if (clearanceNm === null || limits === null) return false;
  return clearanceNm < limits.lowNm || clearanceNm > limits.highNm;
}
