import { type ReactNode, useState } from "react";
import type { MethodInput, MethodOutput } from "../../core/bridge/messages.ts";
import type { Nm } from "../../core/length/nm.ts";
import { type Result, resultSchema } from "../../core/report/result.ts";
import type { SessionView } from "../../core/session/view.ts";
import { ruleInWords } from "../findings/ruleInWords.ts";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { NoSession } from "../parts/NoSession.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { ReplaySheet } from "../replay/ReplaySheet.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { ComparePanel } from "./ComparePanel.tsx";
import { compareBores } from "./compareBores.ts";
import styles from "./recheck.module.css";
import { SmallestBeside } from "./SmallestBeside.tsx";
import { SweepsAgain } from "./SweepsAgain.tsx";
import { VerdictsBeside } from "./VerdictsBeside.tsx";

type LimitsChoice = NonNullable<MethodInput<"session.recheck">["limits"]>;
type RuleChoice = NonNullable<MethodInput<"session.recheck">["rule"]>;
type ValueChoice = NonNullable<MethodInput<"session.recheck">["sweepValue"]>;

const LIMITS: readonly { value: LimitsChoice; text: string }[] = [
  { value: "job", text: "As in the job" },
  { value: "flat", text: "Flat lifter, common practice" },
  { value: "roller", text: "Roller lifter, common practice" },
];
const RULES: readonly { value: RuleChoice; text: string }[] = [
  { value: "job", text: "As in the job" },
  { value: "guarded", text: "Guarded" },
  { value: "simple", text: "Simple" },
];

const VALUES: readonly { value: ValueChoice; text: string }[] = [
  { value: "turning-point", text: "Its turning point, as at the bench" },
  { value: "smallest-reading", text: "Its smallest reading" },
];

const SWEEPS = [
  { value: "job", text: "As in the job" },
  ...[2, 3, 4, 5, 6, 8, 10, 12].map((count) => ({ value: String(count), text: String(count) })),
];

interface Answer {
  /** Whether stations were judged by another agreement or number of sweeps than the job's. */
  readonly otherAgreement: boolean;
  readonly said: MethodOutput<"session.recheck">;
  readonly result: Result | null;
  /** Events applied to the session when it was rechecked. */
  readonly n: number;
}

/** The open session read again from its raw lines, by the same code; other limits or rules beside the recorded ones. */
export function RecheckPlace(): ReactNode {
  const session = useStore((state) => state.session);
  const view = useStore((state) => state.view);
  const job = useJob();
  const call = useStore((state) => state.actions.call);
  const [limits, setLimits] = useState<LimitsChoice>("job");
  const [rule, setRule] = useState<RuleChoice>("job");
  const [agreement, setAgreement] = useState("");
  const [sweeps, setSweeps] = useState("job");
  const [sweepValue, setSweepValue] = useState<ValueChoice>("turning-point");
  const [answer, setAnswer] = useState<(Answer & { readonly session: string }) | null>(null);
  const [busy, setBusy] = useState(false);
  const [watching, setWatching] = useState(false);

  if (session !== null && watching) return <ReplaySheet key={session.id} onLeave={() => setWatching(false)} />;
  if (session === null || view === null) {
    return (
      <NoSession place="Recheck" next="No session is open. Open one, or drop its file on Start, to read it again." />
    );
  }
  const recheck = async () => {
    setBusy(true);
    const other = {
      ...(agreement.trim() === "" ? {} : { agreement: agreement.trim() }),
      ...(sweeps === "job" ? {} : { sweepsPerStation: Number(sweeps) }),
    };
    const said = await call("session.recheck", { limits, rule, sweepValue, ...other });
    setBusy(false);
    if (said === null) return;
    const parsed = resultSchema.safeParse(said.result);
    setAnswer({
      otherAgreement: Object.keys(other).length > 0,
      said,
      result: parsed.success ? parsed.data : null,
      n: view.n,
      session: session.id,
    });
  };
  const shown = answer !== null && answer.session === session.id ? answer : null;
  return (
    <PlaceFrame
      title="Recheck"
      next="Read this session again from its raw lines, and compare with what was recorded at the bench."
      actions={
        <>
          <Button onClick={() => setWatching(true)}>Watch it again</Button>
          <Button kind="main" disabled={busy} onClick={() => void recheck()}>
            {busy ? "Reading it again" : "Recheck now"}
          </Button>
        </>
      }
    >
      {session.derivedFrom === undefined ? null : (
        <p>
          <strong>Derived</strong> from {session.derivedFrom.name}, whose last seal is{" "}
          <span className={styles.seal}>{session.derivedFrom.seal}</span>.
        </p>
      )}
      <div className={styles.choices}>
        <Choices label="Limits" value={limits} options={LIMITS} onChoose={setLimits} />
        <Choices label="Decision rule" value={rule} options={RULES} onChoose={setRule} />
        <Choices label="What counts of a sweep" value={sweepValue} options={VALUES} onChoose={setSweepValue} />
        <Field
          label="Sweeps agree within"
          value={agreement}
          placeholder="as in the job"
          hint="such as 0.00015 in"
          autoComplete="off"
          onChange={({ target }) => setAgreement(target.value)}
        />
        <Choice
          label="Sweeps that must agree"
          value={sweeps}
          options={SWEEPS}
          onChange={({ target }) => setSweeps(target.value)}
        />
      </div>
      <div role="status">{shown === null ? null : <Said answer={shown} view={view} />}</div>
      {shown === null ? (
        <p className={styles.soft}>
          Nothing is rechecked yet. A recheck changes nothing in the file: other limits or another rule stand beside the
          recorded verdicts, not in their place.
        </p>
      ) : (
        <Compared answer={shown} view={view} agreementNm={job?.agreementNm ?? 0} />
      )}
      <SweepsAgain view={view} />
      <ComparePanel key={session.id} session={session.id} view={view} />
    </PlaceFrame>
  );
}

