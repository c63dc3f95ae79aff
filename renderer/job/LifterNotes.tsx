import type { ReactNode } from "react";
import { Button } from "../parts/Button.tsx";
import { Check } from "../parts/Choices.tsx";
import { Field } from "../parts/Field.tsx";
import { layoutOf } from "./BlockSection.tsx";
import { errorAt, useDraft } from "./draft.ts";
import styles from "./JobPlace.module.css";
import { type LifterSet, MOST_SPARES, notesOf, setOf } from "./lifterNotes.ts";

/** What the set of lifters is: new or used, on tie bars, with spare ones. The pairing respects it. */
export function LifterNotes(): ReactNode {
  const { file, error, change } = useDraft();
  const layout = layoutOf(file);
  if (layout === null) return null;
  const set = setOf(file.lifters, layout);
  const wrong = errorAt(error, "lifters");
  if (set === null) {
    return (
      <div className={styles.wide}>
        <p className={styles.note}>Single lifters are noted as in the job file that was taken.</p>
        {wrong === null ? null : <p className={styles.wrong}>▲ {wrong}</p>}
        <Button onClick={() => change({ lifters: undefined })}>Forget those notes</Button>
      </div>
    );
  }
  const say = (part: Partial<LifterSet>) => change({ lifters: notesOf({ ...set, ...part }, layout) });
  const flat = (file.lifter?.style ?? "flat") === "flat";
  return (
    <>
      <Field
        label="Spare lifters"
        hint="measured after those of the block, named S1, S2 …"
        inputMode="numeric"
        value={set.spares === 0 ? "" : String(set.spares)}
        placeholder="none"
        onChange={({ target }) => {
          const count = Math.floor(Number(target.value));
          if (count >= 0 && count <= MOST_SPARES) say({ spares: count });
        }}
      />
      <div className={styles.wide}>
        <Check
          label={
            flat ? "They have run in this block: used flat lifters stay in their own bores" : "They have run before"
          }
          checked={set.used}
          onChange={(used) => say({ used })}
        />
        {flat ? null : (
          <Check
            label="Tie bars: intake and exhaust lifter of a cylinder move as a pair"
            checked={set.tied}
            onChange={(tied) => say({ tied, mayTurn: tied && set.mayTurn })}
          />
        )}
        {set.tied ? (
          <Check label="A pair may go in turned round" checked={set.mayTurn} onChange={(mayTurn) => say({ mayTurn })} />
        ) : null}
        {wrong === null ? null : <p className={styles.wrong}>▲ {wrong}</p>}
      </div>
    </>
  );
}
