import { type ReactNode, useState } from "react";
import type { WhatIfInput } from "../../core/bridge/messages.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import { type Pairing, pairingSchema } from "../../core/report/pairingSchema.ts";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import { otherLifter } from "../findings/lifterWords.ts";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { type Answer, useAnswer, useMeasured } from "../parts/useAnswer.ts";
import { DeskPlan } from "../plan/DeskPlan.tsx";
import { LifterWays } from "../plan/LifterWays.tsx";
import { TurnButton } from "../plan/TurnButton.tsx";
import { useStore } from "../store/store.ts";
import { BenchList } from "./BenchList.tsx";
import { Constraints } from "./Constraints.tsx";
import { GainTable } from "./GainTable.tsx";
import { longBank } from "./longBank.ts";
import { movedLifters, waysOf } from "./pairingMoves.ts";
import styles from "./remedy.module.css";
import type { RemedyDesk } from "./remedyDesk.ts";

export interface PairingSheetProps {
  readonly job: Job;
  readonly view: SessionView;
  readonly desk: RemedyDesk;
  readonly change: (part: Partial<RemedyDesk>) => void;
  /** Planned under this instead of the record; null for the record. */
  readonly whatIf: WhatIfInput | null;
}

/** Which lifter goes into which bore: what it gains, the bench list in walking order, and what it must respect. */
export function PairingSheet({ job, view, desk, change, whatIf }: PairingSheetProps): ReactNode {
  const answer = usePairing(desk, whatIf);
  const pairing = answer.value;
  const goTo = useStore((state) => state.actions.goTo);
  const missing = answer.refused !== null && view.lifters.some(({ diameterNm }) => diameterNm === null);
  return (
    <>
      <div role="status" className={styles.status}>
        {answer.refused === null ? null : (
          <p className={styles.refused}>
            <span aria-hidden="true">▲ </span>
            <strong>No order of the lifters can be given.</strong> {answer.refused}
          </p>
        )}
        {answer.busy && pairing === null ? <p className={styles.soft}>Looking for the best order…</p> : null}
      </div>
      {missing ? (
        <div>
          <Button onClick={() => goTo("Lifters")}>Go to Lifters</Button>
        </div>
      ) : null}
      {pairing === null ? null : <Gain pairing={pairing} stale={answer.busy} view={view} whatIf={whatIf !== null} />}
      <Constraints
        job={job}
        notes={desk.notes}
        lifter={desk.lifter}
        clash={answer.refused !== null && Object.keys(desk.notes).length > 0}
        change={change}
      />
      {pairing === null ? null : <Found pairing={pairing} job={job} view={view} desk={desk} change={change} />}
    </>
  );
}

/** What the moves bring, and taking them. */
function Gain({
  pairing,
  stale,
  view,
  whatIf,
}: {
  readonly pairing: Pairing;
  readonly stale: boolean;
  readonly view: SessionView;
  readonly whatIf: boolean;
}): ReactNode {
  const moves = movedLifters(pairing);
  const away = view.bores.filter((bore) => otherLifter(bore) !== null);
  return (
    <section aria-labelledby="gain-heading" className={styles.part}>
      <h2 id="gain-heading">{headline(pairing, moves.length)}</h2>
      <GainTable pairing={pairing} bores={pairing.assignments.length} />
      {pairing.notes.map((note) => (
        <p key={note} className={styles.note}>
          {note}
        </p>
      ))}
      <Accept pairing={pairing} moves={moves.length} away={away.length} stale={stale} whatIf={whatIf} />
    </section>
  );
}

/** The pairing under what is tried on the desk. */
export function usePairing(desk: RemedyDesk, whatIf: WhatIfInput | null): Answer<Pairing> {
  const measured = useMeasured();
  const input = { notes: desk.notes, ...(whatIf === null ? {} : { whatIf }) } as const;
  return useAnswer("session.pairing", input as never, measured, ({ pairing }) => {
    const parsed = pairingSchema.safeParse(pairing);
    return parsed.success ? parsed.data : null;
  });
}

