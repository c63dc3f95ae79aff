import type { ReactNode } from "react";
import { spokenBore } from "../../core/block/spokenBore.ts";
import { Button } from "../parts/Button.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { useStore } from "../store/store.ts";
import styles from "./remedy.module.css";

/** What is to be done with bores that do not fit. Nothing is computed here yet, and the place says so. */
export function RemedyPlace(): ReactNode {
  const view = useStore((state) => state.view);
  const goTo = useStore((state) => state.actions.goTo);
  const open = (view?.bores ?? []).filter((bore) => bore.verdict !== "fits" && bore.verdict !== "not measured");
  return (
    <PlaceFrame
      title="Remedy"
      next="Pairing and remedies are not there yet: this version computes neither."
      actions={<Button onClick={() => goTo("Findings")}>Go to Findings</Button>}
    >
      <p className={styles.soft}>
        Here will stand which lifter goes into which bore, and for each bore that does not fit the finished sizes for
        honing, a larger lifter body or a bush. Until then the findings are all there is, and the machinist's judgement
        decides.
      </p>
      {open.length === 0 ? (
        <p>{view === null ? "No session is open." : "No bore measured so far asks for anything."}</p>
      ) : (
        <section aria-labelledby="open-heading">
          <h2 id="open-heading">Bores that ask for a decision</h2>
          <ul className={styles.bores}>
            {open.map((bore) => (
              <li key={bore.name}>
                <VerdictPicture verdict={bore.verdict} size="1.6rem" />
                <span>
                  <strong>{spokenBore(bore.name)}</strong>: {bore.verdict}, <Figure length={bore.clearanceMinNm} bare />{" "}
                  to <Figure length={bore.clearanceMaxNm} />
                  {bore.advice === null ? "" : `. ${bore.advice}`}
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
    </PlaceFrame>
  );
}