/** Whether it agrees, and the seal. */
function Said({ answer, view }: { readonly answer: Answer; readonly view: SessionView }): ReactNode {
  const { agrees, seal, differences } = answer.said;
  const places = differences.length === 1 ? "one place" : `${differences.length} places`;
  return (
    <div className={styles.said}>
      <p className={styles.agrees}>
        <span aria-hidden="true">{agrees ? "=" : "≠"}</span>{" "}
        {agrees
          ? "It agrees: every value recorded at the bench comes out again."
          : answer.otherAgreement
            ? `Judged by another agreement, it comes out otherwise in ${places}.`
            : `It differs in ${places}.`}
      </p>
      <p>
        Seal: <strong>{seal}</strong>
      </p>
      {differences.length === 0 ? null : (
        <ul className={styles.differences} aria-label="Differences">
          {differences.map((difference) => (
            <li key={difference}>{difference}</li>
          ))}
        </ul>
      )}
      {view.n === answer.n ? null : <p>The session has gone on since; recheck again to include it.</p>}
    </div>
  );
}

function Compared({
  answer,
  view,
  agreementNm,
}: {
  readonly answer: Answer;
  readonly view: SessionView;
  readonly agreementNm: number;
}): ReactNode {
  if (answer.result === null) return <p>The result could not be read; only the words above stand.</p>;
  const { result } = answer;
  const bores = compareBores(view.bores, result.bores);
  const changed = bores.filter((bore) => bore.changed).length;
  return (
    <section aria-labelledby="compared-heading">
      <h2 id="compared-heading">
        {changed === 0 ? "Every verdict is the same" : `${changed} of ${bores.length} verdicts are others`}
      </h2>
      <p className={styles.soft}>
        Rechecked with limits <Figure length={result.limits.lowNm as Nm} /> to{" "}
        <Figure length={result.limits.highNm as Nm} />, {result.limits.source}. {ruleInWords(result.rule)}
        {result.sweepValue === undefined ? "" : " Every sweep is read by its smallest reading."}
      </p>
      <VerdictsBeside bores={bores} word="Rechecked" caption="Recorded and rechecked verdicts bore by bore" />
      {result.sweepValue === undefined ? null : <SmallestBeside result={result} agreementNm={agreementNm} />}
    </section>
  );
}
