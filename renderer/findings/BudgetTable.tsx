import type { ReactNode } from "react";
import type { BudgetLine, StationFinding } from "../../core/fit/finding.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import { classNames } from "../parts/classNames.ts";
import table from "../parts/table.module.css";
import styles from "./findings.module.css";
import { freedomText } from "./freedomText.ts";

/** What the uncertainty of a station is made of, line by line, in the order of the budget (JCGM 100:2008). */
export function BudgetTable({ station }: { readonly station: StationFinding }): ReactNode {
  return (
    <div className={table.scroll}>
      <table className={classNames(table.table, styles.table, styles.budget)}>
        <caption>Uncertainty budget of this station</caption>
        <thead>
          <tr>
            <th scope="col">Line</th>
            <th scope="col">Standard uncertainty</th>
            <th scope="col" className={styles.right}>
              Degrees of freedom
            </th>
            <th scope="col" className={styles.right}>
              In clearance, µm
            </th>
            <th scope="col">Share</th>
          </tr>
        </thead>
        <tbody>
          {station.budget.map((line) => (
            <tr key={line.name}>
              <th scope="row">{line.name}</th>
              <td>
                {inputText(line)}, {line.distribution}
              </td>
              <td className={styles.right}>{freedomText(line.degreesOfFreedom)}</td>
              <td className={styles.right}>{micrometres(line.contributionNm)}</td>
              <td>
                <Share share={line.share} />
              </td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">Combined</th>
            <td />
            <td className={styles.right}>{freedomText(station.degreesOfFreedom)}</td>
            <td className={styles.right}>{micrometres(station.standardUncertaintyNm)}</td>
            <td />
          </tr>
          <tr>
            <th scope="row">Expanded, {Math.round(station.coverage * 100)} %</th>
            <td />
            <td />
            <td className={styles.right}>
              {station.uncertaintyNm === null ? "–" : micrometres(station.uncertaintyNm)}
            </td>
            <td />
          </tr>
        </tfoot>
      </table>
    </div>
  );
}

/** Thousandths of a millimetre with two places. */
function micrometres(nm: number): string {
  return formatLength(toNm(nm), "um", 2);
}

/** The input's own standard uncertainty in its own unit. */
function inputText(line: BudgetLine): string {
  switch (line.unit) {
    case "nm":
      return `${micrometres(line.u)} µm`;
    case "°C":
      return `${line.u.toPrecision(2)} °C`;
    case "1e-6/°C":
      return `${line.u.toPrecision(2)} · 10⁻⁶/°C`;
    case "1":
      return line.u.toPrecision(2);
  }
}

/** A share of the variance as a figure and a bar. */
function Share({ share }: { readonly share: number }): ReactNode {
  return (
    <span className={styles.share}>
      <span className={styles.shareFigure}>{(share * 100).toFixed(0)} %</span>
      <svg viewBox="0 0 100 10" preserveAspectRatio="none" className={styles.shareBar} aria-hidden="true">
        <rect width={Math.min(100, Math.max(0, share * 100))} height="10" />
      </svg>
    </span>
  );
}
