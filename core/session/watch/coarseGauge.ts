import { canDecide } from "../../fit/canDecide.ts";
import { MATERIALS } from "../../fit/materials.ts";
import { NOTHING, type Rule, type Sight } from "./sight.ts";

/** The gauge, used as the job plans, cannot decide the allowed band. Known before the first bore. */
export const coarseGauge: Rule<Pick<Sight, "job" | "bore" | "micrometer" | "temperaturesMeasured">> = (sight) => {
  const { job, bore, micrometer, temperaturesMeasured } = sight;
  const block = MATERIALS[job.materials.block];
  const lifter = MATERIALS[job.materials.lifter];
  if (block === undefined || lifter === undefined) return NOTHING;
  const { id, sends, resolutionNm } = bore.profile;
  const { decides, text } = canDecide({
    limits: job.limits,
    sends,
    sweepsPerStation: job.sweepsPerStation,
    resolutionNm,
    micrometerResolutionNm: micrometer?.profile.resolutionNm ?? resolutionNm,
    nominalLifterNm: job.lifter.nominalNm,
    materials: { block, lifter },
    budget: job.budget,
    temperaturesMeasured,
  });
  return decides ? NOTHING : [{ code: "coarse-gauge", text, where: { gauge: id } }];
};
