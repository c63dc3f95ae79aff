import type { ReactNode } from "react";
import { studyPlanOf } from "../../core/report/studySession.ts";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import { ruleInWords } from "../findings/ruleInWords.ts";
import { readWhatIf, useWhatIf } from "../findings/whatIfDesk.ts";
import { Button } from "../parts/Button.tsx";
import { Check } from "../parts/Choices.tsx";
import { lengthText } from "../parts/figure/printLength.ts";
import { NoSession } from "../parts/NoSession.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { Tabs } from "../parts/Tabs.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { OptionsSheet, useRemedy } from "./OptionsSheet.tsx";
import { PairingSheet } from "./PairingSheet.tsx";
import { PlanningSheet } from "./PlanningSheet.tsx";
import styles from "./remedy.module.css";
import { type RemedySheet, useRemedyDesk } from "./remedyDesk.ts";
import { ShopSheetPart } from "./ShopSheet.tsx";

const SHEETS: readonly { readonly value: RemedySheet; readonly text: string }[] = [
  { value: "pairing", text: "Lifters to bores" },
  { value: "bores", text: "What to do with each bore" },
  { value: "shop", text: "For the machine shop" },
  { value: "running", text: "Planning figures" },
];

const NEXT: Readonly<Record<RemedySheet, string>> = {
  pairing: "First see whether the lifters there are fit better in other bores: it costs no metal.",
  bores: "Compare what can be done with a bore, and with the block as a whole.",
  shop: "Print the sheet and give it to whoever does the work; measure every bore again when it comes back.",
  running: "Estimates for planning, never a measurement: each says what it assumes.",
};

/** What is to be done about bores that do not fit: pair, hone, larger body, bush; and the sheet for the machine shop. */
export function RemedyPlace(): ReactNode {
  const job = useJob();
  const session = useStore((state) => state.session?.id ?? null);
  const view = useStore((state) => state.view);
  const goTo = useStore((state) => state.actions.goTo);
  if (job === null || session === null || view === null) {
    return <NoSession place="Remedy" next="No session is open. Open one, and its findings say what can be done." />;
  }
  if (studyPlanOf(job) !== null) {
    return (
      <PlaceFrame
        title="Remedy"
        next="This session is a gauge study: its stations are people and repeats, so there is no block to remedy."
        actions={<Button onClick={() => goTo("Study")}>Go to Study</Button>}
      />
    );
  }
  if (view.bores.every(({ verdict }) => verdict === "not measured")) {
    return (
      <PlaceFrame
        title="Remedy"
        next="No bore is measured yet. What can be done with a bore shows once every station of it is kept."
        actions={
          <Button kind="main" onClick={() => goTo("Bores")}>
            Go to Bores
          </Button>
        }
      />
    );
  }
  return <Sheets key={session} session={session} job={job} view={view} />;
}

function Sheets({
  session,
  job,
  view,
}: {
  readonly session: string;
  readonly job: Job;
  readonly view: SessionView;
}): ReactNode {
  const simulated = useStore((state) => state.session?.simulated ?? false);
  const unit = useStore((state) => state.settings.unit);
  const { desk, change } = useRemedyDesk(session);
  const tried = readWhatIf(useWhatIf(session).draft);
  const whatIf = desk.underWhatIf ? tried.input : null;
  const remedy = useRemedy(desk, whatIf);
  const missing = view.bores.filter(({ verdict }) => verdict === "not measured");
  return (
    <PlaceFrame title="Remedy" next={NEXT[desk.sheet]}>
      <p data-print="paper">{[job.title, job.block, session].filter((text) => text !== "").join(", ")}</p>
      {simulated ? (
        <p>
          <strong>SIMULATED gauges:</strong> this proves nothing about a block. Do not cut metal by it.
        </p>
      ) : null}
      {tried.input === null ? null : (
        <div className={styles.whatIf} data-on={whatIf !== null}>
          <Check
            label={`Under the what-if of Findings: ${tried.words.join(", ")}`}
            checked={desk.underWhatIf}
            onChange={(underWhatIf) => change({ underWhatIf })}
          />
          {whatIf === null ? null : (
            <p>
              <strong>WHAT IF:</strong> everything below is worked out under it, not from the record alone.
            </p>
          )}
        </div>
      )}
      {whatIf === null ? (
        <p className={styles.soft}>
          Limits {lengthText(job.limits.lowNm, unit)} to {lengthText(job.limits.highNm, unit)} at 20 °C, source:{" "}
          {job.limits.source}. {ruleInWords(job.rule)} The maker's sheet and the machinist's judgement come first.
        </p>
      ) : null}
      {missing.length === 0 ? null : (
        <p className={styles.soft}>
          {missing.length === 1 ? "One bore is" : `${missing.length} bores are`} not measured and left out:{" "}
          {missing.map(({ name }) => name).join(", ")}.
        </p>
      )}
      <Tabs label="Parts of the remedy" value={desk.sheet} options={SHEETS} onChoose={(sheet) => change({ sheet })}>
        {desk.sheet === "pairing" ? (
          <PairingSheet job={job} view={view} desk={desk} change={change} whatIf={whatIf} />
        ) : desk.sheet === "bores" ? (
          <OptionsSheet job={job} view={view} desk={desk} change={change} answer={remedy} />
        ) : desk.sheet === "shop" ? (
          <ShopSheetPart
            job={job}
            desk={desk}
            answer={remedy}
            whatIf={whatIf === null ? null : tried.words.join(", ")}
          />
        ) : (
          <PlanningSheet desk={desk} change={change} whatIf={whatIf} />
        )}
      </Tabs>
    </PlaceFrame>
  );
}
