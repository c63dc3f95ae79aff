import { type ReactNode, useState } from "react";
import { whyNoStudy } from "../../core/report/studySession.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { useDraft } from "../job/draft.ts";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import { Field } from "../parts/Field.tsx";
import { useStore } from "../store/store.ts";
import styles from "./study.module.css";
import { namesOf, studyJob } from "./studyJob.ts";

/** Sets up a study on the live gauge and begins it as a session of its own. */
export function StudyForm(): ReactNode {
  const session = useStore((state) => state.session);
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const { call, goTo } = useStore((state) => state.actions);
  const draft = useDraft((state) => state.file);
  const [names, setNames] = useState("");
  const [repeats, setRepeats] = useState("3");
  const [clock, setClock] = useState<"axial" | "cross">("axial");
  const [chosen, setChosen] = useState<readonly string[] | null>(null);
  const [tried, setTried] = useState(false);
  const [busy, setBusy] = useState(false);

  const from: Readonly<Record<string, unknown>> = session?.job ?? draft;
  const known = boresOf(from);
  const bores = (chosen ?? known.slice(0, 5)).filter((bore) => known.includes(bore));
  const plan = { people: namesOf(names), repeats: Number(repeats), clock };
  const wrong = whyNoStudy(plan.people, plan.repeats);
  const fewBores = bores.length < 2 ? "Choose at least two bores; five or more tell more." : null;

  const begin = async () => {
    setTried(true);
    if (wrong !== null || fewBores !== null) return;
    setBusy(true);
    const ordered = known.filter((bore) => bores.includes(bore));
    const job = studyJob(from, ordered, plan);
    const begun = await call("session.new", { job, simulate: session?.simulating ?? false });
    setBusy(false);
    if (begun !== null) goTo(session?.simulating ? "Zero" : "Gauges");
  };
  const toggle = (bore: string) =>
    setChosen(bores.includes(bore) ? bores.filter((one) => one !== bore) : [...bores, bore]);
  const readings = plan.people.length * plan.repeats * bores.length;
  return (
    <section aria-labelledby="study-begin" className={styles.part}>
      <h2 id="study-begin">Run a study on the gauge</h2>
      <p className={styles.soft}>
        It is recorded as a session of its own, with the bore gauge and limits of{" "}
        {session === null ? "the job being set up" : "this session, which is kept and closed"}. Take the zero in the
        micrometer, then go round the bores: at each one everybody measures in turn, and then again, hands-free as in a
        walk, and the station names whose turn it is. Draw the gauge right out between two people. Every raw line is
        kept. Findings of such a session speak of people, not of the block.
      </p>
      <div className={styles.fields}>
        <Field
          label="People, with commas between"
          value={names}
          placeholder="first, second"
          onChange={(event) => setNames(event.target.value)}
          error={tried ? wrong : null}
        />
        <Field
          label="Repeats"
          inputMode="numeric"
          value={repeats}
          onChange={(event) => setRepeats(event.target.value.trim())}
        />
        <Choices
          label="Direction of the contacts"
          value={clock}
          options={[
            { value: "axial", text: "Along the crank" },
            { value: "cross", text: "Across" },
          ]}
          onChoose={setClock}
        />
      </div>
      <fieldset>
        <legend className={styles.says}>Bores</legend>
        <div className={styles.bores}>
          {known.map((bore) => (
            <label key={bore} className={styles.boreChoice} data-chosen={bores.includes(bore)}>
              <input type="checkbox" checked={bores.includes(bore)} onChange={() => toggle(bore)} />
              {bore}
            </label>
          ))}
        </div>
        {fewBores === null ? null : <p>{fewBores}</p>}
      </fieldset>
      <p className={styles.begin}>
        <Button disabled={!mayAct || busy} onClick={() => void begin()}>
          Begin the study
        </Button>
        {wrong === null && fewBores === null ? <span>{readings} readings in all.</span> : null}
      </p>
    </section>
  );
}

/** Bores of a job in walking order; none while the job makes no sense. */
function boresOf(job: Readonly<Record<string, unknown>>): readonly string[] {
  try {
    return parseJob({ format: "borewright/job", version: 1, layout: job.layout }).walk;
  } catch {
    return parseJob({ format: "borewright/job", version: 1 }).walk;
  }
}
