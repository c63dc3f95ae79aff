import { formatLength } from "../length/formatLength.ts";
import { NM_PER_INCH, NM_PER_MM, type Nm, toNm } from "../length/nm.ts";
import type { GaugeUnit } from "../length/unit.ts";

/** A step of known size, as the micrometer was opened and as the gauge in it answered. */
export interface StepInput {
  /** Gauge in the micrometer before and after it was opened, nm, signed, the profile's polarity applied. */
  readonly beforeNm: Nm;
  readonly afterNm: Nm;
  /** How far the micrometer was opened, nm, positive. */
  readonly openedNm: Nm;
  /** Smallest step of the gauge's display as its profile has it, nm, positive. */
  readonly resolutionNm: Nm;
  /** Unit that the profile reads the gauge's lines in. */
  readonly unit: GaugeUnit;
}

/** What an answer to a step shows of the gauge and its profile, and what would mend it. */
export interface StepAnswer {
  readonly passed: boolean;
  /** Change of reading, nm, signed. */
  readonly answerNm: Nm;
  /** What it shows and what to do. */
  readonly text: string;
  /** A correction of the profile that would make the answer right; null if there is none to offer. */
  readonly offer: {
    /** The gauge counts the other way than its profile says. */
    readonly flipPolarity?: true;
    readonly unit?: GaugeUnit;
    /** True change of size over change of reading, positive, 0.75 to 1.25, both included. */
    readonly gain?: number;
  } | null;
}

/** How well a hand sets a micrometer to a graduation: half of 0.0001 in (common practice, no source). */
const SETTING_NM = 1270;
/** A gain is only worth having from a step this large: 0.005 in. */
const GAIN_STEP_NM = 127_000;
/** A gain further from 1 than this is no gain of an indicator: something else is wrong. */
const GAIN_RANGE = 0.25;
const INCH_IN_MM = NM_PER_INCH / NM_PER_MM;

/** How far the answer to a small step may be from it, as a share of the step: a gauge that stood still must not pass. */
const LARGEST_SHARE = 0.4;

/**
 * How far an answer may be from the step and still pass, nm, positive, included: `2·setting + 1.5·resolution` (our
 * choice: the hand's setting of both ends, and the rounding of both readings), and at most `LARGEST_SHARE` of the step.
 * For a gauge of 0.00005 in that is 4.4 µm at 0.001 in, against the 50.8 µm that a wrong sign would be off and the 620 µm
 * of a wrong unit.
 * @param openedNm how far the micrometer was opened, nm, positive.
 * @param resolutionNm smallest step of the gauge's display, nm, positive.
 */
export function stepToleranceNm(openedNm: number, resolutionNm: number): number {
  return Math.min(2 * SETTING_NM + 1.5 * resolutionNm, LARGEST_SHARE * openedNm);
}

/**
 * Judges the answer to a step of known size: one touch proves polarity, unit and that no hold function is on. It proves
 * the gain only to within `stepToleranceNm` over the step: with a display of 0.00005 in to 17.5 % by a step of 0.001 in,
 * and to 3.5 % by one of 0.005 in.
 * @throws RangeError if the step is not positive.
 */
export function judgeStep({ beforeNm, afterNm, openedNm, resolutionNm, unit }: StepInput): StepAnswer {
  if (!(openedNm > 0)) throw new RangeError(`the step must be a positive length, found ${openedNm} nm`);
  const answerNm = toNm(afterNm - beforeNm);
  const toleranceNm = stepToleranceNm(openedNm, resolutionNm);
  const step = show(openedNm, unit);
  const change = show(answerNm, unit);
  const near = (expected: number, within: number) => Math.abs(answerNm - expected) <= within;

  if (near(openedNm, toleranceNm)) {
    const gain = gainOf(answerNm, openedNm);
    // A gain is offered only where it is larger than what the setting alone explains.
    if (gain !== null && Math.abs(answerNm - openedNm) > SETTING_NM + resolutionNm / 2) {
      return {
        passed: true,
        answerNm,
        text: `The gauge answered ${change} to a step of ${step}: right way and right unit. Its gain would be ${gain.toFixed(4)}; take it if the step was set with care.`,
        offer: { gain },
      };
    }
    return {
      passed: true,
      answerNm,
      text: `The gauge answered ${change} to a step of ${step}: right way, right unit, no hold.`,
      offer: null,
    };
  }
  if (near(-openedNm, toleranceNm)) {
    return {
      passed: false,
      answerNm,
      text: `The gauge went the wrong way: ${change} for a step of ${step}. It counts opposite to its profile; turn its polarity round here, or flip the switch on the indicator, and do not change both.`,
      offer: { flipPolarity: true },
    };
  }

  const other: GaugeUnit = unit === "in" ? "mm" : "in";
  // A line of the other unit is too large by 25.4 when millimetres are read as inches, too small the other way round.
  const factor = unit === "in" ? INCH_IN_MM : 1 / INCH_IN_MM;
  const unitTolerance = Math.min(2 * SETTING_NM * factor + 1.5 * resolutionNm, LARGEST_SHARE * openedNm * factor);
  // A flicker of one count must not pass for a small answer in the other unit.
  const legible = resolutionNm <= 0.6 * openedNm * factor;
  for (const sign of [1, -1] as const) {
    if (!legible || !near(sign * openedNm * factor, unitTolerance)) continue;
    const turned = sign === -1 ? " It also went the wrong way." : "";
    return {
      passed: false,
      answerNm,
      text: `The gauge answered ${change} to a step of ${step}, 25.4 times too ${unit === "in" ? "much" : "little"}: it sends ${UNIT_WORD[other]} and is read as ${UNIT_WORD[unit]}.${turned} Change the unit here or on the gauge.`,
      offer: sign === 1 ? { unit: other } : { unit: other, flipPolarity: true },
    };
  }

  if (Math.abs(answerNm) <= Math.max(toleranceNm / 2, 2 * resolutionNm)) {
    const orUnit =
      unit === "mm" ? ", or the other unit chosen on the display (inches read as millimetres hardly move)" : "";
    return {
      passed: false,
      answerNm,
      text: `The gauge did not answer a step of ${step} (it changed by ${change}). Look for a minimum or hold function left on, a contact that does not touch, or the wrong gauge${orUnit}; then rock it once more.`,
      offer: null,
    };
  }
  const gain = gainOf(answerNm, openedNm);
  if (gain !== null) {
    return {
      passed: false,
      answerNm,
      text: `The gauge answered ${change} to a step of ${step}: right way, but the wrong amount. Its gain would be ${gain.toFixed(4)}. Set the step again with care; if the answer stays, take the gain.`,
      offer: { gain },
    };
  }
  return {
    passed: false,
    answerNm,
    text: `The gauge answered ${change} to a step of ${step}, which fits neither a wrong sign nor a wrong unit. Check that the micrometer was opened by ${step}, that it is locked, and rock the gauge once more.`,
    offer: null,
  };
}

const UNIT_WORD: Readonly<Record<GaugeUnit, string>> = { in: "inches", mm: "millimetres" };

function gainOf(answerNm: number, openedNm: number): number | null {
  if (openedNm < GAIN_STEP_NM) return null;
  const gain = openedNm / answerNm;
  return Math.abs(gain - 1) <= GAIN_RANGE ? gain : null;
}

function show(lengthNm: Nm, unit: GaugeUnit): string {
  return `${formatLength(lengthNm, unit, unit === "in" ? 5 : 4)} ${unit}`;
}
