import { zeroAt } from "../../zero/zeroAt.ts";
import { noticeText } from "../noticeText.ts";
import { NOTHING, type Rule, type Sight } from "./sight.ts";

/**
 * Bores whose zero was replaced by a new one before a return check came: whether it had held can no longer be known.
 * Nothing where the job asks for no return checks.
 */
export const neverChecked: Rule<Pick<Sight, "job" | "stations" | "references">> = ({ job, stations, references }) => {
  if (job.returnCheckEvery === 0) return NOTHING;
  if (!references.some((reference, index) => index > 0 && reference.kind === "zero")) return NOTHING;
  const last = references.at(-1);
  const stranded = stations.filter(({ tMs }) => {
    const zero = zeroAt(references, tMs);
    return zero.state === "unchecked" && zero.before !== last;
  });
  const bores = job.walk.filter((bore) => stranded.some((station) => station.bore === bore));
  if (bores.length === 0) return NOTHING;
  return [{ code: "order-of-work", text: noticeText.neverChecked(bores), where: {} }];
};
