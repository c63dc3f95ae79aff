import type { ReactNode } from "react";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import { closeHelp, openHelp, useHelp } from "../help/helpDesk.ts";
import { PLACES, type Place } from "../store/place.ts";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import styles from "./Margin.module.css";

/** The margin of the sheet: the places in the order of the work, how far each has got, and the settings. */
export function Margin(): ReactNode {
  const place = useStore((state) => state.place);
  const view = useStore((state) => state.view);
  const job = useJob();
  const goTo = useStore((state) => state.actions.goTo);
  const helpOpen = useHelp((state) => state.open);
  return (
    <nav className={styles.margin} aria-label="Places">
      <p className={styles.program}>Borewright</p>
      <ul className={styles.places}>
        {PLACES.map((one) => {
          const progress = view === null ? null : progressOf(one, view, job);
          return (
            <li key={one}>
              <button
                type="button"
                className={styles.place}
                aria-current={one === place ? "page" : undefined}
                onClick={() => goTo(one)}
              >
                <span>{one}</span>
                {progress === null ? null : <span className={styles.progress}>{progress}</span>}
              </button>
            </li>
          );
        })}
      </ul>
      <div className={styles.foot}>
        <button
          type="button"
          className={styles.place}
          aria-expanded={helpOpen}
          aria-controls="help"
          aria-keyshortcuts="F1"
          onClick={() => (helpOpen ? closeHelp() : openHelp())}
        >
          <span>Help</span>
          <kbd className={styles.progress}>F1</kbd>
        </button>
        <TitleBlock />
      </div>
    </nav>
  );
}

/** As in the corner of a drawing: what this sheet is of. */
function TitleBlock(): ReactNode {
  const job = useJob();
  const name = useStore((state) => state.session?.id ?? null);
  const simulated = useStore((state) => state.session?.simulated ?? false);
  if (job === null || name === null) return null;
  return (
    <dl className={styles.titleBlock} aria-label="This session">
      <Entry term="Gauges" text={simulated ? "SIMULATED" : ""} />
      <Entry term="Job" text={job.title} />
      <Entry term="Block" text={job.block} />
      <Entry term="File" text={name} />
    </dl>
  );
}

function Entry({ term, text }: { readonly term: string; readonly text: string }): ReactNode {
  if (text === "") return null;
  return (
    <div data-entry={term}>
      <dt className="unseen">{term}</dt>
      <dd title={text}>{text}</dd>
    </div>
  );
}

/** How far a place has got, in a word or two; null where there is nothing to count. */
function progressOf(place: Place, view: SessionView, job: Job | null): string | null {
  switch (place) {
    case "Gauges": {
      // One that is read by eye has nothing to connect.
      const byEye = new Set(job?.gauges.filter(({ source }) => source === "typed").map(({ id }) => id));
      const cabled = view.gauges.filter(({ id }) => !byEye.has(id));
      if (cabled.length === 0) return "typed";
      return `${cabled.filter(({ link }) => link === "open").length} of ${cabled.length}`;
    }
    case "Lifters": {
      const measured = view.lifters.filter((lifter) => lifter.diameterNm !== null).length;
      return `${measured} of ${view.lifters.length}`;
    }
    case "Zero": {
      const last = view.references[view.references.length - 1];
      if (last === undefined) return "none yet";
      if (!last.held) return "moved";
      return last.kind === "return" ? "held" : "taken";
    }
    case "Bores": {
      const measured = view.bores.filter((bore) => bore.verdict !== "not measured").length;
      return `${measured} of ${view.bores.length}`;
    }
    case "Findings": {
      const standing = view.notices.filter((notice) => notice.curedMs === undefined).length;
      return standing === 0 ? null : `${standing} ${standing === 1 ? "notice" : "notices"}`;
    }
    default:
      return null;
  }
}
