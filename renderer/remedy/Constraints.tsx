import { type ReactNode, useRef } from "react";
import { type Job, type LifterNote, lifterNames } from "../../core/session/job.ts";
import { Button } from "../parts/Button.tsx";
import { Check } from "../parts/Choices.tsx";
import { Details } from "../parts/Details.tsx";
import { Choice } from "../parts/Field.tsx";
import { NameButton } from "../parts/NameButton.tsx";
import {
  lifterConstraints,
  NO_TIE_BAR,
  type NoteChange,
  noteInWords,
  noteOf,
  oppositeLifter,
  tieBarPartners,
  withEveryNote,
  withNote,
} from "./constraints.ts";
import styles from "./remedy.module.css";
import type { RemedyDesk } from "./remedyDesk.ts";

export interface ConstraintsProps {
  readonly job: Job;
  readonly notes: RemedyDesk["notes"];
  /** The lifter whose constraints are open; null = the first. */
  readonly lifter: string | null;
  /** No order keeps all of them: they are unfolded, so that one can be taken off. */
  readonly clash: boolean;
  readonly change: (part: Partial<RemedyDesk>) => void;
}

/** What the pairing must respect: for the whole set at once, and lifter by lifter. Each change is answered at once. */
export function Constraints({ job, notes, lifter, clash, change }: ConstraintsProps): ReactNode {
  const names = lifterNames(job);
  const open = lifter !== null && names.includes(lifter) ? lifter : (names[0] ?? "");
  const listed = lifterConstraints(job, notes);
  // Once something was tried it stays unfolded, also when that is taken back.
  const unfolded = useRef(false);
  unfolded.current ||= clash || Object.keys(notes).length > 0;
  const roller = job.lifter.style === "roller";
  const all = (is: (note: LifterNote) => boolean) => job.walk.every((name) => is(noteOf(job, notes, name)));
  const opposite = (name: string) => oppositeLifter(job.layout, name);
  return (
    <div data-print="no">
      <Details summary={summaryOf(listed.length)} open={unfolded.current}>
        <div className={styles.constraints}>
          <p className={styles.soft}>
            As the job says, until it is changed here to try it. What is tried here is not recorded; only accepted moves
            are.
          </p>
          <fieldset className={styles.set}>
            <legend>The whole set</legend>
            <Check
              label={roller ? "Have run before" : "Have run in this block: used flat lifters stay in their own bores"}
              checked={all((note) => note.used === true)}
              onChange={(used) => change({ notes: withEveryNote(job, notes, () => ({ used })) })}
            />
            {roller ? (
              <>
                <Check
                  label="Tie bars: intake and exhaust lifter of a cylinder move as a pair"
                  checked={all((note) => note.pairedWith !== undefined)}
                  onChange={(tied) =>
                    change({
                      notes: withEveryNote(job, notes, (name) => {
                        const other = opposite(name);
                        return tied && other !== undefined ? { pairedWith: other } : NO_TIE_BAR;
                      }),
                    })
                  }
                />
                {job.walk.some((name) => noteOf(job, notes, name).pairedWith !== undefined) ? (
                  <Check
                    label="A pair may go in turned round"
                    checked={job.walk.some((name) => noteOf(job, notes, name).mayTurn === true)}
                    onChange={(mayTurn) =>
                      change({
                        notes: withEveryNote(job, notes, (name) =>
                          noteOf(job, notes, name).pairedWith === undefined ? {} : { mayTurn },
                        ),
                      })
                    }
                  />
                ) : null}
              </>
            ) : null}
          </fieldset>
          <OneLifter job={job} notes={notes} lifter={open} names={names} change={change} />
          {listed.length === 0 ? (
            <p>Nothing is asked of any lifter: each may go anywhere.</p>
          ) : (
            <ul className={styles.constraintList} aria-label="Asked of the lifters">
              {listed.map(({ lifter: name, words, tried }) => (
                <li key={name}>
                  <NameButton name={name} onChoose={() => change({ lifter: name })} />
                  <span>
                    {words.length === 0 ? "may go anywhere" : words.join("; ")}
                    {tried ? <em> (tried here)</em> : null}
                  </span>
                </li>
              ))}
            </ul>
          )}
          {Object.keys(notes).length === 0 ? null : (
            <div>
              <Button onClick={() => change({ notes: {} })}>Back to what the job says</Button>
            </div>
          )}
        </div>
      </Details>
    </div>
  );
}

function summaryOf(asked: number): string {
  const what = "What the pairing must respect: used lifters, tie bars, pins, bores to keep from";
  return asked === 0
    ? `${what} (nothing is asked)`
    : `${what} (asked of ${asked === 1 ? "one lifter" : `${asked} lifters`})`;
}

const FREE = "";
const OWN = "own";

function OneLifter({
  job,
  notes,
  lifter,
  names,
  change,
}: Omit<ConstraintsProps, "lifter" | "clash"> & {
  readonly lifter: string;
  readonly names: readonly string[];
}): ReactNode {
  const note = noteOf(job, notes, lifter);
  const spare = job.lifters[lifter]?.spare === true;
  const partners = tieBarPartners(job, lifter);
  const say = (part: NoteChange) => change({ notes: withNote(job, notes, lifter, part), lifter });
  const stays =
    note.pinned === true || note.pinned === lifter ? OWN : typeof note.pinned === "string" ? note.pinned : FREE;
  const keptFrom = note.keptFrom ?? [];
  return (
    <fieldset className={styles.oneLifter}>
      <legend>One lifter</legend>
      <div className={styles.fields}>
        <Choice
          label="Lifter"
          value={lifter}
          options={names.map((name) => ({ value: name, text: name }))}
          onChange={({ target }) => change({ lifter: target.value })}
        />
        <Choice
          label="Where it must go"
          value={stays}
          options={[
            { value: FREE, text: "anywhere" },
            ...(spare ? [] : [{ value: OWN, text: "stays in its own bore" }]),
            ...job.walk.filter((bore) => bore !== lifter).map((bore) => ({ value: bore, text: `into bore ${bore}` })),
          ]}
          onChange={({ target }) =>
            say({ pinned: target.value === FREE ? false : target.value === OWN ? true : target.value })
          }
        />
        <Choice
          label="Tie bar with"
          value={note.pairedWith ?? FREE}
          options={[
            { value: FREE, text: "none" },
            ...partners.map((name) => ({ value: name, text: `lifter ${name}` })),
          ]}
          onChange={({ target }) => say(target.value === FREE ? NO_TIE_BAR : { pairedWith: target.value })}
        />
        <div className={styles.checks}>
          <Check label="It has run before" checked={note.used === true} onChange={(used) => say({ used })} />
          {note.pairedWith === undefined ? null : (
            <Check
              label="The pair may turn round"
              checked={note.mayTurn === true}
              onChange={(mayTurn) => say({ mayTurn })}
            />
          )}
        </div>
      </div>
      <fieldset>
        <legend className={styles.label}>Kept from bores</legend>
        <div className={styles.boreChecks}>
          {job.walk.map((bore) => (
            <Check
              key={bore}
              label={bore}
              checked={keptFrom.includes(bore)}
              onChange={(kept) =>
                say({ keptFrom: kept ? [...keptFrom, bore] : keptFrom.filter((one) => one !== bore) })
              }
            />
          ))}
        </div>
      </fieldset>
      <p className={styles.soft}>
        {lifter}: {noteInWords(lifter, note, job.lifter.style).join("; ") || "may go anywhere"}.
      </p>
    </fieldset>
  );
}
