import type { ReactNode } from "react";
import { canDecide } from "../../core/fit/canDecide.ts";
import { type JobFile, parseJob } from "../../core/session/jobFile.ts";
import { useDraft } from "./draft.ts";
import styles from "./JobPlace.module.css";

/** Says before the work whether these gauges, used like this, can decide these limits. */
export function BandSentence(): ReactNode {
  const { file, error } = useDraft();
  const answer = error === null ? bandAnswer(file) : null;
  if (answer === null) return null;
  return (
    <p className={answer.decides ? styles.note : styles.wrong}>
      {answer.decides ? "" : "▲ "}
      {answer.text}
    </p>
  );
}

/** Null while the draft makes no sense. */
export function bandAnswer(file: JobFile): { readonly decides: boolean; readonly text: string } | null {
  try {
    const job = parseJob(file);
    const bore = job.gauges.find((gauge) => gauge.role === "bore");
    if (bore === undefined) return null;
    return canDecide({
      limits: job.limits,
      sends: bore.sends,
      sweepsPerStation: job.sweepsPerStation,
      resolutionNm: bore.resolutionNm,
      micrometerResolutionNm:
        job.gauges.find((gauge) => gauge.role === "micrometer")?.resolutionNm ?? bore.resolutionNm,
      nominalLifterNm: job.lifter.nominalNm,
      materials: job.materials,
      budget: job.budget,
    });
  } catch {
    // The check says at the field what is wrong.
    return null;
  }
}
