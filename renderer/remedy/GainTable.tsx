import type { ReactNode } from "react";
import { NM_PER_INCH, NM_PER_UM, type Nm } from "../../core/length/nm.ts";
import type { Pairing } from "../../core/report/pairingSchema.ts";
import { classNames } from "../parts/classNames.ts";
import { Figure } from "../parts/figure/Figure.tsx";
import table from "../parts/table.module.css";
import type { ShownUnit } from "../store/settings.ts";
import { useStore } from "../store/store.ts";
import styles from "./remedy.module.css";

type Order = Pairing["before"];

interface Aim {
  readonly key: keyof Order;
  readonly title: string;
  /** More of it is better. */
  readonly more: boolean;
  readonly of: (order: Order) => ReactNode;
}

/** What the order of the lifters is judged by, aim by aim in the order in which they count: as it stands and after. */
export function GainTable({ pairing, bores }: { readonly pairing: Pairing; readonly bores: number }): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const aims: readonly Aim[] = [
    { key: "fits", title: "Bores that fit", more: true, of: ({ fits }) => `${fits} of ${bores}` },
    { key: "preferred", title: "In the preferred band", more: true, of: ({ preferred }) => `${preferred} of ${bores}` },
    {
      key: "worstDeviationNm",
      title: "Largest deviation from the target",
      more: false,
      of: ({ worstDeviationNm }) => <Figure length={worstDeviationNm as Nm} />,
    },
    {
      key: "sumSquaresNm2",
      title: "Sum of squared deviations",
      more: false,
      of: ({ sumSquaresNm2 }) => squaresText(sumSquaresNm2, unit),
    },
    { key: "moved", title: "Lifters away from their own bores", more: false, of: ({ moved }) => `${moved}` },
  ];
  return (
    <>
      <div className={classNames(table.scroll, styles.narrow)}>
        <table className={classNames(table.table, styles.table)}>
          <caption className="unseen">What the pairing gains over the present order</caption>
          <thead>
            <tr>
              <th scope="col">Aim, the first counts first</th>
              <th scope="col" className={styles.right}>
                As they stand
              </th>
              <th scope="col" className={styles.right}>
                After the moves
              </th>
              <th scope="col">Gain</th>
            </tr>
          </thead>
          <tbody>
            {aims.map(({ key, title, more, of }) => (
              <tr key={key}>
                <th scope="row">{title}</th>
                <td className={styles.right}>{of(pairing.before)}</td>
                <td className={styles.right}>
                  <strong>{of(pairing.after)}</strong>
                </td>
                <td>{gainWord(pairing.before[key], pairing.after[key], more)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className={styles.soft}>
        Target <Figure length={pairing.targetNm as Nm} />; a bore's deviation is that of the middle of its smallest and
        largest clearance. Decided by the {pairing.rule} rule.
      </p>
    </>
  );
}

/** Better, the same or worse, told apart by a mark as well. */
export function gainWord(before: number, after: number, more: boolean): string {
  if (before === after) return "= the same";
  return after > before === more ? "▲ better" : "▽ worse";
}

/** A sum of squares (nm²) in the square of the unit that small lengths are read in; a figure to compare orders by. */
export function squaresText(nm2: number, unit: ShownUnit): string {
  const inch = unit === "in" || unit === "tenths";
  const nmPerUnit = inch ? NM_PER_INCH / 10_000 : NM_PER_UM;
  return `${(nm2 / nmPerUnit ** 2).toFixed(1)} ${inch ? "tenths²" : "µm²"}`;
}
