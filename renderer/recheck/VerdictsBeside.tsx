import type { ReactNode } from "react";
import type { Nm } from "../../core/length/nm.ts";
import { confidenceInWords } from "../findings/ruleInWords.ts";
import { classNames } from "../parts/classNames.ts";
import { Figure } from "../parts/figure/Figure.tsx";
import { printLength } from "../parts/figure/printLength.ts";
import { NameButton } from "../parts/NameButton.tsx";
import table from "../parts/table.module.css";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { useStore } from "../store/store.ts";
import type { ComparedBore } from "./compareBores.ts";
import styles from "./recheck.module.css";

/** Recorded verdicts and others beside them, bore by bore; those that differ stand out by word and shape. */
export function VerdictsBeside({
  bores,
  word,
  caption,
  chosen = null,
  onChoose,
}: {
  readonly bores: readonly ComparedBore[];
  /** What the others are, such as "Rechecked". */
  readonly word: string;
  readonly caption: string;
  readonly chosen?: string | null;
  /** Called when a bore is chosen; without it the names are names only. */
  readonly onChoose?: (bore: string) => void;
}): ReactNode {
  const shown = useStore((state) => state.settings.unit);
  const { unit } = printLength(0 as Nm, shown);
  return (
    <div className={classNames(table.scroll, styles.scroll)}>
      <table className={classNames(table.table, styles.table)}>
        <caption className="unseen">{caption}</caption>
        <thead>
          <tr>
            <th scope="col">Bore</th>
            <th scope="col">Recorded clearance, {unit}</th>
            <th scope="col">Recorded verdict</th>
            <th scope="col">
              {word} clearance, {unit}
            </th>
            <th scope="col">{word} verdict</th>
            <th scope="col">Confidence</th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody>
          {bores.map((bore) => (
            <tr key={bore.name} data-changed={bore.changed} data-chosen={bore.name === chosen}>
              <th scope="row">
                {onChoose === undefined ? bore.name : <NameButton name={bore.name} onChoose={onChoose} />}
              </th>
              <Cells side={bore.before} />
              <Cells side={bore.after} />
              <td className={styles.nowrap}>{bore.after === null ? "–" : confidenceInWords(bore.after)}</td>
              <td className={styles.nowrap}>{bore.changed ? <strong>≠ another</strong> : "same"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Cells({ side }: { readonly side: ComparedBore["before"] }): ReactNode {
  if (side === null) {
    return (
      <>
        <td>–</td>
        <td>not there</td>
      </>
    );
  }
  return (
    <>
      <td className={styles.nowrap}>
        <Figure length={side.clearanceMinNm} bare none="not measured" /> to{" "}
        <Figure length={side.clearanceMaxNm} bare none="not measured" />
      </td>
      <td>
        <span className={table.verdict}>
          <VerdictPicture verdict={side.verdict} preferred={side.preferred} />
          {side.verdict}
          {side.preferred ? ", preferred" : ""}
        </span>
      </td>
    </>
  );
}
