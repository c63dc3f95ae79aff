import { type ReactNode, useEffect, useRef, useState } from "react";
import { spokenBore } from "../../core/block/spokenBore.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";
import { FEELS, type Feel, type FeelView, feelSentence, feelWords } from "../../core/session/feel.ts";
import { Button } from "../parts/Button.tsx";
import { Field } from "../parts/Field.tsx";
import { useStore } from "../store/store.ts";
import { clock } from "../zero/ZeroLog.tsx";
import { lastOil, nextToFeel } from "./feelOrder.ts";
import styles from "./findings.module.css";

const BUTTONS: Readonly<Record<Feel, string>> = { free: "Free", drags: "Drags", binds: "Binds" };

/** How the oiled lifter moves in this bore by hand: entered here, beside the verdict and never in its place. */
export function FeelSheet({
  finding,
  feel,
  bores,
  onNext,
}: {
  readonly finding: BoreFinding;
  readonly feel: readonly FeelView[];
  /** All of the walk, in its order. */
  readonly bores: readonly string[];
  readonly onNext: (bore: string) => void;
}): ReactNode {
  // Whoever goes from bore to bore by this sheet finds the keyboard where it was.
  const cameOn = useRef(false);
  return (
    <section aria-labelledby="feel-heading" className={styles.feel}>
      <h3 id="feel-heading">By hand, with oil</h3>
      <Entry
        key={finding.name}
        finding={finding}
        entry={feel.find(({ bore }) => bore === finding.name) ?? null}
        oilBefore={lastOil(feel)}
        next={nextToFeel(bores, feel, finding.name)}
        takeFocus={() => {
          const take = cameOn.current;
          cameOn.current = false;
          return take;
        }}
        onNext={(bore) => {
          cameOn.current = true;
          onNext(bore);
        }}
      />
    </section>
  );
}

function Entry({
  finding,
  entry,
  oilBefore,
  next,
  takeFocus,
  onNext,
}: {
  readonly finding: BoreFinding;
  readonly entry: FeelView | null;
  readonly oilBefore: string;
  readonly next: string | null;
  readonly takeFocus: () => boolean;
  readonly onNext: (bore: string) => void;
}): ReactNode {
  const may = useStore((state) => (state.info?.mayAct ?? false) && state.session?.readOnly === false);
  const act = useStore((state) => state.actions.act);
  const [oil, setOil] = useState(entry?.oil ?? oilBefore);
  const [note, setNote] = useState(entry?.note ?? "");
  const first = useRef<HTMLButtonElement>(null);
  const onward = useRef<HTMLButtonElement>(null);
  const bore = finding.name;
  useEffect(() => {
    if (takeFocus()) first.current?.focus();
  }, [takeFocus]);
  const enter = async (found: Feel) => {
    const words = {
      ...(oil.trim() === "" ? {} : { oil: oil.trim() }),
      ...(note.trim() === "" ? {} : { note: note.trim() }),
    };
    // The sentence that may follow is read out where it stands; the next bore is one key away.
    if (await act({ type: "feel", bore, found, ...words })) onward.current?.focus();
  };
  const says = entry === null ? null : feelSentence(entry, finding.verdict);
  return (
    <>
      <div role="status">
        {entry === null ? (
          <p className={styles.basis}>
            Nothing entered. Bore and lifter clean, oiled and equally warm: let the lifter down, turn it, and say how it
            moves. It changes no verdict (common practice, no source).
          </p>
        ) : (
          <p>
            By hand lifter {entry.lifter} <strong>{feelWords(entry.found)}</strong>
            {entry.oil === "" ? "" : `, with ${entry.oil}`}
            {entry.note === "" ? "" : `: ${entry.note}`}. <span className={styles.basis}>At {clock(entry.tMs)}.</span>
          </p>
        )}
        {says === null ? null : <p className={styles.advice}>{says}</p>}
      </div>
      <form
        className={styles.feelEntry}
        onSubmit={(event) => {
          event.preventDefault();
          if (entry !== null && may) void enter(entry.found);
        }}
      >
        <div className={styles.feelButtons}>
          {FEELS.map((found, index) => (
            <Button
              key={found}
              ref={index === 0 ? first : undefined}
              disabled={!may}
              aria-pressed={entry?.found === found}
              onClick={() => void enter(found)}
            >
              {entry?.found === found ? <span aria-hidden="true">● </span> : null}
              {BUTTONS[found]}
            </Button>
          ))}
          {next === null ? null : (
            <Button ref={onward} onClick={() => onNext(next)}>
              Next to feel: {next}
              <span className="unseen">, {spokenBore(next)}</span>
            </Button>
          )}
          {entry === null ? null : (
            <Button kind="quiet" disabled={!may} onClick={() => void act({ type: "feel", bore, found: null })}>
              Withdraw it
            </Button>
          )}
        </div>
        <div className={styles.feelFields}>
          <Field
            label="With which oil"
            value={oil}
            maxLength={100}
            autoComplete="off"
            disabled={!may}
            onChange={({ target }) => setOil(target.value)}
          />
          <Field
            label="Note"
            value={note}
            maxLength={500}
            autoComplete="off"
            disabled={!may}
            onChange={({ target }) => setNote(target.value)}
          />
        </div>
        {may ? null : <p className={styles.basis}>This session is open for reading only; nothing can be entered.</p>}
      </form>
    </>
  );
}
