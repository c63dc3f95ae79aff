import type { Comparison } from "../comparisonSchema.ts";
import { lengthCells, lengthHead, type UnitFirst, unitHeads } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { type DateChoice, dateText } from "./times.ts";
import { verdictWords } from "./verdictMark.ts";

type ComparedBore = Comparison["bores"][number];

/** What became of each bore between two sessions of one block. */
export function comparisonPart(comparison: Comparison, first: UnitFirst, dates: DateChoice): Markup {
  const named = ({ title, block, created }: Comparison["before"]) =>
    markup`${personal([title, block].filter((text) => text !== "").join(", "), "not named")}, ${dateText(created, dates)}`;
  return markup`<p>Before: ${named(comparison.before)}. After: ${named(comparison.after)}. A change is the diameter after less the diameter before: positive where metal was cut or worn away.</p>
<div class="scroll"><table><thead><tr><th>Bore</th><th colspan="2">Station</th>${lengthHead("Before")}${lengthHead("After")}${lengthHead("Change")}${lengthHead("U, 95 %")}<th>Verdict</th></tr>
<tr><td></td><th>height</th><th>clock</th>${unitHeads(first)}${unitHeads(first)}${unitHeads(first)}${unitHeads(first)}<th>before, after</th></tr></thead>
${comparison.bores.map((bore) => boreRows(bore, first))}</table></div>
${comparison.notes.length === 0 ? null : markup`<ul>${comparison.notes.map((note) => markup`<li>${note}</li>`)}</ul>`}`;
}

function boreRows(bore: ComparedBore, first: UnitFirst): Markup {
  const rows = Math.max(1, bore.stations.length);
  const verdicts = markup`<td rowspan="${rows}">${verdictWords(bore.verdictBefore)}<br>${verdictWords(bore.verdictAfter)}</td>`;
  return markup`<tbody class="whole">${bore.stations.map(
    (station, index) =>
      markup`<tr>${index === 0 ? markup`<th rowspan="${rows}">${bore.name}</th>` : null}<td${station.height.length > 12 ? markup` class="words"` : null}>${personal(station.height)}</td><td>${station.clock}</td>${lengthCells(station.beforeNm, first)}${lengthCells(station.afterNm, first)}${lengthCells(station.changeNm, first)}${lengthCells(station.uncertaintyNm, first)}${index === 0 ? verdicts : null}</tr>`,
  )}<tr><td></td><td colspan="11" class="small">${bore.attention ? markup`<b>Look at it:</b> ` : null}${bore.text}</td></tr></tbody>`;
}
