import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";

/** The state of the walk: `kind` chooses the mark, `word` is read from two metres, `more` says the rest. */
export interface WalkState {
  readonly kind:
    | "open"
    | "kept"
    | "pending"
    | "not saved"
    | "no agreement"
    | "hold"
    | "gauge lost"
    | "no zero"
    | "return check"
    | "not begun"
    | "complete";
  readonly word: string;
  readonly more: string;
}

/**
 * What the walk is doing now, the most pressing first. `onDisk` = the record of the closed station is on disk: only
 * then does the word say that it is kept.
 */
export function walkState(view: SessionView, job: Job, notSaved: string | null, onDisk: boolean): WalkState {
  if (notSaved !== null)
    return { kind: "not saved", word: "NOT SAVED", more: "Nothing new counts until this is cured." };
  if (view.held) return { kind: "hold", word: "On hold", more: "Readings are recorded and do not count." };
  const bore = job.gauges.find((gauge) => gauge.role === "bore");
  const gauge = view.gauges.find((one) => one.id === bore?.id);
  if (gauge?.link === "lost") {
    return { kind: "gauge lost", word: "Gauge not there", more: "The walk waits for its cable." };
  }
  if (view.complete) return { kind: "complete", word: "Complete", more: "Every bore is measured." };
  if (view.step === "return") {
    const swept = view.referenceSweeps.filter((sweep) => sweep.use === "kept").length;
    return { kind: "return check", word: "Return check", more: `${swept} ${swept === 1 ? "sweep" : "sweeps"}.` };
  }
  if (view.references.length === 0)
    return { kind: "no zero", word: "No zero yet", more: "The clearance is counted from it." };
  if (view.step !== "bores" || view.here === null) {
    return { kind: "not begun", word: "Waiting", more: "The walk goes on where it stood." };
  }
  const kept = view.here.sweeps.filter((sweep) => sweep.use === "kept").length;
  switch (view.here.state) {
    case "no-agreement":
      return {
        kind: "no agreement",
        word: "No agreement",
        more: `${view.here.sweeps.length} sweeps, and they differ.`,
      };
    case "closed":
      return onDisk
        ? {
            kind: "kept",
            word: "Kept",
            more: `${kept} ${kept === 1 ? "sweep" : "sweeps"}. Stop, or take it out.`,
          }
        : { kind: "pending", word: "Pending", more: "Being written to disk." };
    case "open":
      return {
        kind: "open",
        word: kept === 0 ? "Open" : `Sweep ${kept}`,
        more: kept < job.sweepsPerStation ? `${job.sweepsPerStation} that agree are wanted.` : "They do not agree yet.",
      };
  }
}
