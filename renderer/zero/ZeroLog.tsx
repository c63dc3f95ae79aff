import type { ReactNode } from "react";
import type { JudgedReference } from "../../core/zero/reference.ts";
import { Figure } from "../parts/figure/Figure.tsx";
import { Sweeps } from "../parts/Sweeps.tsx";
import { useStore } from "../store/store.ts";
import styles from "./ZeroPlace.module.css";

/** Every zero and return check of the session, newest first. */
export function ZeroLog({ references }: { readonly references: readonly JudgedReference[] }): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  return (
    <section className={styles.part} aria-labelledby="log-title">
      <h2 id="log-title">Zeros and return checks</h2>
      {references.length === 0 ? (
        <p className={styles.note}>None yet. Each one is listed here with what it returned to.</p>
      ) : (
        <div className={styles.scroll}>
          <table className={styles.log} data-unit={unit}>
            <thead>
              <tr>
                <th scope="col">At</th>
                <th scope="col">What</th>
                <th scope="col">Lifter</th>
                <th scope="col">Reading</th>
                <th scope="col">Spread</th>
                <th scope="col">Returned by</th>
                <th scope="col">Zero</th>
                <th scope="col">Sweeps</th>
              </tr>
            </thead>
            <tbody>
              {references.toReversed().map((reference) => (
                <tr key={reference.tMs}>
                  <td>{clock(reference.tMs)}</td>
                  <th scope="row">{reference.kind === "zero" ? "Zero" : "Return check"}</th>
                  <td>{reference.lifter ?? "not said"}</td>
                  <td>
                    <Figure length={reference.valueNm} sign />
                  </td>
                  <td>
                    <Figure length={reference.spreadNm} />
                  </td>
                  <td>{reference.kind === "zero" ? "–" : <Figure length={reference.returnNm} sign />}</td>
                  <td>{reference.kind === "zero" ? "taken" : reference.held ? "held" : <strong>▲ moved</strong>}</td>
                  <td>
                    <Sweeps sweeps={reference.sweeps} />
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

/** Time since the session began, as hours, minutes and seconds. */
export function clock(tMs: number): string {
  const seconds = Math.floor(tMs / 1000);
  const two = (value: number) => String(value).padStart(2, "0");
  return `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
}
