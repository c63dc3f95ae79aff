import type { ReactNode } from "react";
import type { Verdict } from "../../core/fit/finding.ts";
import type { SessionView } from "../../core/session/view.ts";
import { Button } from "../parts/Button.tsx";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { useStore } from "../store/store.ts";
import styles from "./bores.module.css";

const ORDER: readonly Verdict[] = ["fits", "too tight", "too loose", "undecided", "not measured"];

/** The walk is done: what came of it, and the way to the findings. */
export function CompleteSheet({
  view,
  stateLine,
}: {
  readonly view: SessionView;
  readonly stateLine: ReactNode;
}): ReactNode {
  const goTo = useStore((state) => state.actions.goTo);
  const stations = view.bores.reduce((sum, bore) => sum + bore.stations.length, 0);
  const checks = view.references.filter((one) => one.kind === "return");
  const last = checks[checks.length - 1];
  return (
    <>
      <h1 id="place-title" tabIndex={-1} className={styles.station}>
        <span className={styles.bore}>The walk is complete.</span>
      </h1>
      {stateLine}
      <p className={styles.sentence}>
        {view.bores.length} bores at {stations} stations.{" "}
        {last === undefined
          ? "No return check was asked for, so nothing shows that the zero held."
          : `${checks.length} return ${checks.length === 1 ? "check" : "checks"}; the last one ${last.held ? "held" : "did not hold"}.`}
      </p>
      <ul className={styles.tally}>
        {ORDER.map((verdict) => ({ verdict, own: view.bores.filter((bore) => bore.verdict === verdict) }))
          .filter(({ verdict, own }) => own.length > 0 || verdict === "fits")
          .map(({ verdict, own }) => (
            <li key={verdict}>
              <VerdictPicture verdict={verdict} size="2rem" />
              <strong>{own.length}</strong>
              <span>
                {verdict}
                {verdict === "fits" || own.length === 0 ? "" : `: ${own.map((bore) => bore.name).join(", ")}`}
              </span>
            </li>
          ))}
      </ul>
      <p>
        What was measured and how well, compared with the stated limits. It does not say that an engine is safe to run.
      </p>
      <div className={styles.ways}>
        <Button kind="main" size="walk" onClick={() => goTo("Findings")}>
          Look at the findings
        </Button>
      </div>
    </>
  );
}
