import type { ReactNode } from "react";
import type { MethodInput } from "../../core/bridge/messages.ts";
import { ExportButtons } from "../findings/ExportButtons.tsx";
import { Button } from "../parts/Button.tsx";
import { NoSession } from "../parts/NoSession.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { useLate } from "../parts/useLate.ts";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { DecimalChoice } from "./DecimalChoice.tsx";
import styles from "./handover.module.css";
import { ParcelSection } from "./ParcelSection.tsx";
import { ReceivedParcel } from "./ReceivedParcel.tsx";
import { ReportSection } from "./ReportSection.tsx";

type Kind = MethodInput<"session.export">["kind"];

const EVERYTHING: readonly { readonly kind: Kind; readonly word: string }[] = [
  { kind: "session", word: "Session file" },
];
const TABLES: readonly { readonly kind: Kind; readonly word: string }[] = [
  { kind: "bores.csv", word: "Bores (CSV)" },
  { kind: "stations.csv", word: "Stations (CSV)" },
  { kind: "sweeps.csv", word: "Sweeps (CSV)" },
  { kind: "lifters.csv", word: "Lifters (CSV)" },
  { kind: "result.json", word: "Result (JSON)" },
];

/** What there is to hand to the next builder: the record on disk, and what can be written from it. */
export function HandoverPlace(): ReactNode {
  const session = useStore((state) => state.session);
  const view = useStore((state) => state.view);
  const info = useStore((state) => state.info);
  const saved = useStore((state) => state.saved);
  // Something of a stream is always on its way to the disk.
  const late = useLate(saved);
  const goTo = useStore((state) => state.actions.goTo);
  const job = useJob();
  if (session === null || view === null || job === null) {
    return (
      <NoSession
        place="Handover"
        next="No session is open. Open the one that is to be handed over, or check a parcel that you were given."
      >
        <ReceivedParcel />
      </NoSession>
    );
  }
  const measured = view.bores.filter((bore) => bore.verdict !== "not measured").length;
  return (
    <PlaceFrame
      title="Handover"
      next={
        view.complete
          ? "The walk is complete. The parcel is the proof: it holds every raw reading."
          : `The walk is not complete: ${measured} of ${view.bores.length} bores have a verdict. What there is can be handed over all the same.`
      }
    >
      <section className={styles.part} aria-labelledby="disk-heading">
        <h2 id="disk-heading">On disk</h2>
        <dl className={styles.facts}>
          <dt>File</dt>
          <dd>{session.name}</dd>
          <dt>Folder</dt>
          <dd>{info?.folder ?? "not known yet"}</dd>
          <dt>Records</dt>
          <dd>{view.n}, each sealed with the one before it</dd>
          <dt>Saved</dt>
          <dd>
            {saved.trouble === null ? (late ? "the last records are being written" : "all of it") : saved.trouble}
          </dd>
          <dt>Block</dt>
          <dd>{[job.title, job.block].filter((text) => text !== "").join(", ") || "not named"}</dd>
          <dt>Made with</dt>
          <dd>{session.simulated ? "SIMULATED gauges: this proves nothing about a block" : "gauges at the bench"}</dd>
        </dl>
      </section>
      <ParcelSection />
      <ReportSection key={session.id} name={session.id.replace(/\.bwsession$/, "")} />
      <section className={styles.part} aria-labelledby="proof-heading">
        <h2 id="proof-heading">The record alone</h2>
        <p>
          Every raw line of every gauge and every step taken, in plain text. Whoever has it gets the same verdicts by
          Recheck, and a changed line breaks the seal.
        </p>
        <div className={styles.buttons}>
          <ExportButtons kinds={EVERYTHING} />
          <Button onClick={() => goTo("Recheck")}>Recheck it first</Button>
        </div>
      </section>
      <section className={styles.part} aria-labelledby="tables-heading">
        <h2 id="tables-heading">Tables and result</h2>
        <p>What follows from the record, for a spreadsheet or another program. They carry no seal of their own.</p>
        <DecimalChoice label="Numbers in the tables" />
        <div className={styles.buttons}>
          <ExportButtons kinds={TABLES} />
        </div>
      </section>
      <ReceivedParcel />
    </PlaceFrame>
  );
}
