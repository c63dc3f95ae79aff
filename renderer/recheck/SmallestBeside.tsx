import type { ReactNode } from "react";
import type { Nm } from "../../core/length/nm.ts";
import type { Result } from "../../core/report/result.ts";
import { smallestRows } from "../../core/report/smallestRows.ts";
import { classNames } from "../parts/classNames.ts";
import { Figure } from "../parts/figure/Figure.tsx";
import table from "../parts/table.module.css";
import styles from "./recheck.module.css";

/** Every station by its turning points and by its smallest readings, side by side. */
export function SmallestBeside({
  result,
  agreementNm,
}: {
  readonly result: Result;
  readonly agreementNm: number;
}): ReactNode {
  const rows = smallestRows(result, agreementNm);
  const apart = rows.filter(({ fartherApart }) => fartherApart).length;
  if (rows.every(({ beyondNm }) => beyondNm === 0)) {
    return (
      <p>
        The smallest reading and the turning point of every sweep are the same: a gauge that sends presses or held
        minima gives one reading a sweep.
      </p>
    );
  }
  return (
    <>
      <p className={classNames(styles.soft, styles.beside)}>
        The smallest of a few samples is nearly always too large, by more the slower the display. How far it lies from
        the turning point in this session, root mean square, stands in the uncertainty twice, for the bore and for the
        zero. The sweeps that count are those of the record.
        {apart === 0
          ? ""
          : ` At ${apart === 1 ? "one station" : `${apart} stations`} the smallest readings lie farther apart than sweeps had to agree within.`}
      </p>
      <div className={table.scroll}>
        <table className={classNames(table.table, styles.table)}>
          <caption className="unseen">Clearance of every station by turning point and by smallest reading</caption>
          <thead>
            <tr>
              <th scope="col">Bore</th>
              <th scope="col">Station</th>
              <th scope="col">By turning point</th>
              <th scope="col">By smallest reading</th>
              <th scope="col">Difference</th>
              <th scope="col">Smallest readings apart by</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={`${row.bore} ${row.station}`}>
                <th scope="row">{row.bore}</th>
                <td>{row.station}</td>
                <td>
                  <Figure length={row.turningPointNm as Nm | null} bare none="no clearance" /> ±{" "}
                  <Figure length={row.turningPointUNm as Nm | null} none="not stated" />
                </td>
                <td>
                  <Figure length={row.smallestNm as Nm | null} bare none="no clearance" /> ±{" "}
                  <Figure length={row.smallestUNm as Nm | null} none="not stated" />
                </td>
                <td>
                  <Figure length={row.differenceNm as Nm | null} sign none="none" />
                </td>
                <td>
                  {row.fartherApart ? <span aria-hidden="true">▲ </span> : null}
                  <Figure length={row.spreadNm as Nm | null} none="not measured" />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}
