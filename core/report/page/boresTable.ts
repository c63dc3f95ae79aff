import type { Result } from "../result.ts";
import { inches, lengthCells, lengthHead, micrometres, type UnitFirst, unitHeads } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { percentText } from "./percent.ts";
import { type ReportInput, type ResultBore, unitFirstOf } from "./reportInput.ts";
import { verdictWords } from "./verdictMark.ts";

/** Every station of every bore with its clearance and uncertainty, the form of the bore and its verdict. */
export function boresTable(input: ReportInput): Markup {
  const { result, wear } = input;
  const first = unitFirstOf(input);
  const below = first === "in" ? "in, below µm" : "µm, below in";
  const advised = result.bores.filter((bore) => bore.advice !== null);
  const worn = result.bores.flatMap((bore) => {
    const text = wear[bore.name];
    return text === undefined ? [] : [{ name: bore.name, text }];
  });
  return markup`<div class="scroll"><table>
<thead><tr><th>Bore</th><th>Lifter</th><th colspan="2">Station</th>${lengthHead("Clearance")}${lengthHead("U, 95 %")}<th class="n">Sweeps</th><th class="n">Taper ± U</th><th class="n">Out-of-round ± U</th><th>Verdict</th></tr>
<tr><th></th><th></th><th>height</th><th>clock</th>${unitHeads(first)}${unitHeads(first)}<th class="n">kept</th><th class="n">${below}</th><th class="n">${below}</th><th>how sure</th></tr></thead>
${result.bores.map((bore) => boreRows(bore, referenceLifter(result), first))}
</table></div>
<p class="small">Clearance is bore less lifter on diameter, at 20 °C. Axial: the contacts along the crankshaft; cross: across it. Sweeps: kept of all that were made. Taper: range over the heights; out-of-round: range over the clock directions of a height, the largest of them. A two-point gauge cannot see three-lobed form.</p>
${advised.length === 0 ? null : markup`<h3>What would decide the undecided</h3><ul>${advised.map((bore) => markup`<li><b>${bore.name}</b>: ${bore.advice}</li>`)}</ul>`}
${worn.length === 0 ? null : markup`<h3>Against the wear limit of a used block</h3><ul>${worn.map(({ name, text }) => markup`<li><b>${name}</b>: ${text}</li>`)}</ul>`}`;
}

/** The lifter that the micrometer was set to last; null when the record does not name it. */
function referenceLifter({ zeros }: Result): string | null {
  return zeros.filter((zero) => zero.kind === "zero").at(-1)?.lifter ?? null;
}

function boreRows(bore: ResultBore, reference: string | null, first: UnitFirst): Markup {
  const rows = Math.max(1, bore.stations.length);
  const lifter = bore.lifter ?? (reference === null ? "reference" : `${reference} (reference)`);
  const own = markup`<td class="n" rowspan="${rows}">${form(bore.taperNm, bore.taperUncertaintyNm, first)}</td><td class="n" rowspan="${rows}">${form(bore.outOfRoundNm, bore.outOfRoundUncertaintyNm, first)}</td><td rowspan="${rows}">${verdictWords(bore.verdict, bore.preferred)}${sureness(bore)}</td>`;
  const stations = bore.stations.map((station, index) => {
    const kept = station.sweeps.filter((sweep) => sweep.use === "kept").length;
    const head =
      index === 0
        ? markup`<th rowspan="${rows}">${bore.name}</th><td rowspan="${rows}">${personal(lifter)}</td>`
        : null;
    const figures =
      station.clearanceNm === null
        ? markup`<td colspan="4" class="mid soft">${whyNone(station)}</td>`
        : markup`${lengthCells(station.clearanceNm, first)}${lengthCells(station.uncertaintyNm, first)}`;
    return markup`<tr>${head}<td${station.height.length > 12 ? markup` class="words"` : null}>${personal(station.height)}</td><td>${station.clock}</td>${figures}<td class="n">${kept} of ${station.sweeps.length}</td>${index === 0 ? own : null}</tr>`;
  });
  return markup`<tbody class="whole">${stations}</tbody>`;
}

function whyNone(station: ResultBore["stations"][number]): string {
  if (station.sweeps.length === 0) return "not measured";
  if (station.valueNm === null) return "not closed: no agreed value";
  return "no zero that held";
}

/** A form error with its uncertainty in both units, one below the other. */
function form(nm: number | null, uncertaintyNm: number | null, first: UnitFirst): Markup {
  if (nm === null) return markup`–`;
  const u = uncertaintyNm === null ? ["", ""] : [` ± ${inches(uncertaintyNm)}`, ` ± ${micrometres(uncertaintyNm)}`];
  const lines = [`${inches(nm)}${u[0] ?? ""}`, `${micrometres(nm)}${u[1] ?? ""}`];
  const [one, other] = first === "in" ? lines : [...lines].reverse();
  return markup`${one ?? ""}<br><span class="soft">${other ?? ""}</span>`;
}

function sureness({ verdict, confidence }: ResultBore): Markup | null {
  if (confidence === null) return null;
  const percent = percentText(confidence);
  return markup`<br><span class="soft keep">${verdict === "undecided" ? `inside with ${percent}` : `${percent} sure`}</span>`;
}
