import { type FormEvent, type KeyboardEvent, type ReactNode, useId, useRef, useState } from "react";
import { readTyped, type TypedUnit } from "../../core/gauge/readTyped.ts";
import { formatLength, formatTenths } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { JobGauge } from "../../core/session/job.ts";
import { keyName } from "../controls/walkKeys.ts";
import { Button } from "../parts/Button.tsx";
import { gaugeName } from "../parts/gaugeName.ts";
import type { WalkKey } from "../store/settings.ts";
import { useStore } from "../store/store.ts";
import styles from "./EntryLine.module.css";

const UNITS: readonly { readonly value: TypedUnit; readonly text: string }[] = [
  { value: "in", text: "in" },
  { value: "tenths", text: "tenths" },
  { value: "mm", text: "mm" },
  { value: "um", text: "µm" },
];

/** The unit last chosen for each gauge, for as long as the window is there. */
const lastUnit = new Map<string, TypedUnit>();

/** Keys that work the walk while the line is empty; on a line with text they edit it. */
const ON_EMPTY: readonly WalkKey[] = ["strike", "back"];

/**
 * A line in which a person types what a dial or display shows, large enough for the bench. Enter keeps; on the empty line
 * the keys for strike and back do their work. What can not be used stays in the line, with the reason.
 */
export function EntryLine({ gauge, onDone }: { readonly gauge: JobGauge; readonly onDone?: () => void }): ReactNode {
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const { ask, act } = useStore((state) => state.actions);
  const mayAct = useStore((state) => (state.info?.mayAct ?? true) && state.session?.readOnly === false);
  const keys = useStore((state) => state.settings.keys);
  const [text, setText] = useState("");
  const [unit, setUnit] = useState<TypedUnit>(() => lastUnit.get(gauge.id) ?? gauge.unit);
  const [error, setError] = useState<string | null>(null);
  const [kept, setKept] = useState<string | null>(null);
  const read = readTyped(text, unit);

  const keep = async (event: FormEvent) => {
    event.preventDefault();
    if (text.trim() === "") return;
    const answer = await ask("session.typeByHand", { gauge: gauge.id, text, unit });
    if (!answer.ok) {
      setKept(null);
      setError(answer.message);
      input.current?.select();
      return;
    }
    setError(null);
    setKept(`Taken: ${read.ok ? inWords(read.displayNm, unit) : text}`);
    setText("");
    onDone?.();
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (text !== "" || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    const control = ON_EMPTY.find((one) => keys[one] === event.code);
    if (control === undefined) return;
    event.preventDefault();
    setKept(null);
    void act({ type: control === "strike" ? "strike" : "back" });
  };
  return (
    <form className={styles.entry} onSubmit={keep} autoComplete="off">
      <label className={styles.label} htmlFor={id}>
        What the {gaugeName(gauge).toLowerCase()} shows
      </label>
      <div className={styles.row}>
        <input
          ref={input}
          id={id}
          data-entry-line=""
          className={styles.line}
          value={text}
          disabled={!mayAct}
          inputMode="text"
          enterKeyHint="done"
          spellCheck={false}
          aria-invalid={error === null ? undefined : true}
          aria-describedby={`${id}-echo ${id}-keys${error === null ? "" : ` ${id}-error`}`}
          onChange={(event) => {
            setText(event.target.value);
            setError(null);
          }}
          onKeyDown={onKeyDown}
        />
        <label className={styles.unitLabel}>
          <span className="unseen">Unit of what is typed</span>
          <select
            className={styles.unit}
            value={unit}
            onChange={(event) => {
              const chosen = event.target.value as TypedUnit;
              lastUnit.set(gauge.id, chosen);
              setUnit(chosen);
              input.current?.focus();
            }}
          >
            {UNITS.map((one) => (
              <option key={one.value} value={one.value}>
                {one.text}
              </option>
            ))}
          </select>
        </label>
        <Button type="submit" size="walk" kind="main" disabled={!mayAct || text.trim() === ""}>
          Keep
        </Button>
      </div>
      <p id={`${id}-echo`} className={styles.echo} role="status">
        {error === null ? (text.trim() === "" ? (kept ?? "No sign is plus.") : echo(read, unit)) : null}
      </p>
      {error === null ? null : (
        <p id={`${id}-error`} className={styles.error} role="alert">
          ▲ {error}
        </p>
      )}
      <p id={`${id}-keys`} className={styles.keys}>
        <kbd>Enter</kbd> keeps. On the empty line <kbd>{keyName(keys.strike)}</kbd> takes back the last,{" "}
        <kbd>{keyName(keys.back)}</kbd> goes one station back.
      </p>
    </form>
  );
}

function echo(read: ReturnType<typeof readTyped>, unit: TypedUnit): string {
  return read.ok ? `means ${inWords(read.displayNm, read.unit ?? unit)}` : read.why;
}

/** A reading with its sign, in the unit typed and the other system's. */
function inWords(displayNm: Nm, unit: TypedUnit): string {
  const micrometres = `${formatLength(displayNm, "um", 1, true)} µm`;
  const inches = `${formatLength(displayNm, "in", 5, true)} in`;
  if (unit === "tenths") return minus(`${formatTenths(displayNm, 2, true)} tenths, ${inches}, ${micrometres}`);
  if (unit === "in") return minus(`${inches}, ${micrometres}`);
  if (unit === "mm") return minus(`${formatLength(displayNm, "mm", 4, true)} mm, ${inches}`);
  return minus(`${micrometres}, ${inches}`);
}

function minus(text: string): string {
  return text.replaceAll("-", "−");
}
