import { stepToleranceNm } from "../../zero/stepCheck.ts";
import { bothUnits, lengthCells, lengthHead, unitHeads } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { type ReportInput, unitFirstOf } from "./reportInput.ts";
import { elapsed } from "./times.ts";
import { BLANK } from "./titleBlock.ts";

const SENDS = {
  stream: "readings all the time",
  press: "a reading for each press",
  held: "each press the minimum that it held",
} as const;
const ROLES = { bore: "bore gauge", micrometer: "micrometer" } as const;

/** A log of so many lines is kept on one page. */
const SHORT_LOG = 12;

/** The gauges, the zero and its return checks, the step check and the temperatures. */
export function gaugesAndChecks(input: ReportInput): Markup {
  return markup`${gaugeTable(input)}${zeroLog(input)}${stepCheck(input)}${temperatures(input)}`;
}

function gaugeTable(input: ReportInput): Markup {
  const { gauges, gain, corrections } = input;
  const first = unitFirstOf(input);
  const asRead = corrections.length === 0 ? null : ", as they were read at the end; see the corrections";
  return markup`<div class="scroll"><table class="together"><caption>Gauges${asRead}</caption>
<thead><tr><th>Gauge</th><th>Use</th><th>Sends</th><th>Unit</th><th>Resolution</th><th>Counts</th><th>Maker’s number</th><th>Calibrated on, certificate</th></tr></thead>
<tbody>${gauges.map(
    (gauge) =>
      markup`<tr><th>${personal(gauge.id)}</th><td>${ROLES[gauge.role]}</td><td>${gauge.source === "typed" ? "nothing: read by eye and typed" : SENDS[gauge.sends]}</td><td>${gauge.unit}</td><td>${bothUnits(gauge.resolutionNm, first)}</td><td>${gauge.role === "micrometer" ? null : `${gauge.polarity === 1 ? "up" : "down"} as the size grows${gain === 1 ? "" : `; gain ${gain.toFixed(4)}`}`}</td><td>${BLANK}</td><td>${BLANK}</td></tr>`,
  )}</tbody></table></div>`;
}

function zeroLog(input: ReportInput): Markup {
  const { zeros } = input.result;
  const { job } = input;
  const first = unitFirstOf(input);
  if (zeros.length === 0) return markup`<h3>Zero and return checks</h3><p>No zero was taken.</p>`;
  return markup`<div class="scroll"><table${zeros.length <= SHORT_LOG ? markup` class="together"` : null}><caption>Zero and return checks, readings of the bore gauge in the micrometer</caption>
<thead><tr><th class="n">At, h:min:s</th><td></td><th>Set to lifter</th>${lengthHead("Reading")}${lengthHead("Spread")}<th class="n">Sweeps</th>${lengthHead("Return")}<td></td></tr>
<tr><td></td><td></td><td></td>${unitHeads(first)}${unitHeads(first)}<th class="n">kept</th>${unitHeads(first)}<td></td></tr></thead>
<tbody>${zeros.map((zero) => {
    const isReturn = zero.kind === "return";
    return markup`<tr><td class="n">${elapsed(zero.t)}</td><td>${isReturn ? "return check" : "zero"}</td><td>${personal(zero.lifter ?? "not said")}</td>${lengthCells(zero.valueNm, first)}${lengthCells(zero.spreadNm, first)}<td class="n">${zero.sweeps}</td>${lengthCells(isReturn ? zero.returnNm : null, first)}<td>${isReturn ? (zero.held ? "held" : markup`<b>moved</b>`) : null}</td></tr>`;
  })}</tbody></table></div>
<p class="small">A return is the reading less the one before it. The zero counts as held up to ${bothUnits(job.zeroHoldNm, first)}; between two checks it is interpolated in time, and half the return is in the uncertainty. ${
    job.returnCheckEvery === 0
      ? "No return check was asked for."
      : `A return check was asked for after every ${job.returnCheckEvery} bore${job.returnCheckEvery === 1 ? "" : "s"} and at the end.`
  }</p>`;
}

/** What the step check showed, in a sentence or two. */
export function stepCheckText(input: ReportInput): string {
  const { state, openedNm, answerNm } = input.result.stepCheck;
  const first = unitFirstOf(input);
  const figures =
    openedNm === null
      ? ""
      : ` The micrometer was opened by ${bothUnits(openedNm, first)}${answerNm === null ? "" : `; the gauge answered ${bothUnits(answerNm, first)}`}.`;
  if (state === "passed")
    return `Passed.${figures} That proves direction and unit, and that no hold function was on${gainWithin(input)}.`;
  if (state === "failed") return `FAILED.${figures} Direction, unit or gain of the gauge are not proven.`;
  if (state === "skipped") return "Skipped. Direction, unit and gain of the gauge rest on its settings alone.";
  return `Not done.${figures} Direction, unit and gain of the gauge rest on its settings alone.`;
}

/** How well a passed step shows the gain, in words; nothing where the step is not known. */
function gainWithin({ gauges, result: { stepCheck } }: ReportInput): string {
  const bore = gauges.find(({ role }) => role === "bore");
  if (stepCheck.openedNm === null || bore === undefined) return "";
  const within = stepToleranceNm(stepCheck.openedNm, bore.resolutionNm) / stepCheck.openedNm;
  return `; of the gain only that it is within ${(100 * within).toFixed(0)} %`;
}

function stepCheck(input: ReportInput): Markup {
  return markup`<h3>Step check</h3><p>${stepCheckText(input)}</p>`;
}

function temperatures(input: ReportInput): Markup {
  const { job } = input;
  const { block, lifter } = job.materials;
  const told = input.temperatures.filter(({ blockC, lifterC }) => blockC !== null || lifterC !== null);
  const degrees = (celsius: number | null) => (celsius === null ? "not measured" : `${celsius.toFixed(1)} °C`);
  const expansion = markup`Expansion: block ${personal(block.id)} (${block.alpha} ± ${block.alphaHalfWidth}) · 10⁻⁶/°C, source: ${personal(block.source)}; lifter ${personal(lifter.id)} (${lifter.alpha} ± ${lifter.alphaHalfWidth}) · 10⁻⁶/°C, source: ${personal(lifter.source)}. Results are referred to 20 °C (ISO 1:2022).`;
  const list =
    told.length === 0
      ? markup`<p>Not measured: block and lifters were taken as equal, 20 ± ${job.budget.temperatureHalfWidthC} °C, and the uncertainty contains what that costs.</p>`
      : markup`<ul>${told.map((one) => markup`<li>${elapsed(one.tMs)}: block ${degrees(one.blockC)}, lifter ${degrees(one.lifterC)}</li>`)}</ul>`;
  return markup`<h3>Temperatures</h3>${list}<p class="small">${expansion}</p>`;
}
