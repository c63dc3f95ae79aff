import type { ReactNode } from "react";
import type { StationPlace } from "../../core/block/layout.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";
import { type FeelView, handDisagrees } from "../../core/session/feel.ts";
import { classNames } from "../parts/classNames.ts";
import { Figure } from "../parts/figure/Figure.tsx";
import { printLength } from "../parts/figure/printLength.ts";
import { NameButton } from "../parts/NameButton.tsx";
import table from "../parts/table.module.css";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { useStore } from "../store/store.ts";
import styles from "./findings.module.css";
import { otherLifter } from "./lifterWords.ts";
import { confidenceInWords } from "./ruleInWords.ts";
import { stationRows } from "./stationRows.ts";

/** Every station with its clearance and uncertainty; what belongs to the whole bore stands on its first row. */
export function StationsTable({
  findings,
  feel,
  places,
  chosen,
  onChoose,
}: {
  readonly findings: readonly BoreFinding[];
  readonly feel: readonly FeelView[];
  readonly places: readonly StationPlace[];
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const unitWord = printLength(0 as never, unit).unit;
  return (
    <div className={table.scroll}>
      <table className={classNames(table.table, styles.table)}>
        <caption className="unseen">
          Stations with clearance, uncertainty, form and verdict, lengths in {unitWord}
        </caption>
        <thead>
          <tr>
            <th scope="col">Bore</th>
            <th scope="col">Height</th>
            <th scope="col">Clock</th>
            <th scope="col" className={styles.right}>
              Clearance, {unitWord}
            </th>
            <th scope="col" className={styles.right}>
              U 95 %
            </th>
            <th scope="col" className={styles.right}>
              Sweeps
            </th>
            <th scope="col" className={styles.right}>
              Taper
            </th>
            <th scope="col" className={styles.right}>
              Out-of-round
            </th>
            <th scope="col">Verdict</th>
            <th scope="col">Confidence</th>
            {feel.length === 0 ? null : <th scope="col">By hand</th>}
          </tr>
        </thead>
        <tbody>
          {stationRows(findings, places).map(({ bore, place, station, span }) => (
            <tr
              key={`${bore.name} ${place.height} ${place.clock}`}
              data-first={span > 0}
              data-chosen={bore.name === chosen}
            >
              {span > 0 ? (
                <th scope="rowgroup" rowSpan={span}>
                  <NameButton name={bore.name} onChoose={onChoose} />
                  {otherLifter(bore) === null ? null : (
                    <span className={styles.pairedWith}>
                      <span aria-hidden="true">◄ </span>lifter {otherLifter(bore)}
                    </span>
                  )}
                </th>
              ) : null}
              <td>{place.height}</td>
              <td>{place.clock}</td>
              <td className={styles.right}>
                <Figure length={station?.clearanceNm ?? null} bare none="not measured" />
              </td>
              <td className={styles.right}>
                <Figure length={station?.uncertaintyNm ?? null} bare none="not measured" />
              </td>
              <td className={styles.right}>
                {station === null ? "–" : station.station.sweeps.filter((sweep) => sweep.use === "kept").length}
                {station?.station.sweeps.some((sweep) => sweep.typed === true) ? ", typed" : ""}
              </td>
              {span > 0 ? (
                <>
                  <td rowSpan={span} className={styles.right}>
                    <Figure length={bore.taperNm} bare none="not measured" />
                  </td>
                  <td rowSpan={span} className={styles.right}>
                    <Figure length={bore.outOfRoundNm} bare none="not measured" />
                  </td>
                  <td rowSpan={span}>
                    <span className={styles.verdictCell}>
                      <VerdictPicture verdict={bore.verdict} preferred={bore.preferred} />
                      {bore.verdict}
                      {bore.preferred ? ", preferred" : ""}
                    </span>
                  </td>
                  <td rowSpan={span} className={styles.nowrap}>
                    {confidenceInWords(bore)}
                  </td>
                  {feel.length === 0 ? null : (
                    <td rowSpan={span} className={styles.nowrap}>
                      <FeelWord entry={feel.find((entry) => entry.bore === bore.name)} finding={bore} />
                    </td>
                  )}
                </>
              ) : null}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** What was found by hand, in a word; a triangle where hand and gauge contradict each other. */
function FeelWord({
  entry,
  finding,
}: {
  readonly entry: FeelView | undefined;
  readonly finding: BoreFinding;
}): ReactNode {
  if (entry === undefined) return "–";
  return (
    <>
      {handDisagrees(entry, finding.verdict) ? <span aria-hidden="true">▲ </span> : null}
      {entry.found}
      {entry.outdated === null ? "" : ", outdated"}
    </>
  );
}
