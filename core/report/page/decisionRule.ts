import { guardBand } from "./guardBand.ts";
import { bothUnits, rangeText } from "./lengths.ts";
import { type Markup, markup } from "./markup.ts";
import { type ReportInput, type ResultStation, unitFirstOf } from "./reportInput.ts";

/** The station whose U is in the middle of all; null when nothing is measured. */
export function typicalStation({ result }: ReportInput): ResultStation | null {
  const measured = result.bores.flatMap((bore) => bore.stations).filter((station) => station.uncertaintyNm !== null);
  measured.sort((a, b) => (a.uncertaintyNm ?? 0) - (b.uncertaintyNm ?? 0));
  return measured[Math.floor((measured.length - 1) / 2)] ?? null;
}

/** The rule by which the verdicts were made, in words and with its figures. */
export function decisionRule(input: ReportInput): Markup {
  const { result, job } = input;
  const first = unitFirstOf(input);
  const { limits, rule } = result;
  const both =
    "A bore fits only if its smallest and its largest station clearance both do; both ends of the limits belong to the inside.";
  if (rule === "simple") {
    return markup`<p><b>Simple.</b> The smallest and the largest station clearance of a bore are compared with the limits of ${rangeText(limits.lowNm, limits.highNm, first)} as they are; the uncertainty takes no part. ${both} A bore right at a limit is then called wrongly about one time in two (simple acceptance, JCGM 106:2012).</p>`;
  }
  const station = typicalStation(input);
  const guarded = station === null ? null : guardBand(station, limits, job.budget.centringNm);
  const figures =
    station === null || station.uncertaintyNm === null
      ? null
      : guarded === null
        ? markup`<p>At the U of ${bothUnits(station.uncertaintyNm, first)} of the typical station no value at all would be sure enough to be called fits: the gauge, used so, cannot decide this band.</p>`
        : markup`<p>At the U of ${bothUnits(station.uncertaintyNm, first)} of the typical station, a single clearance is called fits from ${rangeText(guarded.lowNm, guarded.highNm, first)}: ${Math.round((100 * (guarded.highNm - guarded.lowNm)) / (limits.highNm - limits.lowNm))} % of the allowed band is left between the guard limits.</p>`;
  return markup`<p><b>Guarded.</b> Limits ${rangeText(limits.lowNm, limits.highNm, first)}. A bore is called fits only if it is inside its limits with a probability of at least 95 %, and too tight or too loose only if it is beyond that limit with at least 95 %; between, it is undecided. ${both} The probability is that of the true clearance, from its measured value and uncertainty (normal distribution, Student’s where the degrees of freedom are few; a gauge off centre reads short, so half of that allowance is added, and a zero taken by single presses makes a clearance short, so its mean excess is). So a verdict that is given is wrong at most one time in twenty. Sources: JCGM 106:2012, 7.3; the figure of 95 % is the default of ISO 14253-1:2017.</p>${figures}`;
}
