import { canDecide } from "../../fit/canDecide.ts";
import { NOTHING, type Rule, type Sight } from "./sight.ts";

/** The gauge, used as the job plans, cannot decide the allowed band. Known before the first bore. */
export const coarseGauge: Rule<Pick<Sight, "job" | "bore" | "micrometer" | "temperaturesMeasured">> = (sight) => {
  const { job, bore, micrometer, temperaturesMeasured } = sight;
  const { id, sends, resolutionNm } = bore.profile;
  const { decides, text } = canDecide({
    limits: job.limits,
    sends,
    sweepsPerStation: job.sweepsPerStation,
    resolutionNm,
    micrometerResolutionNm: micrometer?.profile.resolutionNm ?? resolutionNm,
    nominalLifterNm: job.lifter.nominalNm,
    materials: job.materials,
    budget: job.budget,
    temperaturesMeasured,
  });
  return decides ? NOTHING : [{ code: "coarse-gauge", text, where: { gauge: id } }];
};
