import { type ReactNode, useState } from "react";
import type { BoreFinding, Verdict } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import { studyPlanOf } from "../../core/report/studySession.ts";
import { type FeelView, handDisagrees } from "../../core/session/feel.ts";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import { Button } from "../parts/Button.tsx";
import { lengthText, printLength } from "../parts/figure/printLength.ts";
import { NoSession } from "../parts/NoSession.tsx";
import { Notices } from "../parts/Notices.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { DeskPlan } from "../plan/DeskPlan.tsx";
import { TurnButton } from "../plan/TurnButton.tsx";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { ZeroLog } from "../zero/ZeroLog.tsx";
import { BoreSheet } from "./BoreSheet.tsx";
import { ExportButtons } from "./ExportButtons.tsx";
import styles from "./findings.module.css";
import { otherLifter } from "./lifterWords.ts";
import { ruleInWords } from "./ruleInWords.ts";
import { StationsTable } from "./StationsTable.tsx";
import { StripChart } from "./StripChart.tsx";
import { WhatIfPanel } from "./WhatIfPanel.tsx";
import { useWhatIf } from "./whatIfDesk.ts";

/** What was found: every clearance with its uncertainty, the verdicts and what they rest on. */
export function FindingsPlace(): ReactNode {
  const job = useJob();
  const session = useStore((state) => state.session?.id ?? null);
  const view = useStore((state) => state.view);
  if (job === null || session === null || view === null) {
    return <NoSession place="Findings" next="No session is open. Open one to see what was found." />;
  }
  return <Findings session={session} job={job} view={view} />;
}

const UNIT_WORDS = {
  in: "inches",
  tenths: "tenths of a thousandth inch",
  mm: "millimetres",
  µm: "micrometres",
} as const;
const VERDICTS: readonly Verdict[] = ["fits", "too tight", "too loose", "undecided", "not measured"];

function Findings({
  session,
  job,
  view,
}: {
  readonly session: string;
  readonly job: Job;
  readonly view: SessionView;
}): ReactNode {
  const whatIf = useWhatIf(session);
  const unit = useStore((state) => state.settings.unit);
  const simulated = useStore((state) => state.session?.simulated ?? false);
  const { goTo } = useStore((state) => state.actions);
  const [asked, setAsked] = useState<string | null>(null);
  const measured = view.bores.filter((bore) => bore.stations.length > 0);
  const chosen = asked ?? worstFirst(measured)?.name ?? null;
  const finding = view.bores.find((bore) => bore.name === chosen) ?? null;
  const print = (length: Nm) => lengthText(length, unit);
  const figures = ({ clearanceMinNm, clearanceMaxNm }: BoreFinding): string[] => {
    if (clearanceMinNm === null || clearanceMaxNm === null) return [];
    const texts = [clearanceMaxNm, clearanceMinNm].map((length) => printLength(length, unit).text.replace("-", "−"));
    return [...new Set(texts)];
  };

  if (measured.length === 0) {
    return (
      <PlaceFrame
        title="Findings"
        next="No bore is measured yet. Each station appears here as soon as it is kept."
        actions={
          <Button kind="main" onClick={() => goTo("Bores")}>
            Go to Bores
          </Button>
        }
      >
        <Notices notices={view.notices} cured />
        <ZeroLog references={view.references} />
      </PlaceFrame>
    );
  }
  return (
    <PlaceFrame
      title="Findings"
      next={<Tally bores={view.bores} />}
      actions={
        <>
          {whatIf.open ? null : <Button onClick={() => whatIf.show(true)}>What if…</Button>}
          <ExportButtons />
        </>
      }
    >
      {simulated ? (
        <p>
          <strong>SIMULATED gauges:</strong> this proves nothing about a block.
        </p>
      ) : null}
      {studyPlanOf(job) === null ? null : (
        <p>
          <strong>A gauge study:</strong> its stations are people and repeats at one place, so the verdicts and the
          taper below say nothing about a block. The place Study says what it found of the gauge.
        </p>
      )}
      <p className={styles.basis}>
        Limits {print(job.limits.lowNm)} to {print(job.limits.highNm)} at 20 °C, source: {job.limits.source}. The
        maker's sheet always wins. {ruleInWords(job.rule)}
      </p>
      <Paired bores={view.bores} />
      <Disagreeing bores={view.bores} feel={view.feel} />
      {whatIf.open ? <WhatIfPanel session={session} job={job} view={view} chosen={chosen} onChoose={setAsked} /> : null}
      {whatIf.open ? <h2>As recorded</h2> : null}
      <div className={styles.top}>
        <section className={styles.planSide} aria-label="Plan with clearances">
          <DeskPlan
            layout={job.layout}
            findings={view.bores}
            here={chosen}
            hereWord="shown beside"
            width={[520, 760]}
            onChoose={setAsked}
            figures={figures}
          />
          <div className={styles.planFoot}>
            <p>
              At each bore its largest and its smallest station clearance, in{" "}
              {UNIT_WORDS[printLength(job.limits.lowNm, unit).unit]}.
            </p>
            <TurnButton />
          </div>
          <ul className={styles.legend}>
            {VERDICTS.map((verdict) => (
              <li key={verdict}>
                <VerdictPicture verdict={verdict} /> {verdict}
              </li>
            ))}
            <li>
              <VerdictPicture verdict="fits" preferred /> and in the preferred band
            </li>
          </ul>
        </section>
        {finding === null ? null : <BoreSheet finding={finding} job={job} feel={view.feel} onChoose={setAsked} />}
      </div>
      <section aria-labelledby="strip-heading">
        <h2 id="strip-heading">Clearances against the limits</h2>
        <p className={styles.basis}>
          In the order of the walk. Discs along the crank, squares across it; the stroke through each is its 95 %
          uncertainty; an arrowhead lies off the chart.
        </p>
        <StripChart findings={view.bores} limits={job.limits} chosen={chosen} onChoose={setAsked} print={print} />
      </section>
      <section aria-labelledby="table-heading">
        <h2 id="table-heading">Every station</h2>
        <StationsTable
          findings={view.bores}
          feel={view.feel}
          places={job.stations}
          chosen={chosen}
          onChoose={setAsked}
        />
        <p className={styles.basis}>A two-point gauge cannot see three-lobed form.</p>
      </section>
      <ZeroLog references={view.references} />
      <section aria-labelledby="notices-heading">
        <h2 id="notices-heading">Notices</h2>
        <Notices notices={view.notices} cured none="None." />
      </section>
    </PlaceFrame>
  );
}