function Found({
  pairing,
  job,
  view,
  desk,
  change,
}: Omit<PairingSheetProps, "whatIf"> & { readonly pairing: Pairing }): ReactNode {
  return (
    <>
      <div className={styles.beside}>
        <section aria-labelledby="bench-heading" className={styles.part}>
          <div className={styles.partHead}>
            <h2 id="bench-heading">Bench list, in walking order</h2>
            <Button data-print="no" onClick={() => window.print()}>
              Print it
            </Button>
          </div>
          <BenchList
            pairing={pairing}
            onlyMoves={desk.onlyMoves}
            chosen={desk.bore}
            onChoose={(bore) => change({ bore })}
            onOnlyMoves={(onlyMoves) => change({ onlyMoves })}
          />
        </section>
        <MovesPlan pairing={pairing} job={job} view={view} chosen={desk.bore} onChoose={(bore) => change({ bore })} />
      </div>
      {pairing.leftOver.length === 0 ? null : (
        <section aria-labelledby="over-heading" className={styles.part}>
          <h2 id="over-heading">Lifters left over</h2>
          <ul className={styles.inline}>
            {pairing.leftOver.map((name) => (
              <li key={name}>
                <strong>{name}</strong>{" "}
                <Figure
                  length={view.lifters.find((lifter) => lifter.name === name)?.diameterNm ?? null}
                  kind="diameter"
                  none="not measured"
                />
              </li>
            ))}
          </ul>
        </section>
      )}
      {pairing.leftOut.length === 0 ? null : (
        <section aria-labelledby="out-heading" className={styles.part}>
          <h2 id="out-heading">Bores left as they are</h2>
          <ul className={styles.lines}>
            {pairing.leftOut.map(({ bore, why }) => (
              <li key={bore}>
                <strong>{bore}</strong>: {why}
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function headline({ before, after, assignments }: Pairing, moves: number): string {
  const all = assignments.length;
  if (moves === 0) return `Every lifter is where it does best: ${after.fits} of ${all} bores fit`;
  const lifters = moves === 1 ? "One lifter changes its place" : `${moves} lifters change places`;
  return `${lifters}: ${after.fits} of ${all} bores fit then, ${before.fits} as they stand`;
}

/** Taking the pairing into the record, and taking it back. */
function Accept({
  pairing,
  moves,
  away,
  stale,
  whatIf,
}: {
  readonly pairing: Pairing;
  readonly moves: number;
  readonly away: number;
  readonly stale: boolean;
  readonly whatIf: boolean;
}): ReactNode {
  const { act, goTo } = useStore((state) => state.actions);
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const readOnly = useStore((state) => state.session?.readOnly ?? true);
  const [busy, setBusy] = useState(false);
  const [done, setDone] = useState<string | null>(null);
  const why = !mayAct
    ? "Another window is in charge; this one may look, not act."
    : readOnly
      ? "The session is open only to look at. Open it to go on with it, and the moves can be accepted."
      : whatIf
        ? "Worked out under a what-if. Go back to the record to accept moves."
        : null;
  const give = async (assignments: readonly { bore: string; lifter: string }[], words: string) => {
    setBusy(true);
    setDone(null);
    const taken = await act({ type: "pairing", assignments: [...assignments] });
    setBusy(false);
    if (taken) setDone(words);
  };
  return (
    <>
      <div className={styles.buttons} data-print="no">
        <Button
          kind="main"
          disabled={busy || stale || moves === 0 || why !== null}
          onClick={() =>
            void give(
              pairing.assignments.map(({ bore, lifter }) => ({ bore, lifter })),
              "Recorded. Findings now speak of the lifter that goes into each bore.",
            )
          }
        >
          Accept these moves
        </Button>
        <Button
          disabled={busy || away === 0 || why !== null}
          onClick={() => void give([], "Recorded. Every lifter is back in its own bore.")}
        >
          Put every lifter back
        </Button>
        {done === null ? null : <Button onClick={() => goTo("Findings")}>Go to Findings</Button>}
      </div>
      <p role="status" className={styles.done}>
        {done}
      </p>
      {why === null ? null : <p className={styles.soft}>{why}</p>}
      <p className={styles.caution}>
        Take out every lifter that moves before the first goes in, and mark each with the bore it was measured for. A
        flat lifter that has run is worn to its own lobe: mark it as used, and it stays. The maker's sheet comes first.
      </p>
    </>
  );
}

/** The block with each lifter's name in its bore, as it stands or after the moves. */
function MovesPlan({
  pairing,
  job,
  view,
  chosen,
  onChoose,
}: {
  readonly pairing: Pairing;
  readonly job: Job;
  readonly view: SessionView;
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  const [shown, setShown] = useState<"after" | "now">("after");
  const long = longBank(job.layout);
  const after = shown === "after";
  const assigned = new Map(pairing.assignments.map((one) => [one.bore, one]));
  const findings = view.bores.map((bore): BoreFinding => {
    const one = assigned.get(bore.name);
    if (one === undefined) return bore;
    const { verdict, preferred, clearanceMinNm, clearanceMaxNm } = after ? one : one.before;
    return {
      ...bore,
      verdict,
      preferred,
      clearanceMinNm: clearanceMinNm as Nm,
      clearanceMaxNm: clearanceMaxNm as Nm,
    };
  });
  const lifterIn = (bore: string) => {
    const one = assigned.get(bore);
    if (one === undefined) return null;
    const name = after ? one.lifter : one.before.lifter;
    return { name, moved: name !== bore };
  };
  const ways = waysOf(pairing);
  return (
    <section aria-labelledby="moves-heading" className={styles.planSide}>
      <h2 id="moves-heading">Where each lifter goes</h2>
      <div data-print="no">
        <Choices
          label="Lifters in the bores"
          value={shown}
          options={[
            { value: "after", text: "After the moves" },
            { value: "now", text: "As they stand" },
          ]}
          onChoose={setShown}
        />
      </div>
      <DeskPlan
        layout={job.layout}
        findings={findings}
        here={chosen}
        hereWord="looked at"
        width={[long ? 320 : 420, 640]}
        long={long}
        onChoose={onChoose}
        lifterIn={lifterIn}
        {...(after ? { under: (geometry) => <LifterWays geometry={geometry} ways={ways} here={chosen} /> } : {})}
      />
      <p className={styles.soft}>
        In each bore its lifter's name, doubly ringed where it moves; the mark beside it is the verdict with that
        lifter.
        {after ? " The lines lead from where a lifter stands now to where it goes." : null}
      </p>
      <div data-print="no">
        <TurnButton />
      </div>
    </section>
  );
}
