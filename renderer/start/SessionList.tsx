import { type ReactNode, useDeferredValue, useState } from "react";
import { Button } from "../parts/Button.tsx";
import { Field } from "../parts/Field.tsx";
import { type SessionEntry, useStore } from "../store/store.ts";
import { openSession } from "./openSession.ts";
import styles from "./StartPlace.module.css";
import { found, outcome, progress, when } from "./sessionWords.ts";

/** So many sessions are shown at first, and so many more each time; thousands may be there. */
const SHOWN = 50;
/** From so many on, one wants to look for one. */
const MANY = 8;

/** The sessions kept, the last written first, with a field to find one. */
export function SessionList({
  sessions,
  mayAct,
}: {
  readonly sessions: readonly SessionEntry[];
  readonly mayAct: boolean;
}): ReactNode {
  const [asked, setAsked] = useState("");
  const [shown, setShown] = useState(SHOWN);
  const matching = found(sessions, useDeferredValue(asked)).toSorted((a, b) => b.modified.localeCompare(a.modified));
  return (
    <>
      {sessions.length < MANY ? null : (
        <div className={styles.find}>
          <Field
            label="Find a session"
            hint="by job, block, day, or outcome, such as: too loose"
            type="search"
            value={asked}
            autoComplete="off"
            onChange={({ target }) => {
              setAsked(target.value);
              setShown(SHOWN);
            }}
          />
          <p role="status" className={styles.soft}>
            {matching.length === sessions.length
              ? `${sessions.length} sessions`
              : `${matching.length} of ${sessions.length} sessions`}
          </p>
        </div>
      )}
      {matching.length === 0 ? (
        <p className={styles.soft}>No session says “{asked}”.</p>
      ) : (
        <SessionTable sessions={matching.slice(0, shown)} mayAct={mayAct} />
      )}
      {matching.length <= shown ? null : (
        <Button onClick={() => setShown(shown + SHOWN)}>
          Show {Math.min(SHOWN, matching.length - shown)} more of {matching.length}
        </Button>
      )}
    </>
  );
}

function SessionTable({
  sessions,
  mayAct,
}: {
  readonly sessions: readonly SessionEntry[];
  readonly mayAct: boolean;
}): ReactNode {
  const openId = useStore((state) => state.session?.id ?? null);
  return (
    <table className={styles.table}>
      <thead>
        <tr>
          <th scope="col">Job</th>
          <th scope="col">Block</th>
          <th scope="col">Last worked on</th>
          <th scope="col">Measured</th>
          <th scope="col">Found</th>
          <th scope="col">
            <span className="unseen">Open it</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {sessions.map((entry) => (
          <tr key={entry.id}>
            <th scope="row">
              {entry.title || entry.id}
              {entry.simulated ? <span className={styles.simulated}> simulated</span> : null}
            </th>
            <td>{entry.block}</td>
            <td className={styles.when}>{when(entry.modified)}</td>
            <td className={entry.trouble === null ? styles.when : undefined}>
              {entry.trouble === null ? progress(entry) : <strong>▲ {entry.trouble}</strong>}
            </td>
            <td>{outcome(entry)}</td>
            <td>
              {entry.id === openId ? (
                <span className={styles.openMark}>open</span>
              ) : (
                <div className={styles.row}>
                  <Button
                    disabled={!mayAct || entry.trouble !== null}
                    onClick={() => void openSession(entry.id, false, { simulate: entry.simulated })}
                    aria-label={`Go on with ${entry.title || entry.id}`}
                  >
                    Go on
                  </Button>
                  <Button
                    disabled={!mayAct}
                    onClick={() => void openSession(entry.id, true)}
                    aria-label={`Only look at ${entry.title || entry.id}`}
                  >
                    Only look
                  </Button>
                </div>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
