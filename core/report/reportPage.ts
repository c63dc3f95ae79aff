import { cautions, method, signatures, standing } from "./page/aboutReport.ts";
import { boresTable } from "./page/boresTable.ts";
import { comparisonPart } from "./page/comparisonPart.ts";
import { decisionRule } from "./page/decisionRule.ts";
import { deviations } from "./page/deviations.ts";
import { feelCheck } from "./page/feelCheck.ts";
import { gaugesAndChecks } from "./page/gaugesAndChecks.ts";
import { liftersTable } from "./page/liftersTable.ts";
import { type Markup, markup } from "./page/markup.ts";
import { noticesTable } from "./page/noticesTable.ts";
import { outcome } from "./page/outcome.ts";
import { pairingPart } from "./page/pairingPart.ts";
import { remedyPart } from "./page/remedyPart.ts";
import { type ReportInput, unitFirstOf } from "./page/reportInput.ts";
import { stripCharts } from "./page/stripChart.ts";
import { styleSheet } from "./page/style.ts";
import { reportNumber, titleBlock } from "./page/titleBlock.ts";
import { uncertainty } from "./page/uncertainty.ts";

export type { RecordedRemark, ReportInput } from "./page/reportInput.ts";

interface Section {
  readonly title: string;
  readonly content: Markup;
  /** Begins on a page of its own when printed. */
  readonly onNewPage?: boolean;
}

/** Letters of a title that fit into the margin of a page. */
const SHORT = 48;

/**
 * The report as one HTML page that needs nothing but itself: no script, no picture, no font and no address from
 * outside, and a content policy that forbids them. Everything a person wrote is escaped. It prints on A4 and Letter; the
 * seal of the record and "Page x of y" stand in the margins where the browser has margin boxes (Chromium since 131,
 * Safari since 18.2), and the seal at the head of the first page everywhere.
 *
 * Contents: those of a report of calibration by ISO/IEC 17025:2017, 7.8.2.1 (read at second hand), 7.8.4.1 and 7.8.6.2 (from memory),
 * without a claim to accreditation; what the record cannot know is a line to be filled in by hand.
 *
 * @throws RangeError for a locale or time zone that there is not.
 */
export function reportPage(input: ReportInput): string {
  const { result, job, record } = input;
  const warning = warningOf(input);
  const name = `Report ${short(reportNumber(input))}${subject(input) === "" ? "" : ` · ${short(subject(input))}`}`;
  const page = markup`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="only light">
<title>Lifter bores: ${subject(input) === "" ? reportNumber(input) : subject(input)}</title>
${styleSheet({ name, seal: record.seal, warning })}
</head>
<body>
${result.simulated ? markup`<div class="watermark" aria-hidden="true"><span>SIMULATED</span></div>` : null}
<main>
${warnings(input)}
${titleBlock(input)}
${sections(input).map(
  ({ title, content, onNewPage }, index) => markup`<section${onNewPage === true ? markup` class="onNewPage"` : null}>
<h2>${index + 1}  ${title}</h2>
${content}
</section>
`,
)}
<p class="end small">End of the report${job.title === "" ? null : markup` on <bdi>${job.title}</bdi>`}. Seal of its record: <span class="seal">${record.seal}</span></p>
</main>
</body>
</html>
`;
  return page.text;
}

function subject({ job }: ReportInput): string {
  return [job.title, job.block].filter((text) => text.trim() !== "").join(", ");
}

/** Cuts a long text for the margin; the whole of it stands on the first page. */
function short(text: string): string {
  const letters = [...text];
  return letters.length <= SHORT ? text : `${letters.slice(0, SHORT - 1).join("")}…`;
}

function warningOf({ result, study }: ReportInput): string | null {
  const all = [
    result.simulated ? "SIMULATED: proves nothing about a block" : null,
    result.seal === "broken" ? "SEAL BROKEN" : null,
    study ? "GAUGE STUDY" : null,
  ].filter((text) => text !== null);
  return all.length === 0 ? null : all.join(" · ");
}

function warnings({ result, study }: ReportInput): Markup {
  return markup`${
    result.simulated
      ? markup`<p class="loud"><strong>SIMULATED</strong><br>Simulated gauges were connected in this session. Nothing was measured; this proves nothing about a block.</p>`
      : null
  }${
    result.seal === "broken"
      ? markup`<p class="loud"><strong>SEAL BROKEN</strong><br>The record was changed or damaged after it was written. What this report says is not proven by it.</p>`
      : null
  }${
    study
      ? markup`<p class="loud"><strong>GAUGE STUDY</strong><br>The stations of this session are people and repeats at one place. They say nothing about a block, and no verdict is printed; what they say of the gauge stands in the study’s own report.</p>`
      : null
  }`;
}

function sections(input: ReportInput): Section[] {
  const { result, pairing, remedy, comparison, choices = {}, study } = input;
  const first = unitFirstOf(input);
  const list: (Section | null)[] = [
    study ? null : { title: "Outcome", content: outcome(input) },
    { title: "Bores, station by station", content: boresTable(input), onNewPage: !study },
    study
      ? null
      : {
          title: "Clearances against the limits",
          content: markup`${stripCharts(result, first)}<p class="small">In the order of the walk. Discs: axial, squares: cross; the stroke through each is its U at 95 %; an arrowhead lies off the chart.</p>`,
        },
    { title: "Method", content: method(input) },
    study ? null : { title: "Decision rule", content: decisionRule(input) },
    { title: "Uncertainty", content: uncertainty(input) },
    { title: "Lifters", content: liftersTable(input) },
    { title: "Gauges, zero and checks", content: gaugesAndChecks(input) },
    { title: "Deviations from the method as planned", content: deviations(input) },
    { title: "Notices", content: noticesTable(input) },
    study || comparison === undefined
      ? null
      : { title: "Before and after", content: comparisonPart(comparison, first, choices) },
    study || pairing === undefined
      ? null
      : { title: "Pairing of lifters with bores", content: pairingPart(pairing, first) },
    study || remedy === undefined
      ? null
      : { title: "Remedy", content: remedyPart(remedy, input.job, first, pairing !== undefined) },
    { title: "Cautions", content: cautions(input) },
    { title: "What this report is", content: standing() },
    study ? null : { title: "Feel check by hand, with oil", content: feelCheck(input), onNewPage: true },
    { title: "Signatures", content: signatures(input) },
  ];
  return list.filter((section) => section !== null);
}
