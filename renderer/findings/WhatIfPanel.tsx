import { type ReactNode, useState } from "react";
import type { BoreFinding } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import { type Result, resultSchema } from "../../core/report/result.ts";
import { type Job, lifterNames } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { printLength } from "../parts/figure/printLength.ts";
import { useAnswer, useMeasured } from "../parts/useAnswer.ts";
import { DeskPlan } from "../plan/DeskPlan.tsx";
import { compareBores } from "../recheck/compareBores.ts";
import { VerdictsBeside } from "../recheck/VerdictsBeside.tsx";
import { useStore } from "../store/store.ts";
import styles from "./findings.module.css";
import { ruleInWords } from "./ruleInWords.ts";
import { readWhatIf, useWhatIf, type WhatIfDraft, type WhatIfErrors } from "./whatIfDesk.ts";

const LIMITS: readonly { readonly value: WhatIfDraft["limits"]; readonly text: string }[] = [
  { value: "job", text: "As in the job" },
  { value: "flat", text: "Flat lifter, common practice" },
  { value: "roller", text: "Roller lifter, common practice" },
  { value: "own", text: "Others" },
];
const RULES: readonly { readonly value: WhatIfDraft["rule"]; readonly text: string }[] = [
  { value: "job", text: "As in the job" },
  { value: "guarded", text: "Guarded" },
  { value: "simple", text: "Simple" },
];

