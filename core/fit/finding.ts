import type { StationPlace } from "../block/layout.ts";
import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";
import type { Sweep } from "../sweep/sweep.ts";
import type { JudgedReference } from "../zero/reference.ts";

/** Limits on clearance, nm at 20 °C, both included. */
export interface Limits {
  readonly lowNm: Nm;
  readonly highNm: Nm;
  readonly preferredLowNm: Nm | null;
  readonly preferredHighNm: Nm | null;
  /** Wear limit of a used block, or null. */
  readonly serviceHighNm: Nm | null;
  readonly source: string;
}

export type Rule = "simple" | "guarded";

export type Verdict = "fits" | "too tight" | "too loose" | "undecided" | "not measured";

/** A material's linear expansion: coefficient and half-width of its rectangular uncertainty, both in 1e-6 per °C. */
export interface Material {
  readonly id: string;
  readonly alpha: number;
  readonly alphaHalfWidth: number;
  readonly source: string;
}

/** Entries of the uncertainty budget a user may change; lengths in nm. File-level defaults live beside the budget. */
export interface BudgetSettings {
  /** Maximum error of the indicator over the small travel used, half-width, rectangular. */
  readonly indicatorNm: Nm;
  /** Transfer through the micrometer (faces, feel), standard uncertainty. */
  readonly transferNm: Nm;
  /** Micrometer's maximum error, half-width, rectangular; counts twice when another lifter than the one set is meant. */
  readonly micrometerNm: Nm;
  /** Centring of the gauge, one-sided, rectangular, full width. */
  readonly centringNm: Nm;
  /** Half-width about 20 °C assumed when no temperature was measured, °C, rectangular. */
  readonly temperatureHalfWidthC: number;
  /** Maximum error of the thermometer on block and lifter, half-width, °C, rectangular; absent takes the default. */
  readonly thermometerHalfWidthC?: number;
}

/** A closed station as measured; sweeps include the struck and set-aside ones. */
export interface MeasuredStation {
  readonly bore: string;
  readonly place: StationPlace;
  /** When it closed. */
  readonly tMs: Ms;
  readonly valueNm: Nm;
  readonly spreadNm: Nm;
  readonly sweeps: readonly Sweep[];
}

/** Temperatures in force from `tMs` on, °C; null = not measured. */
export interface Temperatures {
  readonly tMs: Ms;
  readonly blockC: number | null;
  readonly lifterC: number | null;
}

/** Everything a finding is computed from. */
export interface FitInput {
  readonly bores: readonly string[];
  readonly places: readonly StationPlace[];
  readonly stations: readonly MeasuredStation[];
  readonly references: readonly JudgedReference[];
  /** Measured lifter diameters by the bore each was measured for (spare ones by their own name); nm. */
  readonly lifters: ReadonlyMap<string, Nm>;
  /** Which lifter is meant for a bore, where it is another than its own; by bore, lifters named as in `lifters`. */
  readonly fitted?: ReadonlyMap<string, string>;
  readonly nominalLifterNm: Nm;
  readonly limits: Limits;
  readonly rule: Rule;
  readonly sends: "stream" | "press" | "held";
  /** Resolution of the bore gauge and of the micrometer, nm. */
  readonly resolutionNm: Nm;
  readonly micrometerResolutionNm: Nm;
  /** Gain of the bore gauge from a gain check; 1 unless one was done. */
  readonly gain: number;
  readonly materials: { readonly block: Material; readonly lifter: Material };
  readonly temperatures: readonly Temperatures[];
  readonly budget: BudgetSettings;
  /**
   * Where the smallest reading of a sweep stands for its turning point: how far the two lie apart, root mean square, nm,
   * in the bores and in the micrometer. Absent where turning points count.
   */
  readonly sampling?: { readonly boreNm: number; readonly zeroNm: number };
}

/** One line of an uncertainty budget. */
export interface BudgetLine {
  readonly name: string;
  /** Standard uncertainty of the input, in `unit`. */
  readonly u: number;
  readonly unit: "nm" | "°C" | "1e-6/°C" | "1";
  readonly distribution: "normal" | "rectangular" | "one-sided rectangular" | "one-sided exponential";
  /** Degrees of freedom; Infinity for a type B line taken as exact. */
  readonly degreesOfFreedom: number;
  /** |sensitivity|·u, nm. */
  readonly contributionNm: number;
  /** Its part of the combined variance, 0 … 1. */
  readonly share: number;
}

export interface StationFinding {
  readonly bore: string;
  readonly place: StationPlace;
  readonly station: MeasuredStation;
  /** Null when no reference in force holds for it (not zeroed, or the zero moved). */
  readonly clearanceNm: Nm | null;
  /** Expanded uncertainty at `coverage`, nm; null with the clearance. */
  readonly uncertaintyNm: Nm | null;
  readonly coverage: number;
  readonly degreesOfFreedom: number;
  /** Combined standard uncertainty, nm; 0 with an empty budget. */
  readonly standardUncertaintyNm: number;
  readonly budget: readonly BudgetLine[];
}

export interface BoreFinding {
  readonly name: string;
  readonly stations: readonly StationFinding[];
  /** The lifter its clearances are taken against, named after the bore it was measured for; null for the reference lifter. */
  readonly lifter: string | null;
  readonly clearanceMinNm: Nm | null;
  readonly clearanceMaxNm: Nm | null;
  /** Range over heights of the mean over clocks, nm, not negative; null with fewer than two heights. */
  readonly taperNm: Nm | null;
  readonly taperUncertaintyNm: Nm | null;
  /** Range over clocks at a height, largest of the heights; null with fewer than two clocks. */
  readonly outOfRoundNm: Nm | null;
  readonly outOfRoundUncertaintyNm: Nm | null;
  readonly verdict: Verdict;
  readonly preferred: boolean;
  /** Probability, 0 … 1, that what the verdict says is true (for `undecided`: that the bore is inside its limits); null when not measured. */
  readonly confidence: number | null;
  /** Probability, 0 … 1, that the smallest clearance is below the limits; null when not measured. */
  readonly tooTightProbability: number | null;
  /** Probability, 0 … 1, that the largest clearance is above the limits; null when not measured. */
  readonly tooLooseProbability: number | null;
  /** With `undecided`: what would decide it, in a sentence or two. */
  readonly advice: string | null;
  /** Where the bore stands against the wear limit of a used block, in a sentence; null without one or when it fits. */
  readonly wear: string | null;
}
