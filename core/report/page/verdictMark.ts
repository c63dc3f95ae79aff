import type { Verdict } from "../../fit/finding.ts";
import { verdictShape } from "../verdictShape.ts";
import { type Markup, markup } from "./markup.ts";

/** A verdict's mark about (0, 0), to be put into a drawing. */
export function verdictDrawing(verdict: Verdict, preferred: boolean, ring: number, tickSide: 1 | -1 = 1): Markup {
  const { circle, filled, tick } = verdictShape(verdict, preferred, ring, tickSide);
  return markup`<circle r="${circle.radius}" class="${circle.filled ? "full" : "ring"}"/>${filled.map(
    (path) => markup`<path d="${path}" class="full"/>`,
  )}${tick === null ? null : markup`<path d="${tick}" class="tick"/>`}`;
}

/** The mark as a small picture in running text; the word always stands beside it. */
export function verdictPicture(verdict: Verdict, preferred = false): Markup {
  return markup`<svg class="mark" style="display:inline-block" viewBox="-22 -13 44 26" aria-hidden="true">${verdictDrawing(verdict, preferred, 10)}</svg>`;
}

/** Mark and words: "too loose", "fits, preferred". */
export function verdictWords(verdict: Verdict, preferred = false): Markup {
  return markup`<span class="keep">${verdictPicture(verdict, preferred)}${verdict}${preferred ? ", preferred" : null}</span>`;
}
