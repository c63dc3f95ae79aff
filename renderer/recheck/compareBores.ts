import type { BoreFinding } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { Result } from "../../core/report/result.ts";

type RecheckedBore = Result["bores"][number];

/** One bore as recorded and as rechecked, side by side. */
export interface ComparedBore {
  readonly name: string;
  readonly before: Pick<BoreFinding, "verdict" | "preferred" | "clearanceMinNm" | "clearanceMaxNm"> | null;
  readonly after: {
    readonly verdict: BoreFinding["verdict"];
    readonly preferred: boolean;
    readonly clearanceMinNm: Nm | null;
    readonly clearanceMaxNm: Nm | null;
    readonly confidence: number | null;
  } | null;
  /** The verdict is another one. */
  readonly changed: boolean;
}

/** Puts the recorded findings beside those of a recheck, bore by bore, in the order recorded; none is left out. */
export function compareBores(recorded: readonly BoreFinding[], rechecked: Result["bores"]): ComparedBore[] {
  const names = [...new Set([...recorded.map((bore) => bore.name), ...rechecked.map((bore) => bore.name)])];
  return names.map((name) => {
    const before = recorded.find((bore) => bore.name === name) ?? null;
    const found: RecheckedBore | undefined = rechecked.find((bore) => bore.name === name);
    const after =
      found === undefined
        ? null
        : {
            verdict: found.verdict,
            preferred: found.preferred,
            clearanceMinNm: found.clearanceMinNm as Nm | null,
            clearanceMaxNm: found.clearanceMaxNm as Nm | null,
            confidence: found.confidence,
          };
    return { name, before, after, changed: before?.verdict !== after?.verdict };
  });
}
