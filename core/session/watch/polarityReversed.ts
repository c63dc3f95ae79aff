import { median } from "../../sweep/median.ts";
import { noticeText } from "../noticeText.ts";
import { looseLimits, NOTHING, type Rule, type Sight } from "./sight.ts";

/** One bore's worth of stations must look mirrored before it is said. Our choice. */
const FEWEST_STATIONS = 2;

type Seen = Pick<Sight, "job" | "bore" | "stations" | "stepCheck" | "stream">;

/**
 * The gauge counts the other way than its profile says. Three signs, each enough: the step check answered with the
 * wrong sign; the rocking of a stream turns at its largest readings; the bores read below the zero by as much as they
 * should be above it (their median, mirrored, suits the limits). A press or a held minimum shows nothing of the
 * rocking, so for those only the first and the last are there. A step check that passed proves the contrary.
 * Our choice of bounds; a bore smaller than its lifter by just a clearance is possible only before it is finished.
 */
export const polarityReversed: Rule<Seen> = ({ job, bore, stations, stepCheck, stream }) => {
  if (stepCheck.state === "passed") return NOTHING;
  const why = stepAnsweredBackwards(stepCheck) ?? turnsAtLargest(stream) ?? mirrored(job, stations);
  if (why === null) return NOTHING;
  const { id } = bore.profile;
  return [{ code: "polarity-reversed", text: noticeText.polarityReversed(id, why), where: { gauge: id } }];
};

function stepAnsweredBackwards({ state, offer }: Seen["stepCheck"]): string | null {
  return state === "failed" && offer?.polarity !== undefined ? "it fell when the micrometer was opened" : null;
}

function turnsAtLargest(stream: Seen["stream"]): string | null {
  return stream.turnsAtLargest ? "its sweeps turn at their largest reading, not at their smallest" : null;
}

function mirrored(job: Seen["job"], stations: Seen["stations"]): string | null {
  if (stations.length < FEWEST_STATIONS) return null;
  const { lowNm, highNm } = looseLimits(job);
  const mirroredNm = -median(stations.map((station) => station.overZeroNm));
  if (!(lowNm > 0 && mirroredNm >= lowNm && mirroredNm <= highNm)) return null;
  return "the bores read as far below the zero as they should be above it";
}
