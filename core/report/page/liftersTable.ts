import { lengthCells, rangeText, unitHeads } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { type ReportInput, unitFirstOf } from "./reportInput.ts";

/** More lifters than this are set in columns beside each other. */
const COLUMN = 6;
const MOST_COLUMNS = 3;

/** Every lifter with its diameter as measured. */
export function liftersTable(input: ReportInput): Markup {
  const { lifters } = input.result;
  const first = unitFirstOf(input);
  if (lifters.length === 0) {
    return markup`<p>No lifter was measured: every clearance is against the lifter that the micrometer was set to.</p>`;
  }
  const columns = Math.min(MOST_COLUMNS, Math.ceil(lifters.length / COLUMN));
  const rows = Math.ceil(lifters.length / columns);
  const diameters = lifters.map((lifter) => lifter.diameterNm);
  const head = markup`<th>Lifter</th>${unitHeads(first, "diameter")}<th class="n">readings</th>`;
  const cells = (index: number) => {
    const lifter = lifters[index];
    if (lifter === undefined) return markup`<td colspan="4"></td>`;
    return markup`<th>${personal(lifter.name)}</th>${lengthCells(lifter.diameterNm, first, "diameter")}<td class="n">${lifter.readings}</td>`;
  };
  return markup`<div class="scroll"><table class="together" style="width:${columns === 1 ? 45 : columns === 2 ? 75 : 100}%"><thead><tr>${Array.from({ length: columns }, () => head)}</tr></thead>
<tbody>${Array.from({ length: rows }, (_, row) => markup`<tr>${Array.from({ length: columns }, (_x, column) => cells(column * rows + row))}</tr>`)}</tbody></table></div>
<p class="small">Diameters as the micrometer showed them, from ${rangeText(Math.min(...diameters), Math.max(...diameters), first, "diameter")}. They count in a clearance only as differences between lifters.</p>`;
}
