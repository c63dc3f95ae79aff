import { type ReactNode, useEffect, useRef } from "react";
import { Button } from "../parts/Button.tsx";
import { Tabs } from "../parts/Tabs.tsx";
import { PLACES } from "../store/place.ts";
import { CAUTIONS } from "./cautions.ts";
import styles from "./HelpPanel.module.css";
import { closeHelp, TOPICS, type Topic, useHelp } from "./helpDesk.ts";
import { KeysHelp } from "./KeysHelp.tsx";
import { MethodHelp } from "./MethodHelp.tsx";
import { NoticesHelp } from "./NoticesHelp.tsx";
import { PLACE_WORDS } from "./placeWords.ts";
import { WORDS } from "./words.ts";

/**
 * The help, beside whatever one is at: it stops nothing, and the gauge is listened to all the while. Escape closes it
 * and gives the focus back.
 */
export function HelpPanel(): ReactNode {
  const { open, topic, code, asked } = useHelp();
  const panel = useRef<HTMLElement>(null);
  const heading = useRef<HTMLHeadingElement>(null);

  // biome-ignore lint/correctness/useExhaustiveDependencies: asked for again, it is shown again.
  useEffect(() => {
    if (!open || code !== null) return;
    panel.current?.scrollTo(0, 0);
    heading.current?.focus();
  }, [open, code, asked]);

  if (!open) return null;
  return (
    <aside
      id="help"
      ref={panel}
      className={styles.panel}
      aria-labelledby="help-title"
      onKeyDown={(event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        closeHelp();
      }}
    >
      <header className={styles.head}>
        <h2 id="help-title" ref={heading} tabIndex={-1}>
          Help
        </h2>
        <Button onClick={closeHelp}>Close the help</Button>
      </header>
      <Tabs<Topic>
        label="Parts of the help"
        value={topic}
        options={TOPICS}
        onChoose={(chosen) => useHelp.setState({ topic: chosen, code: null })}
      >
        <div className={styles.text}>
          <TopicText topic={topic} />
        </div>
      </Tabs>
    </aside>
  );
}

function TopicText({ topic }: { readonly topic: Topic }): ReactNode {
  switch (topic) {
    case "method":
      return <MethodHelp />;
    case "notices":
      return <NoticesHelp />;
    case "keys":
      return <KeysHelp />;
    case "places":
      return <Pairs pairs={PLACES.map((place) => [place, PLACE_WORDS[place]])} />;
    case "words":
      return <Pairs pairs={WORDS.map(({ word, means }) => [word, `${means}.`])} />;
    case "cautions":
      return <Pairs pairs={CAUTIONS.map(({ about, text }) => [about, text])} />;
  }
}

function Pairs({ pairs }: { readonly pairs: readonly (readonly [string, string])[] }): ReactNode {
  return (
    <dl className={styles.pairs}>
      {pairs.map(([term, text]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  );
}
