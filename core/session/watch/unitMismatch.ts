import type { GaugeProfile } from "../../gauge/profile.ts";
import { NM_PER_INCH, NM_PER_MM } from "../../length/nm.ts";
import { type GaugeUnit, NM_PER } from "../../length/unit.ts";
import { median } from "../../sweep/median.ts";
import { noticeText } from "../noticeText.ts";
import { looseLimits, NOTHING, type Rule, type SeenGauge, type Sight, type Suspicion } from "./sight.ts";

const FACTOR = NM_PER_INCH / NM_PER_MM;
/** Lifters in common use differ from any nominal among them by less than this part (common practice, no source). */
const LIFTER_PART = 0.2;
/** A display's step this many times off the stated graduation is another one, not another digit. Our choice. */
const STEP_TIMES = 5;
/** Two bores of two stations, and so many presses, must look scaled before it is said. Our choice. */
const FEWEST_STATIONS = 4;
const FEWEST_PRESSES = 3;

type Seen = Pick<
  Sight,
  "job" | "bore" | "micrometer" | "lifters" | "stations" | "stepCheck" | "stream" | "farPressesNm"
>;

const OTHER: Readonly<Record<GaugeUnit, GaugeUnit>> = { in: "mm", mm: "in" };
const WORD: Readonly<Record<GaugeUnit, string>> = { in: "inches", mm: "millimetres" };

/**
 * A gauge sends the other unit, inch or millimetre, than its profile says: its readings are 25.4 times off what gauge,
 * job and block allow. Signs: the step check's answer; a lifter 25.4 times its nominal size, or a 25.4th of it; bores
 * whose clearance would suit the limits if it were 25.4 times as much or as little; swings too tall for a rocking; and
 * decimals, or steps of the display, that do not suit the stated graduation in the stated unit but would in the other.
 * Sizes that suit prove the contrary.
 */
export const unitMismatch: Rule<Seen> = (sight) => [...ofMicrometer(sight), ...ofBoreGauge(sight)];

function ofMicrometer({ job, micrometer, lifters }: Seen): readonly Suspicion[] {
  if (micrometer === null) return NOTHING;
  const ratios = lifters.flatMap(({ readings }) => readings.map((nm) => nm / job.lifter.nominalNm));
  const near = (factor: number) => (ratio: number) => Math.abs(ratio / factor - 1) <= LIFTER_PART;
  const last = ratios.at(-1);
  if (last !== undefined && ratios.some(near(1))) return NOTHING;
  if (ratios.some(near(FACTOR)) || ratios.some(near(1 / FACTOR))) {
    return [suspicion(micrometer.profile, "a lifter reads 25.4 times off its nominal size")];
  }
  const why = ratios.length === 0 ? stepOfDisplay(micrometer) : null;
  return why === null ? NOTHING : [suspicion(micrometer.profile, why)];
}

function ofBoreGauge({ job, bore, stations, stepCheck, stream, farPressesNm }: Seen): readonly Suspicion[] {
  if (stepCheck.state === "passed") return NOTHING;
  const { profile } = bore;
  if (stepCheck.state === "failed" && stepCheck.offer?.unit !== undefined) {
    return [suspicion(profile, "its answer to the step check was 25.4 times off")];
  }
  const { lowNm, highNm } = looseLimits(job);
  const suits = (nm: number) => nm >= lowNm && nm <= highNm;
  const clearances = stations.map((station) => station.overZeroNm);
  const middle = median(clearances);
  if (clearances.length > 0 && suits(middle)) return NOTHING;
  if (clearances.length >= FEWEST_STATIONS && lowNm > 0 && (suits(middle * FACTOR) || suits(middle / FACTOR))) {
    return [suspicion(profile, "the bores' clearances are 25.4 times off what the limits allow")];
  }
  // A gauge in the air shows the end of its travel, the same every time; sizes differ.
  const differ = Math.max(...farPressesNm) - Math.min(...farPressesNm) >= profile.resolutionNm;
  if (farPressesNm.length >= FEWEST_PRESSES && differ && farPressesNm.every((nm) => suits(nm / FACTOR))) {
    return [suspicion(profile, "its readings in the bores are 25.4 times what the limits allow")];
  }
  if (stream.tall && profile.unit === "in") {
    return [suspicion(profile, "its swings are taller than a gauge can be rocked in the bore")];
  }
  const why = stepOfDisplay(bore);
  return why === null ? NOTHING : [suspicion(profile, why)];
}

/** Why the digits of a gauge's lines do not suit its stated unit, when they suit the other; null if they do. */
function stepOfDisplay({ profile, decimals, stepNm }: SeenGauge): string | null {
  const { unit, resolutionNm } = profile;
  const off = (step: number) => Math.max(step / resolutionNm, resolutionNm / step);
  // Read in the wrong unit a step is 25.4 times too large or too small.
  const rightly = unit === "in" ? 1 / FACTOR : FACTOR;
  if (decimals !== null) {
    // A last digit counts by ones, twos or fives.
    const steps = [1, 2, 5].map((step) => (step * NM_PER[unit]) / 10 ** decimals);
    const nearest = (scale: number) => Math.min(...steps.map((step) => off(step * scale)));
    if (nearest(1) >= STEP_TIMES && nearest(rightly) < STEP_TIMES / 2) {
      return `it shows ${decimals} decimals, which suit its graduation in ${WORD[OTHER[unit]]} but not in ${WORD[unit]}`;
    }
  }
  if (stepNm !== null && off(stepNm) >= STEP_TIMES && off(stepNm * rightly) < STEP_TIMES / 2) {
    return `its display moves in steps that suit its graduation in ${WORD[OTHER[unit]]} but not in ${WORD[unit]}`;
  }
  return null;
}

function suspicion({ id, unit }: GaugeProfile, why: string): Suspicion {
  const text = noticeText.unitMismatch(id, WORD[OTHER[unit]], WORD[unit], why);
  return { code: "unit-mismatch", text, where: { gauge: id } };
}
