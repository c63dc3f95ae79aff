import type { BoreFinding, Rule } from "../../core/fit/finding.ts";

/** A decision rule in one sentence, as it stands beside the verdicts. */
export function ruleInWords(rule: Rule): string {
  return rule === "guarded"
    ? "Guarded: a bore fits only if it is inside its limits with at least 95 % probability, and is called too tight or too loose only at 95 % on that side; between, it is undecided (ISO 14253-1, JCGM 106)."
    : "Simple: the smallest and the largest clearance are compared with the limits; the uncertainty takes no part.";
}

/** How sure a verdict is, in words: "99.9 % sure", "inside with 71 %". Never rounded up to certainty. */
export function confidenceInWords(finding: Pick<BoreFinding, "verdict" | "confidence">): string {
  if (finding.confidence === null) return "–";
  const percent = percentText(finding.confidence);
  return finding.verdict === "undecided" ? `inside with ${percent}` : `${percent} sure`;
}

/** A probability (0 … 1) in per cent; what is not certain is never printed as 100 % or 0 %. */
export function percentText(probability: number): string {
  if (probability > 0.9995) return "over 99.9\u00a0%";
  if (probability < 0.0005) return "under 0.1\u00a0%";
  return `${(probability * 100).toFixed(1)}\u00a0%`;
}
