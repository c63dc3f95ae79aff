import { formatLength } from "../../length/formatLength.ts";
import { toNm } from "../../length/nm.ts";
import { typicalStation } from "./decisionRule.ts";
import { bothUnits, inches, rangeText } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { freedomText } from "./percent.ts";
import { type ReportInput, type ResultBore, type ResultStation, unitFirstOf } from "./reportInput.ts";

/** The budget that is printed: of the station farthest outside, or of the one nearest to its limits. */
function shownStation({ result }: ReportInput): { readonly bore: ResultBore; readonly station: ResultStation } | null {
  const middle = (result.limits.lowNm + result.limits.highNm) / 2;
  let shown: { bore: ResultBore; station: ResultStation } | null = null;
  let farthest = -1;
  for (const bore of result.bores) {
    for (const station of bore.stations) {
      if (station.clearanceNm === null || station.budget.length === 0) continue;
      const far = Math.abs(station.clearanceNm - middle);
      if (far <= farthest) continue;
      farthest = far;
      shown = { bore, station };
    }
  }
  return shown;
}

/** What the uncertainty is made of, line by line (JCGM 100:2008), at the station that lies farthest from the middle. */
export function uncertainty(input: ReportInput): Markup {
  const shown = shownStation(input);
  const first = unitFirstOf(input);
  if (shown === null) return markup`<p>No clearance was measured, so there is no budget.</p>`;
  const { bore, station } = shown;
  const all = input.result.bores
    .flatMap((one) => one.stations)
    .flatMap(({ uncertaintyNm: u }) => (u === null ? [] : [u]));
  const typical = typicalStation(input)?.uncertaintyNm ?? 0;
  const combined = Math.hypot(...station.budget.map((line) => line.contributionNm));
  return markup`<p>U is the expanded uncertainty for 95 % coverage: the combined standard uncertainty times Student’s factor at the effective degrees of freedom (GUM, JCGM 100:2008; Welch–Satterthwaite, G.4.1). Over all stations U goes from ${rangeText(Math.min(...all), Math.max(...all), first)}; in the middle it is ${bothUnits(typical, first)}. The budget below is that of the station farthest from the middle of the limits; ν is the degrees of freedom.</p>
<div class="scroll"><table class="together budget"><caption>Bore ${bore.name}, ${personal(station.height)}, ${station.clock}: ${bothUnits(station.clearanceNm ?? 0, first)}</caption>
<thead><tr><th>Line</th><th>Standard uncertainty</th><th class="n">ν</th><th class="n">In clearance, µm</th><th class="n">Share</th></tr></thead>
<tbody>${station.budget.map(
    (line) =>
      markup`<tr><td>${line.name}</td><td>${inputText(line.u, line.unit)}, ${line.distribution}</td><td class="n">${freedomText(line.degreesOfFreedom)}</td><td class="n">${hundredths(line.contributionNm)}</td><td>${share(line.share)}</td></tr>`,
  )}</tbody>
<tfoot><tr><th colspan="2">Combined</th><td class="n">${freedomText(station.degreesOfFreedom)}</td><td class="n">${hundredths(combined)}</td><td></td></tr>
<tr><th colspan="2">Expanded, ${Math.round(station.coverage * 100)} %</th><td></td><td class="n">${hundredths(station.uncertaintyNm ?? 0)}</td><td class="n">${inches(station.uncertaintyNm)} in</td></tr></tfoot>
</table></div>`;
}

/** Thousandths of a millimetre with two places. */
function hundredths(nm: number): string {
  return formatLength(toNm(nm), "um", 2);
}

function inputText(u: number, unit: string): string {
  if (unit === "nm") return `${hundredths(u)} µm`;
  if (unit === "1e-6/°C") return `${u.toPrecision(2)} · 10⁻⁶/°C`;
  return unit === "1" ? u.toPrecision(2) : `${u.toPrecision(2)} ${unit}`;
}

/** A share of the variance as a figure and a bar. */
function share(part: number): Markup {
  const percent = Math.min(100, Math.max(0, part * 100));
  return markup`<span class="share">${percent.toFixed(0)} %<svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true"><rect width="${percent.toFixed(1)}" height="10"/></svg></span>`;
}
