import type { Pairing } from "../pairingSchema.ts";
import { bothUnits, lengthCells, lengthHead, type UnitFirst, unitHeads } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { verdictWords } from "./verdictMark.ts";

/** The pairing as a bench list in walking order, and what it gains over the present order. */
export function pairingPart(pairing: Pairing, first: UnitFirst): Markup {
  const { assignments, before, after, leftOver, leftOut, notes } = pairing;
  return markup`<p>Lifters to bores so that most bores are inside their limits by the ${pairing.rule} rule, then most in the preferred band, then the largest deviation from ${bothUnits(pairing.targetNm, first)} is smallest. A proposal from the diameters as measured: the bores are to be measured again with the lifters that go in.</p>
<div class="scroll"><table><thead><tr><th>Bore</th><th>Has</th><th>Put in</th>${lengthHead("Smallest")}${lengthHead("Largest")}<th>Would be</th><th>Is now</th></tr>
<tr><td></td><td></td><td></td>${unitHeads(first)}${unitHeads(first)}<td></td><td></td></tr></thead>
<tbody>${assignments.map(
    (one) =>
      markup`<tr><th>${one.bore}</th><td>${personal(one.before.lifter)}</td><td>${one.lifter === one.before.lifter ? "stays" : markup`<b>${personal(one.lifter)}</b>`}${one.turned === true ? ", turned round" : null}${one.why === undefined ? null : markup`<br><span class="soft">${one.why}</span>`}</td>${lengthCells(one.clearanceMinNm, first)}${lengthCells(one.clearanceMaxNm, first)}<td>${verdictWords(one.verdict, one.preferred)}</td><td>${verdictWords(one.before.verdict, one.before.preferred)}</td></tr>`,
  )}</tbody></table></div>
<table class="together"><caption>What it gains</caption><thead><tr><td></td><th class="n">Fit</th><th class="n">Preferred</th>${lengthHead("Largest deviation")}<th class="n">Away from their own</th></tr><tr><td></td><td></td><td></td>${unitHeads(first)}<td></td></tr></thead>
<tbody>${[
    { name: "as it is", order: before },
    { name: "so paired", order: after },
  ].map(
    ({ name, order }) =>
      markup`<tr><th>${name}</th><td class="n">${order.fits}</td><td class="n">${order.preferred}</td>${lengthCells(order.worstDeviationNm, first)}<td class="n">${order.moved}</td></tr>`,
  )}</tbody></table>
${leftOver.length === 0 ? null : markup`<p>Left over: ${leftOver.map((name, index) => markup`${index === 0 ? null : ", "}${personal(name)}`)}.</p>`}
${leftOut.length === 0 ? null : markup`<ul>${leftOut.map(({ bore, why }) => markup`<li><b>${bore}</b> is left alone: ${why}</li>`)}</ul>`}
${notes.length === 0 ? null : markup`<ul>${notes.map((note) => markup`<li>${note}</li>`)}</ul>`}`;
}
