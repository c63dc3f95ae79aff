import type { ReactNode } from "react";
import type { Nm } from "../../core/length/nm.ts";
import type { Pairing } from "../../core/report/pairingSchema.ts";
import { confidenceInWords } from "../findings/ruleInWords.ts";
import { Check } from "../parts/Choices.tsx";
import { classNames } from "../parts/classNames.ts";
import { Figure } from "../parts/figure/Figure.tsx";
import { printLength } from "../parts/figure/printLength.ts";
import { NameButton } from "../parts/NameButton.tsx";
import table from "../parts/table.module.css";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { useStore } from "../store/store.ts";
import { type Assignment, changes, fromWhere } from "./pairingMoves.ts";
import styles from "./remedy.module.css";

/** Bore by bore which lifter goes in, as one walks round the block; those that move stand out by word and shape. */
export function BenchList({
  pairing,
  onlyMoves,
  chosen,
  onChoose,
  onOnlyMoves,
}: {
  readonly pairing: Pairing;
  readonly onlyMoves: boolean;
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
  readonly onOnlyMoves: (only: boolean) => void;
}): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const unitWord = printLength(0 as Nm, unit).unit;
  const rows = pairing.assignments.filter((one) => !onlyMoves || changes(one));
  return (
    <>
      <div data-print="no">
        <Check label="Only those that move" checked={onlyMoves} onChange={onOnlyMoves} />
      </div>
      {rows.length === 0 ? <p>Nothing moves.</p> : null}
      {rows.length === 0 ? null : (
        <div className={table.scroll}>
          <table className={classNames(table.table, styles.table)}>
            <caption className="unseen">Which lifter goes into which bore, clearances in {unitWord}</caption>
            <thead>
              <tr>
                <th scope="col">Bore</th>
                <th scope="col">Lifter that goes in</th>
                <th scope="col">Then</th>
                <th scope="col">As it stands</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((one) => (
                <tr key={one.bore} data-chosen={one.bore === chosen} data-moves={changes(one)}>
                  <th scope="row">
                    <NameButton name={one.bore} onChoose={onChoose} />
                  </th>
                  <td>
                    <LifterCell pairing={pairing} one={one} />
                  </td>
                  <td>
                    <span className={table.verdict}>
                      <VerdictPicture verdict={one.verdict} preferred={one.preferred} />
                      {one.verdict}
                      {one.preferred ? ", preferred" : ""}
                    </span>
                    <span className={styles.small}>
                      <Range low={one.clearanceMinNm} high={one.clearanceMaxNm} />, {confidenceInWords(one)}
                    </span>
                  </td>
                  <td>
                    <span className={table.verdict}>
                      <VerdictPicture verdict={one.before.verdict} preferred={one.before.preferred} />
                      {one.before.verdict}
                    </span>
                    <span className={styles.small}>
                      lifter {one.before.lifter},{" "}
                      <Range low={one.before.clearanceMinNm} high={one.before.clearanceMaxNm} />
                    </span>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </>
  );
}

/** The lifter that goes in, and where it is taken from. */
function LifterCell({ pairing, one }: { readonly pairing: Pairing; readonly one: Assignment }): ReactNode {
  const moves = changes(one);
  const away = one.lifter !== one.bore;
  return (
    <>
      <span className={moves || away ? styles.moving : styles.staying}>
        <span aria-hidden="true">{away ? "◄ " : "= "}</span>
        {one.lifter}
      </span>
      <span className={styles.small}>
        <span className={moves ? styles.nowrap : undefined}>
          {moves
            ? `${away ? "moves" : "goes back"}, ${fromWhere(pairing, one)}`
            : away
              ? "in by the accepted pairing"
              : "stays"}
        </span>
        {one.turned === true ? ", pair turned round" : ""}
        {one.why === undefined ? "" : `; ${one.why}`}
      </span>
    </>
  );
}

function Range({ low, high }: { readonly low: number; readonly high: number }): ReactNode {
  return (
    <span className={styles.nowrap}>
      <Figure length={low as Nm} bare /> to <Figure length={high as Nm} bare />
    </span>
  );
}
