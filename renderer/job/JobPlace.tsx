import { type ReactNode, useEffect, useState } from "react";
import type { JobFile } from "../../core/session/jobFile.ts";
import { Button } from "../parts/Button.tsx";
import { FileButton } from "../parts/FileButton.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { BlockPlan } from "../plan/BlockPlan.tsx";
import { useStore } from "../store/store.ts";
import { BlockSection, layoutOf } from "./BlockSection.tsx";
import { draftError, errorAt, keepGauges, newDraft, readKeptGauges, useDraft } from "./draft.ts";
import { GaugesSection } from "./GaugesSection.tsx";
import styles from "./JobPlace.module.css";
import { LifterSection, LimitsSection } from "./LifterSection.tsx";
import { MoreSection } from "./MoreSection.tsx";
import { WalkSection } from "./WalkSection.tsx";

/** Paths whose errors are shown at their fields; any other is shown at the top. */
const SHOWN_PATHS = [
  "title",
  "block",
  "operator",
  "layout",
  "lifter.style",
  "lifter.nominal",
  "lifters",
  "limits",
  "gauges",
  "walk",
  "stations",
  "materials",
  "rule",
  "sweepsPerStation",
  "agreement",
  "returnCheckEvery",
  "zeroHold",
  "pressesPerLifter",
  "budget",
];

export function JobPlace(): ReactNode {
  const { file, error, setError, replace } = useDraft();
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const seenFrom = useStore((state) => state.settings.seenFrom);
  const openName = useStore((state) => state.session?.name ?? null);
  const { ask, call, goTo } = useStore((state) => state.actions);
  const [notAJob, setNotAJob] = useState<string | null>(null);

  useEffect(() => {
    // Gauges kept from the last job belong to a fresh draft only.
    if (useDraft.getState().file !== useDraft.getInitialState().file) return;
    const kept = readKeptGauges(window.localStorage);
    if (kept !== null) replace(newDraft(kept));
  }, [replace]);

  useEffect(() => {
    let stale = false;
    const timer = window.setTimeout(async () => {
      const answer = await ask("job.check", { job: file });
      if (!stale) setError(answer.ok ? null : draftError(answer.message));
    }, 250);
    return () => {
      stale = true;
      window.clearTimeout(timer);
    };
  }, [file, ask, setError]);

  const begin = async () => {
    if ((await call("session.new", { job: file })) === null) return;
    keepGauges(window.localStorage, file.gauges ?? []);
    goTo("Gauges");
  };

  const openJobFile = async (chosen: File) => {
    try {
      const parsed: unknown = JSON.parse(await chosen.text());
      if (typeof parsed !== "object" || parsed === null || Array.isArray(parsed)) throw new Error("it holds no job");
      replace(parsed as JobFile);
      setNotAJob(null);
    } catch (why) {
      setNotAJob(
        `${chosen.name} could not be read: ${why instanceof Error ? why.message : String(why)}. Expected a job file.`,
      );
    }
  };

  const layout = layoutOf(file);
  const unplaced = error !== null && !SHOWN_PATHS.some((path) => errorAt(error, path) !== null) ? error : null;
  return (
    <PlaceFrame
      title="Job"
      next={
        openName === null
          ? "Say what is on the bench, then begin."
          : `${openName} is open and keeps the job it began with. Beginning here starts another session.`
      }
      actions={
        <>
          <FileButton label="Job file" accept=".json" onFile={(file) => void openJobFile(file)}>
            Take a job file
          </FileButton>
          <Button kind="main" disabled={!mayAct || error !== null} onClick={() => void begin()}>
            Begin
          </Button>
        </>
      }
    >
      {notAJob === null ? null : (
        <p className={styles.wrong} role="alert">
          ▲ {notAJob}
        </p>
      )}
      {unplaced === null ? null : (
        <p className={styles.wrong} role="alert">
          ▲ {unplaced.path === "" ? "" : `${unplaced.path}: `}
          {unplaced.message}
        </p>
      )}
      <div className={styles.columns}>
        <div className={styles.form}>
          <BlockSection />
          <LifterSection />
          <LimitsSection />
          <GaugesSection />
          <WalkSection />
          <MoreSection />
        </div>
        <figure className={styles.plan}>
          {layout === null ? (
            <p className={styles.soft}>This layout can not be drawn yet.</p>
          ) : (
            <>
              <BlockPlan
                layout={layout}
                findings={[]}
                here={null}
                next={null}
                size={{ width: 420, height: 520 }}
                flip={seenFrom === "front"}
                showFiringOrder
              />
              <figcaption>
                {layout.title}. {layout.bores.length} lifter bores. Firing order {layout.firingOrder.join(" ")}.
                <span className={styles.soft}> Check the numbering against the engine maker's sheet.</span>
              </figcaption>
            </>
          )}
        </figure>
      </div>
    </PlaceFrame>
  );
}
