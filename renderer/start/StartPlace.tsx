import { type DragEvent, type ReactNode, useState } from "react";
import { beginGuided, leftGuided, takeUpGuided, useGuided } from "../guided/guidedDesk.ts";
import { openHelp } from "../help/helpDesk.ts";
import { Button } from "../parts/Button.tsx";
import { classNames } from "../parts/classNames.ts";
import { FileButton } from "../parts/FileButton.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { adoptFile, openSession, placeToGoOn, trySimulated } from "./openSession.ts";
import { SessionList } from "./SessionList.tsx";
import styles from "./StartPlace.module.css";
import { progress, when } from "./sessionWords.ts";

export function StartPlace(): ReactNode {
  const sessions = useStore((state) => state.sessions);
  const open = useStore((state) => state.session);
  const job = useJob();
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const folder = useStore((state) => state.info?.folder ?? null);
  const goTo = useStore((state) => state.actions.goTo);
  const view = useStore((state) => state.view);
  // What the session was opened with is old by now.
  const now = open === null ? null : { ...open, view: view ?? open.view };
  const guided = leftGuided(
    useGuided((state) => state.session),
    sessions ?? [],
  );
  const [over, setOver] = useState(false);
  const left = sessions?.filter((entry) => !entry.complete && entry.trouble === null) ?? [];
  const newest = left.toSorted((a, b) => b.modified.localeCompare(a.modified))[0];

  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    const dropped = event.dataTransfer.files[0];
    if (dropped !== undefined && mayAct) void adoptFile(dropped);
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a place to drop a file; the button "Open a file" does the same.
    <div
      className={classNames(styles.start, over && styles.over)}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <PlaceFrame title="Start">
        <p className={styles.explanation}>
          Before a camshaft goes in, this program finds the clearance of every lifter bore, how sure it is, and how it
          compares with your limits. You set a micrometer to the lifter, zero the bore gauge in it and rock the gauge in
          each bore; the program keeps the smallest reading of every sweep while both hands stay on the gauge. First say
          what is on the bench in a new job, or, without a gauge, take the guided try.
        </p>

        <div className={styles.ways}>
          {open !== null && now !== null ? (
            <Way
              title={`Go on with ${job?.title || open.name}${open.simulated ? " (simulated)" : ""}`}
              text={guided === open.id ? "The guided try goes on where it was left." : now.view.guide.sentence}
              button={
                guided === open.id ? (
                  <GoOnGuided session={guided} main />
                ) : (
                  <Button kind="main" onClick={() => goTo(placeToGoOn(now))}>
                    Go on
                  </Button>
                )
              }
            />
          ) : newest !== undefined ? (
            <Way
              title={`Go on with ${newest.title || newest.id}${newest.simulated ? " (simulated)" : ""}`}
              text={`${progress(newest)}. Last worked on ${when(newest.modified)}.`}
              button={
                newest.id === guided ? (
                  <GoOnGuided session={guided} main />
                ) : (
                  <Button
                    kind="main"
                    disabled={!mayAct}
                    onClick={() => void openSession(newest.id, false, { simulate: newest.simulated })}
                  >
                    Go on
                  </Button>
                )
              }
            />
          ) : null}
          <Way
            title="A block on the bench"
            text="Choose the block, the lifters and the gauges; five choices are enough."
            button={
              <Button kind={open === null && newest === undefined ? "main" : "plain"} onClick={() => goTo("Job")}>
                New job
              </Button>
            }
          />
          <Way
            title="No gauge at hand"
            text="An invented block and simulated gauges, marked as such wherever they appear: be led through all of the work step by step, or watch it being done."
            button={
              <div className={styles.two}>
                {guided === null || guided === (open?.id ?? newest?.id) ? null : <GoOnGuided session={guided} />}
                <Button disabled={!mayAct} onClick={() => void beginGuided()}>
                  {guided === null ? "Guided try" : "Guided try anew"}
                </Button>
                <Button disabled={!mayAct} onClick={() => void trySimulated()}>
                  Try it with simulated gauges
                </Button>
              </div>
            }
          />
          <Way
            title="A session from elsewhere"
            text="Drop a session file or a parcel anywhere on this page, or choose it."
            button={
              <FileButton
                label="Session file"
                accept=".bwsession,.bwparcel"
                disabled={!mayAct}
                onFile={(file) => void adoptFile(file)}
              >
                Open a file
              </FileButton>
            }
          />
        </div>

        <section className={styles.sessions} aria-labelledby="sessions-title">
          <h2 id="sessions-title">Sessions kept</h2>
          {sessions === null ? (
            <p className={styles.soft}>Looking for sessions…</p>
          ) : sessions.length === 0 ? (
            <p className={styles.soft}>
              None yet. A session is one file{folder === null ? "" : `, kept in ${folder}`}; it begins with a job.
            </p>
          ) : (
            <SessionList sessions={sessions} mayAct={mayAct} />
          )}
        </section>

        <p className={styles.cautions}>
          The maker's sheet and the machinist's judgement come first. This program says what was measured, how well, and
          how it compares with stated limits; it never says that an engine is safe to run. A two-point gauge cannot see
          three-lobed form. Honing dust, solvents, compressed air, heavy castings and spinning tools hurt people: wear
          eye and hearing protection, use lifting gear, and follow local rules.
        </p>
        <div>
          <Button kind="quiet" onClick={() => openHelp("method")}>
            How it is done, with drawings
          </Button>
          <Button kind="quiet" onClick={() => openHelp("cautions")}>
            All cautions
          </Button>
        </div>
      </PlaceFrame>
    </div>
  );
}

function Way({
  title,
  text,
  button,
}: {
  readonly title: string;
  readonly text: string;
  readonly button: ReactNode;
}): ReactNode {
  return (
    <section className={styles.way}>
      <h2>{title}</h2>
      <p>{text}</p>
      <div>{button}</div>
    </section>
  );
}

function GoOnGuided({ session, main = false }: { readonly session: string; readonly main?: boolean }): ReactNode {
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  return (
    <Button kind={main ? "main" : "plain"} disabled={!mayAct} onClick={() => void takeUpGuided(session)}>
      Go on with the guided try
    </Button>
  );
}
