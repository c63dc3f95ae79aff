import { toNm } from "../../length/nm.ts";
import { noticeText } from "../noticeText.ts";
import { standApart } from "./apart.ts";
import { readLifters } from "./lifterDiameters.ts";
import { NOTHING, type Rule, type Sight } from "./sight.ts";
import { turnedOut } from "./turnOut.ts";

/** A lifter that stands apart from its fellows: worn, of another make, or mismeasured. Not one that is a turn out. */
export const oddLifter: Rule<Pick<Sight, "job" | "micrometer" | "lifters">> = (sight) => {
  const { micrometer, job } = sight;
  if (micrometer === null) return NOTHING;
  const { resolutionNm, unit } = micrometer.profile;
  const out = new Set(turnedOut(sight).map(({ name }) => name));
  const lifters = readLifters(sight).filter(({ name }) => !out.has(name));
  // What the micrometer itself may be off by, as a standard deviation (rectangular, GUM 4.3.7).
  const floor = Math.max(resolutionNm, job.budget.micrometerNm / Math.sqrt(3));
  const diameters = lifters.map(({ diameterNm }) => diameterNm);
  return standApart(diameters, floor).flatMap(({ index, distance }) => {
    const name = lifters[index]?.name;
    if (name === undefined) return [];
    return [
      {
        code: "odd-lifter" as const,
        text: noticeText.oddLifter(name, toNm(distance), unit),
        where: { bore: name, gauge: micrometer.profile.id },
      },
    ];
  });
};
