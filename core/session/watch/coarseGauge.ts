import { canDecide } from "../../fit/canDecide.ts";
import type { Job } from "../job.ts";
import { NOTHING, type Rule, type Sight } from "./sight.ts";

type Answer = ReturnType<typeof canDecide>;

/** The gauge, used as the job plans, cannot decide the allowed band. Known before the first bore. */
export const coarseGauge: Rule<Pick<Sight, "job" | "bore" | "micrometer" | "temperaturesMeasured">> = (sight) => {
  const { job, bore, micrometer, temperaturesMeasured } = sight;
  const { id, sends, resolutionNm } = bore.profile;
  const micrometerResolutionNm = micrometer?.profile.resolutionNm ?? resolutionNm;
  const asked = [sends, resolutionNm, micrometerResolutionNm, temperaturesMeasured].join(" ");
  const { decides, text } = remembered(job, asked, () =>
    canDecide({
      limits: job.limits,
      sends,
      sweepsPerStation: job.sweepsPerStation,
      resolutionNm,
      micrometerResolutionNm,
      nominalLifterNm: job.lifter.nominalNm,
      materials: job.materials,
      budget: job.budget,
      temperaturesMeasured,
    }),
  );
  return decides ? NOTHING : [{ code: "coarse-gauge", text, where: { gauge: id } }];
};

/** The rules look at every change of a session, and a job and its gauges hardly ever change: the answer is kept. */
const answers = new WeakMap<Job, { readonly asked: string; readonly answer: Answer }>();

function remembered(job: Job, asked: string, answer: () => Answer): Answer {
  const known = answers.get(job);
  if (known?.asked === asked) return known.answer;
  const fresh = answer();
  answers.set(job, { asked, answer: fresh });
  return fresh;
}
