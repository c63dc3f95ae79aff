import type { ReactNode } from "react";
import type { Verdict } from "../../core/fit/finding.ts";
import { keyName } from "../controls/walkKeys.ts";
import { SweepDot } from "../parts/Sweeps.tsx";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { useStore } from "../store/store.ts";
import styles from "./HelpPanel.module.css";

const VERDICTS: readonly (readonly [Verdict, string])[] = [
  ["not measured", "open ring: not measured"],
  ["fits", "full disc: fits"],
  ["too tight", "arrows pointing in: too tight"],
  ["too loose", "arrows pointing out: too loose"],
  ["undecided", "half disc: undecided"],
];
const SWEEPS = [
  ["kept", "filled: kept"],
  ["set aside", "crossed: set aside, with the reason beside it"],
  ["struck", "struck through: taken back"],
  ["empty", "broken ring: still to come"],
] as const;

/** What can be pressed, at the gauge and at the keyboard, and what the marks on the screen mean. */
export function KeysHelp(): ReactNode {
  const keys = useStore((state) => state.settings.keys);
  return (
    <>
      <h3>At the gauge, during the walk</h3>
      <dl className={styles.pairs}>
        <Pair term="Data button, in the bore" text="Take: one sweep." />
        <Pair
          term="Data button, in the air"
          text="Strike the last sweep; twice within two seconds, back one station."
        />
        <Pair term="Hold still, or take the gauge out" text="After the tone: the next station opens." />
      </dl>
      <h3>At the keyboard, during the walk</h3>
      <dl className={styles.pairs}>
        <Pair term={keyName(keys.take)} text="Take. A foot switch that types this key does the same." />
        <Pair term={keyName(keys.strike)} text="Strike the last sweep, or the station." />
        <Pair term={keyName(keys.back)} text="Back one station." />
        <Pair term={keyName(keys.hold)} text="Hold: readings are shown and not used; again to go on." />
      </dl>
      <h3>Everywhere</h3>
      <dl className={styles.pairs}>
        <Pair term="F1" text="Help; again to close it." />
        <Pair term="Tab, Shift and Tab" text="Onward and back through everything that can be pressed." />
        <Pair term="Esc" text="Closes help and settings." />
      </dl>
      <h3>Marks of a sweep</h3>
      <ul className={styles.marks}>
        {SWEEPS.map(([use, text]) => (
          <li key={use}>
            <span className={styles.mark}>
              <SweepDot use={use} />
            </span>
            {text}
          </li>
        ))}
      </ul>
      <h3>Marks of a bore</h3>
      <ul className={styles.marks}>
        {VERDICTS.map(([verdict, text]) => (
          <li key={verdict}>
            <span className={styles.mark}>
              <VerdictPicture verdict={verdict} />
            </span>
            {text}
          </li>
        ))}
        <li>
          <span className={styles.mark}>
            <VerdictPicture verdict="fits" preferred />
          </span>
          with a tick: in the preferred band
        </li>
      </ul>
      <p>
        The one colour means here, now: the place, the bore and the station where the work is. It never says good or
        bad.
      </p>
    </>
  );
}

function Pair({ term, text }: { readonly term: string; readonly text: string }): ReactNode {
  return (
    <div>
      <dt>{term}</dt>
      <dd>{text}</dd>
    </div>
  );
}
