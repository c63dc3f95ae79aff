import { type ReactNode, useEffect, useRef, useState } from "react";
import styles from "./App.module.css";
import { GuidedPanel } from "./guided/GuidedPanel.tsx";
import { HelpPanel } from "./help/HelpPanel.tsx";
import { listenForHelpKey } from "./help/listenForHelpKey.ts";
import { Margin } from "./margin/Margin.tsx";
import { Button } from "./parts/Button.tsx";
import { PLACE_COMPONENTS } from "./places.tsx";
import { takesTyping } from "./store/place.ts";
import { useStore } from "./store/store.ts";
import { GaugeStrip } from "./strip/GaugeStrip.tsx";

/** The one window: gauges along the top, places in the margin, one place at a time on the sheet. */
export function App(): ReactNode {
  const theme = useStore((state) => state.settings.theme);
  const figure = useStore((state) => state.settings.figure);
  const place = useStore((state) => state.place);
  const sheet = useRef<HTMLElement>(null);
  const first = useRef(true);

  useEffect(() => {
    document.documentElement.dataset.theme = theme;
    document.documentElement.dataset.figure = figure;
  }, [theme, figure]);

  useEffect(() => {
    document.title = `${place} · Borewright`;
    if (first.current) {
      first.current = false;
      return;
    }
    sheet.current?.scrollTo(0, 0);
    sheet.current?.querySelector<HTMLElement>("h1")?.focus();
  }, [place]);

  useEffect(() => listenForHelpKey(window), []);

  const Shown = PLACE_COMPONENTS[place];
  return (
    <div className={styles.window}>
      <a className={styles.skip} href="#sheet">
        Skip to the place
      </a>
      <header className={styles.top}>
        <GaugeStrip />
        <Warnings />
      </header>
      <Margin />
      <main id="sheet" ref={sheet} className={styles.sheet} tabIndex={-1}>
        <Shown />
      </main>
      <div className={styles.guided}>
        <GuidedPanel />
      </div>
      <HelpPanel />
    </div>
  );
}

/** What must not be missed, wherever one is. It never takes the focus and never covers the work. */
function Warnings(): ReactNode {
  const noHost = useStore((state) => state.noHost);
  const trouble = useStore((state) => state.saved.trouble);
  const cured = useStore((state) => state.saved.cured);
  const [read, setRead] = useState<string | null>(null);
  const mayAct = useStore((state) => state.info?.mayAct ?? true);
  const problem = useStore((state) => state.problem);
  const dismiss = useStore((state) => state.actions.dismissProblem);
  // The same sentence after another trouble is news again.
  if (cured === null && read !== null) setRead(null);
  const act = useStore((state) => state.actions.act);
  // The walk says so itself; at the other places of work a reading that does not count must not go unnoticed.
  const held = useStore((state) => (state.view?.held ?? false) && takesTyping(state.place) && state.place !== "Bores");
  return (
    <div role="alert" className={styles.warnings}>
      {noHost === null ? null : (
        <p className={styles.warning}>
          <strong>The program behind this page can not be reached.</strong> {noHost}
        </p>
      )}
      {trouble === null ? null : (
        <p className={styles.warning}>
          <strong>NOT SAVED:</strong> {trouble.replace(/^NOT SAVED: /, "")}
        </p>
      )}
      {cured === null || cured === read ? null : (
        <div className={styles.quietWarning}>
          <p>{cured}</p>
          <Button onClick={() => setRead(cured)}>Dismiss</Button>
        </div>
      )}
      {mayAct ? null : <p className={styles.quietWarning}>Another window is in charge. This one may look, not act.</p>}
      {held ? (
        <div className={styles.warning}>
          <p>
            <strong>On hold.</strong> Readings are recorded and do not count.
          </p>
          <Button disabled={!mayAct} onClick={() => void act({ type: "hold", on: false })}>
            Go on
          </Button>
        </div>
      ) : null}
      {problem === null ? null : (
        <div className={styles.warning}>
          <p>
            <strong>That did not work.</strong> {problem.message}
          </p>
          <Button onClick={dismiss}>Dismiss</Button>
        </div>
      )}
    </div>
  );
}
