import type { Verdict } from "../../fit/finding.ts";
import { blockPlan } from "./blockPlan.ts";
import { type Markup, markup } from "./markup.ts";
import { type ReportInput, unitFirstOf } from "./reportInput.ts";
import { verdictPicture } from "./verdictMark.ts";

const VERDICTS: readonly Verdict[] = ["fits", "too tight", "too loose", "undecided", "not measured"];

/** How many bores have each verdict, and the plan of the block that shows which. */
export function outcome(input: ReportInput): Markup {
  const { result, job, choices } = input;
  const preferred = result.bores.filter((bore) => bore.preferred).length;
  return markup`<p class="tally">${tally(input)}</p>
<p>${preferred === 1 ? "1 bore lies" : `${preferred} bores lie`} in the preferred band. ${
    result.complete ? "The walk is complete." : "The walk is not complete: see the deviations."
  } Each verdict compares what was measured with the limits stated above, by the rule stated below. It does not say that an engine is safe to run.</p>
<figure class="together"><ul class="key">${VERDICTS.map((verdict) => markup`<li>${verdictPicture(verdict)}${verdict}</li>`)}<li>${verdictPicture("fits", true)}and in the preferred band</li></ul>
${blockPlan(job, result.bores, unitFirstOf(input), choices?.seenFrom ?? "rear")}
<figcaption class="small soft">The block in plan, seen from above. At each bore its largest and below it its smallest station clearance, ${unitFirstOf(input) === "in" ? "in inches and micrometres" : "in micrometres and inches"}. Numbers in the large circles are cylinders; I is intake, E is exhaust.</figcaption></figure>`;
}

function tally({ result }: ReportInput): Markup {
  const parts = VERDICTS.map((verdict) => ({
    verdict,
    own: result.bores.filter((bore) => bore.verdict === verdict),
  })).filter(({ own }) => own.length > 0);
  if (parts.length === 0) return markup`No bore is in this walk.`;
  return markup`${parts.map(({ verdict, own }, index) => {
    const word = verdict === "fits" && own.length !== 1 ? "fit" : verdict;
    const names = verdict === "fits" ? null : markup` (${own.map((bore) => bore.name).join(", ")})`;
    return markup`${index === 0 ? null : "; "}<b>${own.length} ${word}</b>${names}`;
  })}.`;
}
