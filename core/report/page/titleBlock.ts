import { bothUnits, rangeText } from "./lengths.ts";
import { type Markup, markup, type Part, personal } from "./markup.ts";
import { type ReportInput, unitFirstOf } from "./reportInput.ts";
import { dateText, elapsed } from "./times.ts";

/** A line to be filled in by hand. */
export const BLANK = markup`<span class="blank"></span>`;

const WALKS = { bank: "each bank front to rear", firing: "in firing order", own: "in an order of its own" } as const;

/** The number that identifies the report: the shop's own, otherwise the first digits of the record's last seal. */
export function reportNumber({ names, record }: ReportInput): string {
  const own = names?.number?.trim() ?? "";
  return own === "" ? record.seal.slice(0, 12) : own;
}

/** What was measured, by whom, when and against what, in the frame that a drawing has for it. */
export function titleBlock(input: ReportInput): Markup {
  const { job, result, record, names = {}, choices = {} } = input;
  const first = unitFirstOf(input);
  const { limits } = result;
  const cell = (label: string, content: Part, span = 1) =>
    markup`<td colspan="${span}"><span class="label">${label}</span>${content}</td>`;
  const preferred =
    limits.preferredLowNm === null || limits.preferredHighNm === null
      ? null
      : markup`<br>preferred ${rangeText(limits.preferredLowNm, limits.preferredHighNm, first)}`;
  const wear =
    limits.serviceHighNm === null
      ? null
      : markup`<br>wear limit of a used block ${bothUnits(limits.serviceHighNm, first)}`;
  return markup`<table class="titleBlock"><tbody>
<tr><td colspan="3"><h1>Lifter bores: report of measurement</h1>${personal(job.title)}</td>${cell("Report number", personal(reportNumber(input)))}</tr>
<tr>${cell("Block", personal(job.block, BLANK), 2)}${cell("Customer", personal(names.customer ?? "", BLANK), 2)}</tr>
<tr>${cell("Measured by the shop", personal(names.shop ?? "", BLANK))}${cell("Address; place of the work", personal(names.address ?? "", BLANK))}${cell("Measured by", personal(names.operator ?? job.operator, BLANK))}${cell("Received in this condition, on", BLANK)}</tr>
<tr>${cell("Begun", dateText(record.created, choices))}${cell("Last record after, h:min:s", elapsed(record.lastMs))}${cell("Issued", choices.issued === undefined ? BLANK : dateText(choices.issued, choices))}${cell("Results", `${first === "in" ? "in and µm" : "µm and in"}, at 20 °C`)}</tr>
<tr>${cell("Arrangement", markup`${personal(job.layout.title, job.layout.id)}; firing order ${job.layout.firingOrder.join("-")}`, 2)}${cell("Walk", `${job.walk.length} of ${job.layout.bores.length} bores, ${WALKS[job.walkKind]}; ${stationsText(input)}`, 2)}</tr>
<tr>${cell("Lifter", `${job.lifter.style === "flat" ? "flat-faced" : "roller"}, nominal ${bothUnits(job.lifter.nominalNm, first, "diameter")}`)}${cell("Materials", markup`block ${personal(job.materials.block.id)}, lifter ${personal(job.materials.lifter.id)}`)}${cell("Limits on clearance", markup`${rangeText(limits.lowNm, limits.highNm, first)}${preferred}${wear}<br>source: ${personal(limits.source, "not stated")}`, 2)}</tr>
<tr>${cell("Record", `${record.records} records; ${result.seal === "intact" ? "seals hold" : "SEAL BROKEN"}`)}${cell("Made with", personal(record.app))}${cell("Seal of the last record (SHA-256)", markup`<span class="seal">${record.seal}</span>`, 2)}</tr>
</tbody></table>`;
}

function stationsText({ job }: ReportInput): string {
  const count = job.stations.length;
  return `${count} station${count === 1 ? "" : "s"} each`;
}
