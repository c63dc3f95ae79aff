import type { Remedy } from "../remedySchema.ts";
import { bothUnits, inches, millimetres, rangeText, type UnitFirst } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { verdictWords } from "./verdictMark.ts";

type RemedyBore = Remedy["bores"][number];
type Option = RemedyBore["options"][number];
type Plan = NonNullable<Remedy["block"]["plans"]>[number];

const KINDS = {
  leave: "leave as it is",
  pair: "pair otherwise",
  hone: "hone to size",
  body: "next larger lifter body",
  bush: "bush back to size",
} as const;

/** What is to be done to each bore, as a sheet for the machine shop, and the whole block's plans side by side. */
export function remedyPart(remedy: Remedy, first: UnitFirst): Markup {
  const { block, notes = [], cautions = [] } = remedy;
  const unknown = [...new Set(remedy.bores.flatMap((bore) => bore.options.flatMap((option) => option.unknown)))];
  const open = block.open ?? [];
  return markup`<p>${block.boresTouched === 0 ? "No bore is to be cut." : `Metal is to be cut in ${block.boresTouched} bore${block.boresTouched === 1 ? "" : "s"}.`}${block.metalNm === undefined || block.boresTouched === 0 ? null : ` In all ${bothUnits(block.metalNm, first)} on diameter.`} Diameters at 20 °C. A plan from what was measured: the maker’s sheet and the machinist’s judgement come first, and every bore that was touched is to be measured again.</p>
<div class="scroll"><table><thead><tr><th>Bore</th><th>Now</th><th class="n">Diameter now</th><th>Do</th><th class="n">Remove on diameter</th><th class="n">Finish between</th><th class="n">Ends with clearance</th></tr></thead>
${remedy.bores.map((bore) => boreRows(bore, first))}</table></div>
${open.length === 0 ? null : markup`<h3>Not settled by this plan</h3><ul>${open.map(({ bore, why }) => markup`<li><b>${bore}</b>: ${why}</li>`)}</ul>`}
${block.plans === undefined || block.plans.length === 0 ? null : plansTable(block.plans, first)}
${unknown.length === 0 ? null : markup`<p>What the program cannot know of any of it: ${unknown.join("; ")}.</p>`}
${[...notes, ...cautions].length === 0 ? null : markup`<ul>${[...notes, ...cautions].map((note) => markup`<li>${note}</li>`)}</ul>`}`;
}

function boreRows(bore: RemedyBore, first: UnitFirst): Markup {
  const chosen = bore.options.find((option) => option.kind === bore.chosen);
  const others = bore.options.filter((option) => option !== chosen);
  const low = chosen?.clearanceLowNm ?? null;
  const high = chosen?.clearanceHighNm ?? null;
  return markup`<tbody class="whole"><tr><th>${bore.name}</th><td>${verdictWords(bore.verdict)}</td><td class="n">${diameters(bore.diameterMinNm, bore.diameterMaxNm, first)}</td><td><b>${chosen === undefined ? (bore.verdict === "not measured" ? "measure it" : "nothing possible found") : KINDS[chosen.kind]}</b>${chosen === undefined ? null : markup`<br><span class="soft">${forLifter(chosen, first)}</span>`}</td><td class="n">${chosen === undefined || chosen.removeNm === 0 ? "–" : markup`${inches(chosen.removeNm)} in<br><span class="soft">${bothMetric(chosen.removeNm)}</span>`}</td><td class="n">${chosen === undefined ? "–" : diameters(chosen.finishLowNm, chosen.finishHighNm, first)}</td><td class="n">${low === null || high === null ? "–" : clearances(low, high, first)}</td></tr>
${chosen === undefined || chosen.why === "" ? null : markup`<tr><td></td><td colspan="6" class="small">${chosen.why}</td></tr>`}
${bore.advice === undefined || bore.advice === null ? null : markup`<tr><td></td><td colspan="6" class="small">${bore.advice}</td></tr>`}
${bore.chosen === "leave" || others.length === 0 ? null : markup`<tr><td></td><td colspan="6" class="small soft">${others.map((option, index) => markup`${index === 0 ? "Otherwise: " : "; "}${otherText(option, first)}`)}.</td></tr>`}</tbody>`;
}

const bothMetric = (nm: number) => `${(nm / 1000).toFixed(1)} µm`;

function forLifter(option: Option, first: UnitFirst): Markup {
  return option.lifter === undefined
    ? markup`for a lifter of ${bothUnits(option.lifterNm, first, "diameter")}`
    : markup`for lifter ${personal(option.lifter)}, ${bothUnits(option.lifterNm, first, "diameter")}`;
}

function otherText(option: Option, first: UnitFirst): Markup {
  if (!option.possible) return markup`not ${KINDS[option.kind]} (${option.why})`;
  const finish =
    option.finishLowNm === null || option.finishHighNm === null
      ? null
      : `, finish ${rangeText(option.finishLowNm, option.finishHighNm, first, "diameter")}`;
  return markup`${KINDS[option.kind]} ${forLifter(option, first)}${finish}`;
}

function diameters(low: number | null, high: number | null, first: UnitFirst): Markup {
  if (low === null || high === null) return markup`–`;
  const lines = [`${inches(low)} – ${inches(high)} in`, `${millimetres(low)} – ${millimetres(high)} mm`];
  return twoLines(lines, first);
}

function clearances(low: number, high: number, first: UnitFirst): Markup {
  return twoLines(
    [`${inches(low)} – ${inches(high)} in`, `${(low / 1000).toFixed(1)} – ${(high / 1000).toFixed(1)} µm`],
    first,
  );
}

function twoLines(lines: readonly string[], first: UnitFirst): Markup {
  const [one, other] = first === "in" ? lines : [...lines].reverse();
  return markup`${one ?? ""}<br><span class="soft">${other ?? ""}</span>`;
}

function plansTable(plans: readonly Plan[], first: UnitFirst): Markup {
  return markup`<table class="together"><caption>Plans for the whole block, side by side</caption><thead><tr><th>Plan</th><th class="n">Bores cut</th><th class="n">Metal, on diameter</th><th class="n">Lifters moved</th><th class="n">Not settled</th></tr></thead>
<tbody>${plans.map((plan) => markup`<tr><th>${plan.name}</th><td class="n">${plan.boresTouched}</td><td class="n">${bothUnits(plan.metalNm, first)}</td><td class="n">${plan.lifterMoves}</td><td class="n">${plan.open}</td></tr>`)}</tbody></table>`;
}
