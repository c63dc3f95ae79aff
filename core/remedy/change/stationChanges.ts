import type { StationPlace } from "../../block/layout.ts";
import type { JudgedStation } from "../../fit/advice.ts";
import type { FitInput, MeasuredStation } from "../../fit/finding.ts";
import { coverageFactor } from "../../fit/gum.ts";
import { latestStations, lifterSetAt, sessionScatter, stationClearance } from "../../fit/stationFit.ts";
import { type Side, type Sized, settingMs, stationSources, uncertaintyOf, weighted } from "./errorSources.ts";
import { type LifterNews, type SetLifters, setLifters } from "./setLifters.ts";

/** A place of a bore measured in two sessions, or in one of them. */
export interface StationChange {
  readonly bore: string;
  readonly place: StationPlace;
  /** Diameters, nm at 20 °C, unrounded; the later one on the earlier one's scale where the two can be compared. */
  readonly beforeNm: number | null;
  readonly afterNm: number | null;
  /** Diameter after less before, with its errors; null where one is missing or they can not be compared. */
  readonly change: Sized | null;
  /** U of the change at 95 %, nm; null with it. */
  readonly expandedNm: number | null;
  /** Bores measured under the same settings of the micrometer, before and after, share them. */
  readonly setting: string;
  /** Why there is no change; a whole sentence, null where there is one. */
  readonly why: string | null;
}

interface Measured {
  readonly station: MeasuredStation;
  /** Null when no zero in force holds for it. */
  readonly judged: JudgedStation | null;
  readonly sized: Sized | null;
  readonly setTo: string | null;
}

/**
 * The change of every place that both sessions have, bore by bore in the later one's walking order.
 *
 * Δ = c₂ − c₁ + (D₂ − D₁), with c the bore over the lifter that the micrometer was set to, and D that lifter, all at
 * 20 °C; derived from L = L0 + r in each session. What of the two budgets is left in it: `stationSources`. A gauge off
 * centre is short by a/2 on average in both, so what is left of that is half the difference of the two allowances.
 */
export function stationChanges(
  before: FitInput,
  after: FitInput,
  news: LifterNews = {},
): { readonly stations: readonly StationChange[]; readonly lifters: readonly SetLifters[] } {
  const measured = { before: measuredIn("before", before), after: measuredIn("after", after) };
  const compared = new Map<string, SetLifters>();
  const lifters = (then: string | null, now: string | null): SetLifters => {
    const key = JSON.stringify([then, now]);
    const found = compared.get(key) ?? setLifters(before, after, { before: then, after: now }, news);
    compared.set(key, found);
    return found;
  };
  const stations = after.bores
    .filter((bore) => before.bores.includes(bore))
    .flatMap((bore) =>
      after.places
        .filter((place) => before.places.some((other) => sameplace(place, other)))
        .map((place): StationChange => {
          const then = measured.before(bore, place);
          const now = measured.after(bore, place);
          const sizes = { bore, place, beforeNm: then?.judged?.boreNm ?? null, afterNm: now?.judged?.boreNm ?? null };
          const none = (why: string): StationChange => ({ ...sizes, change: null, expandedNm: null, setting: "", why });
          if (then === null || now === null) {
            return none(
              `Not measured at ${place.height} ${place.clock} in the ${then === null ? "earlier" : "later"} session.`,
            );
          }
          if (then.judged === null || now.judged === null || then.sized === null || now.sized === null) {
            return none(`No zero holds for it in the ${then.judged === null ? "earlier" : "later"} session.`);
          }
          const { difference, text } = lifters(then.setTo, now.setTo);
          if (difference === null) return none(text);
          const offCentre = (after.budget.centringNm - before.budget.centringNm) / 2;
          const change = weighted([
            { size: now.sized, weight: 1 },
            { size: then.sized, weight: -1 },
            { size: difference, weight: 1 },
            { size: { valueNm: offCentre, sources: [] }, weight: 1 },
          ]);
          const { u, degreesOfFreedom } = uncertaintyOf(change);
          return {
            ...sizes,
            afterNm: then.judged.boreNm + change.valueNm,
            change,
            expandedNm: coverageFactor(0.95, degreesOfFreedom) * u,
            setting: `${settingMs(before, then.station.tMs)} ${settingMs(after, now.station.tMs)}`,
            why: null,
          };
        }),
    );
  return { stations, lifters: [...compared.values()] };
}

export function sameplace(one: StationPlace, other: StationPlace): boolean {
  return one.height === other.height && one.clock === other.clock;
}

function measuredIn(side: Side, input: FitInput): (bore: string, place: StationPlace) => Measured | null {
  const scatter = sessionScatter(input);
  return (bore, place) => {
    const station = latestStations(input, bore).find((one) => sameplace(one.place, place));
    if (station === undefined) return null;
    // The reference lifter stands for any: then the micrometer's scale is in nothing.
    const judged = stationClearance(input, station, scatter, { name: null, diameterNm: null });
    const sized =
      judged === null
        ? null
        : { valueNm: judged.clearanceNm, sources: stationSources(side, input, scatter, station, judged) };
    return { station, judged, sized, setTo: lifterSetAt(input, station.tMs) };
  };
}