/** A look at the findings with something else than what is recorded; the record is never touched. */
export function WhatIfPanel({
  session,
  job,
  view,
  chosen,
  onChoose,
}: {
  readonly session: string;
  readonly job: Job;
  readonly view: SessionView;
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  const { draft, show, change } = useWhatIf(session);
  const { input, words, errors } = readWhatIf(draft);
  const measured = useMeasured();
  const answer = useAnswer(
    "session.whatIf",
    input === null ? null : { whatIf: input },
    measured,
    ({ result }): Result | null => {
      const parsed = resultSchema.safeParse(result);
      return parsed.success ? parsed.data : null;
    },
  );
  return (
    <section className={styles.whatIf} aria-labelledby="what-if-heading">
      <div className={styles.whatIfHead}>
        <div>
          <h2 id="what-if-heading">What if</h2>
          <p className={styles.basis}>Try what is not so. Nothing of it is recorded, and the findings below stay.</p>
        </div>
        <Button onClick={() => show(false)}>Back to the record</Button>
      </div>
      <Fields job={job} draft={draft} errors={errors} change={change} />
      <div role="status">
        {answer.refused === null ? null : (
          <p className={styles.advice}>
            <span aria-hidden="true">▲ </span>
            {answer.refused}
          </p>
        )}
        {answer.busy && answer.value === null ? <p className={styles.basis}>Working it out…</p> : null}
        {input === null ? (
          <p className={styles.basis}>
            {Object.keys(errors).length === 0
              ? "Nothing differs from the record yet: change a field, and the answer stands here at once."
              : "Nothing is worked out while a field can not be read."}
          </p>
        ) : null}
      </div>
      {answer.value === null ? null : (
        <Outcome result={answer.value} words={words} job={job} view={view} chosen={chosen} onChoose={onChoose} />
      )}
    </section>
  );
}

function Fields({
  job,
  draft,
  errors,
  change,
}: {
  readonly job: Job;
  readonly draft: WhatIfDraft;
  readonly errors: WhatIfErrors;
  readonly change: (part: Partial<WhatIfDraft>) => void;
}): ReactNode {
  const [adding, setAdding] = useState<string | null>(null);
  const names = lifterNames(job);
  const single = Object.keys(draft.lifters);
  const others = names.filter((name) => !single.includes(name));
  const next = adding !== null && others.includes(adding) ? adding : (others[0] ?? "");
  const length = (
    key: "low" | "high" | "preferredLow" | "preferredHigh" | "everyLifter",
    label: string,
    hint: string,
  ) => (
    <Field
      label={label}
      value={draft[key]}
      placeholder={hint}
      autoComplete="off"
      onChange={({ target }) => change({ [key]: target.value })}
      error={errors[key]}
    />
  );
  return (
    <>
      <div className={styles.whatIfChoices}>
        <Choices label="Limits" value={draft.limits} options={LIMITS} onChoose={(limits) => change({ limits })} />
        <Choices label="Decision rule" value={draft.rule} options={RULES} onChoose={(rule) => change({ rule })} />
      </div>
      <div className={styles.whatIfFields}>
        {draft.limits === "own" ? (
          <>
            {length("low", "Smallest clearance", "0.0013 in")}
            {length("high", "Largest clearance", "0.0019 in")}
            {length("preferredLow", "Preferred from", "none")}
            {length("preferredHigh", "Preferred to", "none")}
          </>
        ) : null}
        {length("everyLifter", "Every lifter, as of a new set", "as measured")}
        <Field
          label="Block, °C"
          inputMode="decimal"
          value={draft.blockC}
          placeholder="as recorded"
          autoComplete="off"
          onChange={({ target }) => change({ blockC: target.value })}
          error={errors.blockC}
        />
        <Field
          label="Lifters and micrometer, °C"
          inputMode="decimal"
          value={draft.lifterC}
          placeholder="as recorded"
          autoComplete="off"
          onChange={({ target }) => change({ lifterC: target.value })}
          error={errors.lifterC}
        />
        {single.map((name) => (
          <Field
            key={name}
            label={`Lifter ${name}`}
            value={draft.lifters[name] ?? ""}
            placeholder="as measured"
            autoComplete="off"
            onChange={({ target }) => change({ lifters: { ...draft.lifters, [name]: target.value } })}
            error={errors[`lifters.${name}`]}
          />
        ))}
        {others.length === 0 ? null : (
          <div className={styles.addLifter}>
            <Choice
              label="One lifter of another size"
              value={next}
              options={others.map((name) => ({ value: name, text: name }))}
              onChange={({ target }) => setAdding(target.value)}
            />
            <Button onClick={() => change({ lifters: { ...draft.lifters, [next]: "" } })}>Add it</Button>
          </div>
        )}
      </div>
    </>
  );
}

function Outcome({
  result,
  words,
  job,
  view,
  chosen,
  onChoose,
}: {
  readonly result: Result;
  readonly words: readonly string[];
  readonly job: Job;
  readonly view: SessionView;
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const bores = compareBores(view.bores, result.bores);
  const changed = bores.filter((bore) => bore.changed);
  const findings = view.bores.map((bore): BoreFinding => {
    const other = bores.find(({ name }) => name === bore.name)?.after;
    return other === null || other === undefined ? bore : { ...bore, ...other };
  });
  return (
    <>
      <h3>
        What if {words.join(", ")}:{" "}
        {changed.length === 0 ? "every verdict stays" : `${changed.length} of ${bores.length} verdicts change`}
        {changed.length === 0 ? "" : ` (${changed.map(({ name }) => name).join(", ")})`}
      </h3>
      <p className={styles.basis}>
        Judged against <Figure length={result.limits.lowNm as Nm} /> to <Figure length={result.limits.highNm as Nm} />,{" "}
        {result.limits.source}. {ruleInWords(result.rule)}
      </p>
      <div className={styles.whatIfBeside}>
        <VerdictsBeside
          bores={bores}
          word="What-if"
          caption="Recorded and what-if verdicts bore by bore"
          chosen={chosen}
          onChoose={onChoose}
        />
        <figure className={styles.planSide}>
          <figcaption>
            <strong>What if:</strong> the block as it would be judged, with its largest and smallest clearances.
          </figcaption>
          <DeskPlan
            layout={job.layout}
            findings={findings}
            here={chosen}
            hereWord="looked at"
            width={[520, 760]}
            figures={({ clearanceMinNm, clearanceMaxNm }) =>
              clearanceMinNm === null || clearanceMaxNm === null
                ? []
                : [
                    ...new Set(
                      [clearanceMaxNm, clearanceMinNm].map((nm) => printLength(nm, unit).text.replace("-", "−")),
                    ),
                  ]
            }
          />
        </figure>
      </div>
    </>
  );
}
