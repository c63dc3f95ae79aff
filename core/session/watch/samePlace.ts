import { noticeText } from "../noticeText.ts";
import { NOTHING, nameOf, type Rule, type Sight } from "./sight.ts";

/** Passes from hearing the tone to having stopped. Our choice. */
const REACTION_PASSES = 3;

type Seen = Pick<Sight, "job" | "lingering">;

/**
 * The gauge seems to have been moved on to the next station without a stop: as many sweeps as a station needs, and a
 * few more for hearing the tone, have followed since the station closed; or as many as it needs follow that agree with
 * each other and not with the station. At the last station of a bore there is nowhere to go without taking it out.
 */
export const samePlace: Rule<Seen> = ({ job, lingering }) => {
  if (lingering === null) return NOTHING;
  const { bore, place, sweeps } = lingering;
  const last = job.stations.at(-1);
  if (last === undefined || (place.height === last.height && place.clock === last.clock)) return NOTHING;
  const counted = sweeps.filter((sweep) => sweep.use === "kept" || sweep.why === "disagrees");
  const latest = counted.slice(-job.sweepsPerStation);
  const values = latest.map((sweep) => sweep.turningPointNm);
  const elsewhere =
    latest.length === job.sweepsPerStation &&
    latest.every((sweep) => sweep.why === "disagrees") &&
    Math.max(...values) - Math.min(...values) <= job.agreementNm;
  if (!elsewhere && counted.length < job.sweepsPerStation + REACTION_PASSES) return NOTHING;
  const name = nameOf(bore, place);
  const text = elsewhere ? noticeText.elsewhere(name) : noticeText.noStop(counted.length, name);
  return [{ code: "same-place", text, where: { bore, height: place.height, clock: place.clock } }];
};
