import type { GaugeUnit } from "../../length/unit.ts";
import type { Learnt } from "../learnLines.ts";

/**
 * The unit that the number of decimals speaks for, where lines name none: displays of this work show three decimals in
 * millimetres (0.001 mm) and five or six in inches (0.00005 in, 0.000005 in); four may be either, and nothing is said
 * (common practice, no source). It is offered for a person to look at, never taken without being shown.
 */
export function likelyUnit(learnt: Pick<Learnt, "lines">): GaugeUnit | null {
  const decimals = new Set(
    learnt.lines.flatMap(({ understood }) => {
      const places = understood === null ? undefined : /[.](\d+)/.exec(understood)?.[1];
      return places === undefined ? [] : [places.length];
    }),
  );
  const [only] = decimals;
  if (decimals.size !== 1 || only === undefined) return null;
  if (only <= 3) return "mm";
  return only >= 5 ? "in" : null;
}
