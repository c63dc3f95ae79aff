import { toNm } from "../../length/nm.ts";
import { noticeText } from "../noticeText.ts";
import { standApart } from "./apart.ts";
import type { Rule, Sight } from "./sight.ts";

/** Bores within half of the allowed band of their fellows are never odd: they differ by what the limits are there for. */
const BAND_PART = 1 / 8;

/** A bore whose mean diameter stands apart from those of its fellows: worn, or mismeasured. */
export const oddBore: Rule<Pick<Sight, "job" | "bore" | "bores">> = (sight) => {
  const { bores } = sight;
  const { limits } = sight.job;
  const floor = Math.max(sight.bore.profile.resolutionNm, BAND_PART * (limits.highNm - limits.lowNm));
  const means = bores.map((bore) => bore.meanNm);
  return standApart(means, floor).flatMap(({ index, distance }) => {
    const bore = bores[index]?.name;
    if (bore === undefined) return [];
    return [
      {
        code: "odd-bore" as const,
        text: noticeText.oddBore(bore, toNm(distance), sight.bore.profile.unit),
        where: { bore },
      },
    ];
  });
};
