import { spokenBore } from "../../core/block/spokenBore.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";

/** A bore on the plan in words, for those who hear it: "Cylinder 5, intake: fits, preferred, here now". */
export function describeBore(name: string, finding: BoreFinding | undefined, place: string | null): string {
  const words: string[] = [finding?.verdict ?? "not measured"];
  if (finding?.preferred === true) words.push("preferred");
  if (place !== null) words.push(place);
  return `${spokenBore(name)}: ${words.join(", ")}`;
}
