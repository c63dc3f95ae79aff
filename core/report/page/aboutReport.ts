import { bothUnits } from "./lengths.ts";
import { type Markup, markup } from "./markup.ts";
import { type ReportInput, unitFirstOf } from "./reportInput.ts";

/** How it was measured, in words: the method that the results rest on. */
export function method(input: ReportInput): Markup {
  const { job } = input;
  const sends = job.gauges.find((gauge) => gauge.role === "bore")?.sends ?? "stream";
  const value = {
    stream: "the median of its sweeps, each at the turning point fitted through its smallest readings",
    press: "the smallest of its presses",
    held: "the median of the minima that the gauge held",
  }[sends];
  return markup`<p>By comparison. A micrometer is set to a lifter and locked; a two-point bore gauge is rocked in it, and its smallest reading is the zero. The gauge is then rocked in each bore; what it shows there over its zero is the clearance: clearance = g · (reading in the bore − zero) + (diameter of the lifter set − diameter of the lifter meant), g being the gain of the gauge. A station closes when its last ${job.sweepsPerStation} sweeps lie within ${bothUnits(job.agreementNm, unitFirstOf(input))} of each other; its value is ${value}. Every raw line of every gauge is in the sealed record, and reading it again gives these results.</p>`;
}

/** What the report is and is not. */
export function standing(): Markup {
  return markup`<p>This report contains what ISO/IEC 17025:2017, clause 7.8, asks of a report of calibration, as far as the record and the lines filled in by hand go. It claims no accreditation: no accreditation body has assessed the method or the shop through this program, and the report is no accredited certificate. Traceability to the metre rests on the calibration of the micrometer and the gauge named above; the program does not know it, and where those lines are empty it is not shown. The clearances are differences, and rest on the gauge over a small travel and on the micrometer’s faces.</p>
<p>The results hold only for the block and the lifters named above, as they were when measured. The report is to be passed on whole. Nothing in it comes from another provider unless a line filled in by hand says so.</p>`;
}

const CAUTIONS = [
  "A two-point gauge cannot see three-lobed form.",
  "This report says what was measured, how well, and how it compares with stated limits. It does not say that an engine is safe to run.",
  "Wall thickness, place of the oil holes, and place and squareness of the bores were not measured.",
];
/** Where no remedy brings its own. */
const WORK_CAUTIONS = [
  "The lifter or cam maker’s sheet comes before every limit printed here, and the machinist’s judgement before every figure for planning.",
  "Honing dust, solvents, compressed air, heavy castings and spinning tools hurt people: eye and hearing protection, lifting gear and ventilation; local rules and licensed practice come first.",
];

/** What can hurt the engine or the person. */
export function cautions({ remedy }: Pick<ReportInput, "remedy">): Markup {
  const all = [...CAUTIONS, ...(remedy?.cautions ?? WORK_CAUTIONS)];
  return markup`<ul>${all.map((text) => markup`<li>${text}</li>`)}</ul>`;
}

/** Who stands for it, on paper. */
export function signatures({ names, job }: ReportInput): Markup {
  const operator = names?.operator ?? job.operator;
  const rows = [
    { role: "Measured by", name: operator },
    { role: "Checked and issued by", name: "" },
    { role: "Received by", name: "" },
  ];
  return markup`<table class="signatures together"><thead><tr><td style="width:24%"></td><th>Name</th><th style="width:20%">Date</th><th style="width:30%">Signature</th></tr></thead><tbody>${rows.map(
    ({ role, name }) => markup`<tr><th>${role}</th><td><bdi>${name}</bdi></td><td></td><td></td></tr>`,
  )}</tbody></table>`;
}
