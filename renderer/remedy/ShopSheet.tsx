import { Fragment, type ReactNode } from "react";
import { spokenBore } from "../../core/block/spokenBore.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import type { Remedy } from "../../core/report/remedySchema.ts";
import type { SheetLength } from "../../core/report/sheetLength.ts";
import { type SheetRow, type ShopSheet, shopSheet } from "../../core/report/shopSheet.ts";
import type { Job } from "../../core/session/job.ts";
import { Button } from "../parts/Button.tsx";
import type { Answer } from "../parts/useAnswer.ts";
import { useStore } from "../store/store.ts";
import remedyStyles from "./remedy.module.css";
import type { RemedyDesk } from "./remedyDesk.ts";
import styles from "./shopSheet.module.css";
import { withTakes } from "./takes.ts";

/** The sheet for whoever cuts metal: bore by bore now, remove, finish between, in both units, and what to sign off. */
export function ShopSheetPart({
  job,
  desk,
  answer,
  whatIf,
}: {
  readonly job: Job;
  readonly desk: RemedyDesk;
  readonly answer: Answer<Remedy>;
  /** What the plan is worked out under instead of the record, in words; null for the record. */
  readonly whatIf: string | null;
}): ReactNode {
  if (answer.refused !== null) {
    return (
      <p className={remedyStyles.refused}>
        <span aria-hidden="true">▲ </span>
        <strong>There is no plan to write down.</strong> {answer.refused}
      </p>
    );
  }
  if (answer.value === null) return <p className={remedyStyles.soft}>Working out what can be done…</p>;
  const remedy = withTakes(answer.value, desk.takes);
  const sheet = sheetOf(remedy, job);
  if (sheet === null) {
    return (
      <p className={remedyStyles.refused}>
        <span aria-hidden="true">▲ </span>
        The plan does not say between which sizes a bore is to be finished, so no sheet is printed.
      </p>
    );
  }
  return (
    <>
      {sheet.rows.length === 0 ? (
        <p>Nothing is cut by the plan, so there is nothing for the machine shop to do.</p>
      ) : (
        <div className={remedyStyles.buttons} data-print="no">
          <Button kind="main" onClick={() => window.print()}>
            Print this sheet
          </Button>
        </div>
      )}
      <Sheet sheet={sheet} remedy={remedy} byHand={remedy !== answer.value} whatIf={whatIf} />
    </>
  );
}

