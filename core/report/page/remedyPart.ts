import type { Remedy } from "../remedySchema.ts";
import { type SheetRow, type ShopSheet, shopSheet } from "../shopSheet.ts";
import { bothUnits, inches, micrometres, millimetres, type UnitFirst } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { verdictWords } from "./verdictMark.ts";

type RemedyBore = Remedy["bores"][number];
type Plan = NonNullable<Remedy["block"]["plans"]>[number];
type Length = SheetRow["lifterSize"];

const KINDS = {
  leave: "leave as it is",
  pair: "pair otherwise",
  hone: "hone to size",
  body: "next larger lifter body",
  bush: "bush back to size",
} as const;

/** What is to be done to each bore, the sheet for the machine shop, and the plans for the whole block side by side. */
export function remedyPart(
  remedy: Remedy,
  job: { readonly title: string; readonly block: string },
  first: UnitFirst,
  besidePairing: boolean,
): Markup {
  const { block, notes = [] } = remedy;
  const open = block.open ?? [];
  const metal = block.metalNm === undefined || block.boresTouched === 0 ? null : bothUnits(block.metalNm, first);
  return markup`<p>${touched(block.boresTouched)}${metal === null ? null : ` In all ${metal} on diameter.`} Diameters at 20 °C. This is a plan from what was measured: the maker’s sheet and the machinist’s judgement come first, and every bore that was touched is to be measured again.${besidePairing && block.plan.some(({ kind }) => kind === "pair") ? " Where lifters move in this plan, it stands in place of the pairing above." : null}</p>
<div class="scroll"><table><thead><tr><th>Bore</th><th>Is now</th><th class="n">Diameter now</th><th>Do</th><th>For lifter</th><th class="n">Ends with clearance</th></tr></thead>
${remedy.bores.map((bore) => boreRows(bore, first))}</table></div>
${machineShop(remedy, job, first)}
${open.length === 0 ? null : markup`<h3>Not settled by this plan</h3><ul>${open.map(({ bore, why }) => markup`<li><b>${bore}</b>: ${why}</li>`)}</ul>`}
${block.plans === undefined || block.plans.length === 0 ? null : plansTable(block.plans, first)}
${notes.length === 0 ? null : markup`<ul>${notes.map((note) => markup`<li>${note}</li>`)}</ul>`}`;
}

function touched(count: number): string {
  return count === 0 ? "No bore is to be cut." : `Metal is to be cut in ${count} bore${count === 1 ? "" : "s"}.`;
}

function boreRows(bore: RemedyBore, first: UnitFirst): Markup {
  const chosen = bore.options.find((option) => option.kind === bore.chosen);
  // What is cut has its figures on the sheet for the machine shop, rounded inwards.
  const cuts = chosen !== undefined && chosen.finishHighNm !== null;
  const low = chosen?.clearanceLowNm ?? null;
  const high = chosen?.clearanceHighNm ?? null;
  const what =
    chosen === undefined
      ? bore.verdict === "not measured"
        ? "measure it"
        : "nothing found that makes it fit"
      : KINDS[chosen.kind];
  const lifter =
    chosen === undefined
      ? markup`–`
      : markup`${chosen.lifter === undefined ? null : markup`${personal(chosen.lifter)}, `}${bothUnits(chosen.lifterNm, first, "diameter")}`;
  const remarks = [chosen?.why ?? "", bore.advice ?? ""].filter((text) => text !== "");
  return markup`<tbody class="whole"><tr><th>${bore.name}</th><td>${verdictWords(bore.verdict)}</td><td class="n">${twoLines(bore.diameterMinNm, bore.diameterMaxNm, first, millimetres, "mm")}</td><td><b>${what}</b></td><td>${lifter}</td><td class="n">${cuts ? "see the sheet below" : twoLines(low, high, first, micrometres, "µm")}</td></tr>
${remarks.length === 0 ? null : markup`<tr><td></td><td colspan="5" class="small">${remarks.join(" ")}</td></tr>`}</tbody>`;
}

/** From one length to another in either unit, one below the other. */
function twoLines(
  low: number | null,
  high: number | null,
  first: UnitFirst,
  metric: (nm: number | null) => string,
  unit: string,
): Markup {
  if (low === null || high === null) return markup`–`;
  return stacked(
    low === high ? `${inches(low)} in` : `${inches(low)} – ${inches(high)} in`,
    low === high ? `${metric(low)} ${unit}` : `${metric(low)} – ${metric(high)} ${unit}`,
    first,
  );
}

function stacked(inch: string, metric: string, first: UnitFirst): Markup {
  const [one, other] = first === "in" ? [inch, metric] : [metric, inch];
  return markup`${one}<br><span class="soft">${other}</span>`;
}

/** The sheet for whoever cuts metal; its finished sizes are rounded inwards, so that nothing printed is outside. */
function machineShop(
  remedy: Remedy,
  job: { readonly title: string; readonly block: string },
  first: UnitFirst,
): Markup | null {
  let sheet: ShopSheet;
  try {
    sheet = shopSheet(remedy, job);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return markup`<p><b>No sheet for the machine shop:</b> ${error.message}.</p>`;
  }
  if (sheet.rows.length === 0) return null;
  const between = (from: Length, to: Length) =>
    stacked(`${from.inches} – ${to.inches} in`, `${from.mm} – ${to.mm} mm`, first);
  return markup`<div class="scroll"><table><caption>Sheet for the machine shop</caption><thead><tr><th>Bore</th><th class="n">Now, smallest – largest</th><th class="n">Remove on diameter there</th><th class="n">Finish between, not to pass the second</th><th class="n">As clearance to that lifter</th></tr></thead>
${sheet.rows.map(
  (row) =>
    markup`<tbody class="whole"><tr><th>${row.bore}</th><td class="n">${between(row.now.smallest, row.now.largest)}</td><td class="n">${row.remove === null ? "by the bush’s sheet" : between(row.remove.atSmallest, row.remove.atLargest)}</td><td class="n"><b>${between(row.finish.from, row.finish.to)}</b></td><td class="n">${between(row.clearance.from, row.clearance.to)}</td></tr>
<tr><td></td><td colspan="4" class="small">${row.what}, for ${row.lifter === null ? "a lifter of " : markup`lifter ${personal(row.lifter)}, `}${stackedInline(row.lifterSize, first)}. Measure again: ${row.measureAgain}.</td></tr></tbody>`,
)}</table></div>
<ul>${sheet.explains.map((text) => (remedy.notes?.includes(text) === true ? null : markup`<li>${text}</li>`))}${sheet.lookAt.length === 0 ? null : markup`<li>To look at before and while cutting, as no measurement of size can tell: ${sheet.lookAt.join("; ")}.</li>`}</ul>`;
}

function stackedInline({ inches: inch, mm }: Length, first: UnitFirst): string {
  return first === "in" ? `${inch} in (${mm} mm)` : `${mm} mm (${inch} in)`;
}

function plansTable(plans: readonly Plan[], first: UnitFirst): Markup {
  return markup`<table class="together"><caption>Plans for the whole block, side by side</caption><thead><tr><th>Plan</th><th class="n">Bores cut</th><th class="n">Metal, on diameter</th><th class="n">Lifters moved</th><th class="n">Bores not settled</th></tr></thead>
<tbody>${plans.map((plan) => markup`<tr><th>${plan.name}</th><td class="n">${plan.boresTouched}</td><td class="n">${bothUnits(plan.metalNm, first)}</td><td class="n">${plan.lifterMoves}</td><td class="n">${plan.open}</td></tr>`)}</tbody></table>`;
}
