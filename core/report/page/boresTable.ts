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
  const advised = input.study ? [] : result.bores.filter((bore) => bore.advice !== null);
  const worn = result.bores.flatMap((bore) => {
    const text = input.study ? undefined : wear[bore.name];
    return text === undefined ? [] : [{ name: bore.name, text }];
  });
  const judged = !input.study;
  const shown: ShownForm = {
    judged,
    taper: judged && new Set(input.job.stations.map(({ height }) => height)).size > 1,
    outOfRound: judged && new Set(input.job.stations.map(({ clock }) => clock)).size > 1,
  };
  const heads = formHeads(shown, first);
  return markup`<div class="scroll"><table class="bores">
<thead><tr><th>Bore</th><th>Lifter</th><th colspan="2">Station</th>${lengthHead("Clearance")}${lengthHead("U, 95 %")}<th class="n">Sweeps</th>${heads[0]}${judged ? markup`<th>Verdict</th>` : null}</tr>
<tr><td></td><td></td><th>height</th><th>clock</th>${unitHeads(first)}${unitHeads(first)}<th class="n">kept</th>${heads[1]}${judged ? markup`<th>how sure</th>` : null}</tr></thead>
${result.bores.map((bore) => boreRows(bore, lifterOf(bore, result), first, shown))}
</table></div>
<p class="small">Clearance is bore less lifter on diameter, at 20 °C. Axial: the contacts along the crankshaft; cross: across it. Sweeps: kept of all that were made. ${formText(shown)} A two-point gauge cannot see three-lobed form.</p>
${advised.length === 0 ? null : markup`<h3>What would decide the undecided</h3><ul>${advised.map((bore) => markup`<li><b>${bore.name}</b>: ${bore.advice}</li>`)}</ul>`}
${worn.length === 0 ? null : markup`<h3>Against the wear limit of a used block</h3><ul>${worn.map(({ name, text }) => markup`<li><b>${name}</b>: ${text}</li>`)}</ul>`}`;
}

/** Which errors of form the stations of this job can show at all, and whether a verdict is given. */
interface ShownForm {
  /** False in a study of the gauge: its stations are people and repeats. */
  readonly judged: boolean;
  readonly taper: boolean;
  readonly outOfRound: boolean;
}

function formText({ judged, taper, outOfRound }: ShownForm): string {
  if (!judged) return "The stations are people and repeats, so there is no form and no verdict.";
  return [
    taper ? "Taper: range over the heights, with its U." : "Taper was not measured: there is one height.",
    outOfRound
      ? "Out-of-round: range over the clock directions of a height, the largest of them."
      : "Out-of-round was not measured: there is one clock direction.",
  ].join(" ");
}

/** The lifter that a bore is judged for: one by name, or the one that the micrometer was set to at the time. */
function lifterOf(bore: ResultBore, { zeros }: Result): string {
  if (typeof bore.lifter === "string") return bore.lifter;
  const last = Math.max(0, ...bore.stations.flatMap((station) => station.sweeps.map((sweep) => sweep.t)));
  const reference = zeros.filter((zero) => zero.kind === "zero" && zero.t <= last).at(-1)?.lifter ?? null;
  return reference === null ? "reference" : `${reference} (reference)`;
}

function boreRows(bore: ResultBore, lifter: string, first: UnitFirst, shown: ShownForm): Markup {
  const rows = Math.max(1, bore.stations.length);
  const own = markup`${formCell(bore, rows, first, shown)}${shown.judged ? markup`<td rowspan="${rows}">${verdictWords(bore.verdict, bore.preferred)}${sureness(bore)}</td>` : null}`;
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

/** The two rows of heads over the column of form; nothing where the stations can show none. */
function formHeads({ taper, outOfRound }: ShownForm, first: UnitFirst): readonly [Markup | null, Markup | null] {
  if (taper && outOfRound)
    return [markup`<th class="n">T: taper ± U</th>`, markup`<th class="n">R: out-of-round ± U</th>`];
  if (!taper && !outOfRound) return [null, null];
  const name = taper ? "Taper ± U" : "Out-of-round ± U";
  return [
    markup`<th class="n">${name}</th>`,
    markup`<th class="n">${first === "in" ? "in, below µm" : "µm, below in"}</th>`,
  ];
}

/** Taper and out-of-round in one cell, one below the other where there are both. */
function formCell(bore: ResultBore, rows: number, first: UnitFirst, shown: ShownForm): Markup | null {
  const taper = form(bore.taperNm, bore.taperUncertaintyNm, first);
  const outOfRound = form(bore.outOfRoundNm, bore.outOfRoundUncertaintyNm, first);
  if (!shown.taper && !shown.outOfRound) return null;
  const both = shown.taper && shown.outOfRound;
  const content = both ? markup`T ${taper}<br>R ${outOfRound}` : shown.taper ? taper : outOfRound;
  return markup`<td class="n" rowspan="${rows}">${content}</td>`;
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
