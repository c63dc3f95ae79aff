import type { Comparison } from "../comparisonSchema.ts";
import { inwards } from "../sheetLength.ts";
import { lengthCells, lengthHead, type UnitFirst, unitHeads } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { type DateChoice, dateText } from "./times.ts";
import { verdictWords } from "./verdictMark.ts";

type ComparedBore = Comparison["bores"][number];

/** What became of each bore between two sessions of one block. */
export function comparisonPart(comparison: Comparison, first: UnitFirst, dates: DateChoice): Markup {
  const named = ({ title, block, created }: Comparison["before"]) =>
    markup`${personal([title, block].filter((text) => text !== "").join(", "), "not named")}, ${dateText(created, dates)}`;
  return markup`<p>Before: ${named(comparison.before)}. After: ${named(comparison.after)}. A change is the diameter after less the diameter before: positive where metal was cut or worn away. Sizes of the bores are as good as the micrometer’s scale.</p>
<div class="scroll"><table class="bores"><thead><tr><th>Bore</th><th colspan="2">Station</th>${lengthHead("Bore before")}${lengthHead("Bore after")}${lengthHead("Change")}${lengthHead("U, 95 %")}<th>Verdict</th></tr>
<tr><td></td><th>height</th><th>clock</th>${unitHeads(first, "diameter")}${unitHeads(first, "diameter")}${unitHeads(first)}${unitHeads(first)}<th>before, after</th></tr></thead>
${comparison.bores.map((bore) => boreRows(bore, first))}</table></div>
${comparison.notes.length === 0 ? null : markup`<ul>${comparison.notes.map((note) => markup`<li>${note}</li>`)}</ul>`}`;
}

function boreRows(bore: ComparedBore, first: UnitFirst): Markup {
  const rows = Math.max(1, bore.stations.length);
  const verdicts = markup`<td rowspan="${rows}">${verdictWords(bore.verdictBefore)}<br>${verdictWords(bore.verdictAfter)}</td>`;
  return markup`<tbody class="whole">${bore.stations.map(
    (station, index) =>
      markup`<tr>${index === 0 ? markup`<th rowspan="${rows}">${bore.name}</th>` : null}<td${station.height.length > 12 ? markup` class="words"` : null}>${personal(station.height)}</td><td>${station.clock}</td>${lengthCells(station.beforeNm, first, "diameter")}${lengthCells(station.afterNm, first, "diameter")}${lengthCells(station.changeNm, first)}${lengthCells(station.uncertaintyNm, first)}${index === 0 ? verdicts : null}</tr>`,
  )}<tr><td></td><td colspan="11" class="small">${bore.attention ? markup`<b>Look at it:</b> ` : null}${bore.text}${plannedText(bore)}</td></tr></tbody>`;
}

/** The finished size it was planned for, as the machine shop's sheet has it. */
function plannedText({ finishLowNm, finishHighNm }: ComparedBore): string {
  if (finishLowNm === undefined || finishHighNm === undefined) return "";
  const { from, to } = inwards(finishLowNm, finishHighNm);
  return ` Planned to finish between ${from.inches} and ${to.inches} in (${from.mm} and ${to.mm} mm).`;
}