function sheetOf(remedy: Remedy, { title, block }: Job): ShopSheet | null {
  try {
    return shopSheet(remedy, { title, block });
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function Sheet({
  sheet,
  remedy,
  byHand,
  whatIf,
}: {
  readonly sheet: ShopSheet;
  readonly remedy: Remedy;
  readonly byHand: boolean;
  readonly whatIf: string | null;
}): ReactNode {
  const session = useStore((state) => state.session?.id ?? "");
  const simulated = useStore((state) => state.session?.simulated ?? false);
  return (
    <article className={styles.sheet} aria-labelledby="sheet-heading" data-print="sheet">
      <header className={styles.head}>
        <h2 id="sheet-heading">Sheet for the machine shop</h2>
        <dl className={styles.titleBlock}>
          <Entry term="Job" text={sheet.title} />
          <Entry term="Block" text={sheet.block} />
          <Entry term="Session" text={session} />
          <Entry term="Allowed clearance at 20 °C" text={limitsText(remedy.limits)} />
        </dl>
      </header>
      {simulated ? (
        <p className={styles.mark}>SIMULATED gauges: this proves nothing about a block. Do not cut metal by it.</p>
      ) : null}
      {whatIf === null ? null : <p className={styles.mark}>WHAT IF {whatIf}: not from the record alone.</p>}
      {byHand ? <p className={styles.mark}>Changed by hand: not the plan that the program worked out.</p> : null}
      <ul className={styles.explains}>
        {sheet.explains.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {sheet.rows.length === 0 ? null : <Rows sheet={sheet} />}
      {sheet.leaveAlone.length === 0 ? null : (
        <p>
          <strong>Cut nothing in:</strong> {sheet.leaveAlone.join(", ")}.
        </p>
      )}
      {sheet.open.length === 0 ? null : (
        <section aria-labelledby="sheet-open" className={styles.part}>
          <h3 id="sheet-open">Not brought to fit by this sheet</h3>
          <ul className={styles.bullets}>
            {sheet.open.map(({ bore, why }) => (
              <li key={`${bore} ${why}`}>
                <strong>{bore}</strong>: {why}
              </li>
            ))}
          </ul>
        </section>
      )}
      {sheet.lookAt.length === 0 ? null : (
        <section aria-labelledby="sheet-look" className={styles.part}>
          <h3 id="sheet-look">To be looked at: no measurement of size can tell</h3>
          <ul className={styles.bullets}>
            {sheet.lookAt.map((one) => (
              <li key={one}>{one}</li>
            ))}
          </ul>
        </section>
      )}
      {sheet.cautions.length === 0 ? null : (
        <section aria-labelledby="sheet-cautions" className={styles.part}>
          <h3 id="sheet-cautions">Cautions</h3>
          <ul className={styles.bullets}>
            {sheet.cautions.map((one) => (
              <li key={one}>{one}</li>
            ))}
          </ul>
        </section>
      )}
      {sheet.rows.length === 0 ? null : (
        <p className={styles.signature}>
          <span>Work done by</span>
          <span>Date</span>
          <span>Taken back by</span>
          <span>Date</span>
        </p>
      )}
    </article>
  );
}

function Entry({ term, text }: { readonly term: string; readonly text: string }): ReactNode {
  if (text === "") return null;
  return (
    <div>
      <dt>{term}</dt>
      <dd>{text}</dd>
    </div>
  );
}

function Rows({ sheet }: { readonly sheet: ShopSheet }): ReactNode {
  return (
    <div className={styles.scroll}>
      <table className={styles.table}>
        <caption className="unseen">Bores that metal is cut in, sizes in inches and millimetres at 20 °C</caption>
        <thead>
          <tr>
            <th scope="col">Bore</th>
            <th scope="col">Smallest now</th>
            <th scope="col">Largest now</th>
            <th scope="col">Remove on diameter</th>
            <th scope="col">Finish from</th>
            <th scope="col">Finish to, not to pass</th>
            <th scope="col">For lifter</th>
          </tr>
        </thead>
        <tbody>
          {sheet.rows.map((row) => (
            <Fragment key={row.bore}>
              <tr className={styles.first}>
                <th scope="rowgroup" rowSpan={2}>
                  <span className={styles.bore}>{row.bore}</span>
                  <span className={styles.small}>{spokenBore(row.bore)}</span>
                </th>
                <td>
                  <Both length={row.now.smallest} />
                </td>
                <td>
                  <Both length={row.now.largest} />
                </td>
                <td>
                  <Remove row={row} />
                </td>
                <td className={styles.finish}>
                  <Both length={row.finish.from} />
                </td>
                <td className={styles.notToPass}>
                  <Both length={row.notToPass} />
                </td>
                <td>
                  {row.lifter === null ? null : <strong>{row.lifter}</strong>}
                  <Both length={row.lifterSize} />
                </td>
              </tr>
              <tr className={styles.second}>
                <td colSpan={6}>
                  <p>
                    <strong>{sentence(row.what)}.</strong> Clearance to that lifter then {row.clearance.from.inches} to{" "}
                    {row.clearance.to.inches} in ({row.clearance.from.mm} to {row.clearance.to.mm} mm).{" "}
                    {row.finish.from.tenths === null || row.finish.to.tenths === null
                      ? "A gauge that shows tenths is too coarse for it."
                      : `On a gauge that shows tenths: ${row.finish.from.tenths} to ${row.finish.to.tenths} in.`}{" "}
                    Measure again: {row.measureAgain}.
                  </p>
                  <ul className={styles.signOff} aria-label={`To sign off at ${row.bore}`}>
                    {sheet.signOff.map((line) => (
                      <li key={line}>
                        <span>{line}</span>
                      </li>
                    ))}
                  </ul>
                </td>
              </tr>
            </Fragment>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The limits in both units, and whose they are. */
function limitsText(limits: Remedy["limits"]): string {
  if (limits === undefined) return "";
  const [low, high] = [toNm(limits.lowNm), toNm(limits.highNm)];
  const inches = `${formatLength(low, "in", 5)} to ${formatLength(high, "in", 5)} in`;
  return `${inches} (${formatLength(low, "mm", 4)} to ${formatLength(high, "mm", 4)} mm), ${limits.source}`;
}

const sentence = (text: string) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

function Both({ length }: { readonly length: SheetLength }): ReactNode {
  return (
    <>
      <span className={styles.line}>{length.inches} in</span>
      <span className={styles.line}>{length.mm} mm</span>
    </>
  );
}

function Remove({ row: { remove } }: { readonly row: SheetRow }): ReactNode {
  if (remove === null) return "for the bush, by its maker's sheet";
  return (
    <>
      <Both length={remove.atSmallest} />
      <span className={styles.small}>
        where largest {remove.atLargest.inches} in, {remove.atLargest.mm} mm
      </span>
    </>
  );
}