/** The bore to show first: one that does not fit before one that does, in the order of the walk. */
function worstFirst(findings: readonly BoreFinding[]): BoreFinding | undefined {
  const order: readonly Verdict[] = ["too loose", "too tight", "undecided", "fits", "not measured"];
  return [...findings].sort((a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict))[0];
}

/** Which lifters stand in other bores than they were measured for, by the pairing that was accepted. */
function Paired({ bores }: { readonly bores: readonly BoreFinding[] }): ReactNode {
  const paired = bores.filter((bore) => otherLifter(bore) !== null);
  if (paired.length === 0) return null;
  return (
    <p className={styles.pairedLine}>
      <strong>A pairing is accepted.</strong> Each bore is judged against the lifter that goes into it. Others than
      their own go into {paired.map(({ name, lifter }) => `${name} (lifter ${lifter})`).join(", ")}.
    </p>
  );
}

/** Where a lifter is held by hand though the figures leave it room. */
function Disagreeing({
  bores,
  feel,
}: {
  readonly bores: readonly BoreFinding[];
  readonly feel: readonly FeelView[];
}): ReactNode {
  const held = bores.filter(({ name, verdict }) =>
    feel.some((entry) => entry.bore === name && handDisagrees(entry, verdict)),
  );
  if (held.length === 0) return null;
  return (
    <p className={styles.pairedLine}>
      <span aria-hidden="true">▲ </span>
      <strong>Hand and gauge disagree</strong> in {held.map(({ name }) => name).join(", ")}: the figures leave the
      lifter room, and by hand it does not move freely. The sheet of each bore says where to look.
    </p>
  );
}

/** How many bores have each verdict, those that need something done by name. */
function Tally({ bores }: { readonly bores: readonly BoreFinding[] }): ReactNode {
  const parts = VERDICTS.map((verdict) => ({ verdict, own: bores.filter((bore) => bore.verdict === verdict) })).filter(
    ({ own }) => own.length > 0,
  );
  return (
    <>
      {parts.map(({ verdict, own }, index) => (
        <span key={verdict}>
          {index === 0 ? "" : "; "}
          {own.length} {verdict === "fits" && own.length !== 1 ? "fit" : verdict}
          {verdict === "fits" || verdict === "not measured" ? "" : ` (${own.map((bore) => bore.name).join(", ")})`}
        </span>
      ))}
      .
    </>
  );
}
