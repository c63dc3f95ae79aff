import type { ReactNode } from "react";
import type { Nm } from "../../core/length/nm.ts";
import type { Remedy } from "../../core/report/remedySchema.ts";
import { classNames } from "../parts/classNames.ts";
import { Figure } from "../parts/figure/Figure.tsx";
import table from "../parts/table.module.css";
import { cuts } from "./kinds.ts";
import styles from "./remedy.module.css";

/** Plans for the whole block side by side, and what the one taken leaves open. */
export function BlockPlans({
  remedy,
  byHand,
}: {
  readonly remedy: Remedy;
  /** A person took something else for some bore than the plan does. */
  readonly byHand: boolean;
}): ReactNode {
  const { block } = remedy;
  const plans = block.plans ?? [];
  const taken = byHand ? -1 : plans.findIndex(({ chosen }) => chosen === true);
  return (
    <section aria-labelledby="plans-heading" className={styles.part}>
      <h2 id="plans-heading">
        {byHand ? "Changed by hand. " : ""}
        {headline(remedy)}
      </h2>
      {plans.length === 0 ? null : (
        <div className={classNames(table.scroll, styles.narrow)}>
          <table className={classNames(table.table, styles.table)}>
            <caption className="unseen">Plans for the whole block</caption>
            <thead>
              <tr>
                <th scope="col">Plan for the block</th>
                <th scope="col" className={styles.right}>
                  Bores cut
                </th>
                <th scope="col" className={styles.right}>
                  Metal, summed on diameter
                </th>
                <th scope="col" className={styles.right}>
                  Lifters moved
                </th>
                <th scope="col" className={styles.right}>
                  Bores left open
                </th>
                <th scope="col">Every bore fits then</th>
              </tr>
            </thead>
            <tbody>
              {plans.map((plan, index) => (
                <tr key={plan.name} data-chosen={index === taken}>
                  <th scope="row">
                    {index === taken ? (
                      <strong>
                        <span aria-hidden="true">► </span>
                        {plan.name}
                        <span className={styles.small}>the plan below</span>
                      </strong>
                    ) : (
                      plan.name
                    )}
                  </th>
                  <td className={styles.right}>{plan.boresTouched}</td>
                  <td className={styles.right}>
                    <Figure length={plan.metalNm as Nm} />
                  </td>
                  <td className={styles.right}>{plan.lifterMoves}</td>
                  <td className={styles.right}>
                    {plan.open}
                    {plan.undecided ? <span className={styles.small}>{plan.undecided} undecided</span> : null}
                  </td>
                  <td>
                    {plan.allFit ? "yes, as expected" : plan.open === 0 ? "not surely" : "no"}
                    {plan.near ? <span className={styles.small}>{plan.near} narrowly</span> : null}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}

function headline({ block, bores }: Remedy): string {
  const measured = bores.filter(({ verdict }) => verdict !== "not measured");
  if (measured.length === 0) return "No bore is measured yet";
  const moved = block.plan.filter(({ kind, moves }) => moves ?? kind === "pair").length;
  const cut = block.plan.filter(({ kind }) => cuts(kind));
  if (block.plan.length === 0) {
    return measured.every(({ verdict }) => verdict === "fits")
      ? "Every measured bore fits: nothing is to be done"
      : "Nothing that is known here helps the bores that do not fit";
  }
  const what = [
    moved === 0 ? null : `${moved} ${moved === 1 ? "lifter moves" : "lifters move"}`,
    cut.length === 0
      ? null
      : `${cut.length} ${cut.length === 1 ? "bore is" : "bores are"} cut (${cut.map(({ bore }) => bore).join(", ")})`,
  ].filter((one) => one !== null);
  const near = block.near?.length ?? 0;
  const then =
    block.allFit === true
      ? "every measured bore is then expected to be found to fit"
      : (block.open?.length ?? 0) > 0
        ? "some bores stay open"
        : `every bore fits then, ${near} so narrowly that measuring again may find ${near === 1 ? "it" : "them"} undecided`;
  return `The plan: ${what.join(" and ")}; ${then}`;
}
