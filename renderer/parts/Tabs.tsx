import { type KeyboardEvent, type ReactNode, useId, useRef } from "react";
import styles from "./Tabs.module.css";

export interface TabsProps<T extends string> {
  /** What the row is of. */
  readonly label: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly text: string }[];
  readonly onChoose: (value: T) => void;
  /** The part of the place that is shown now. */
  readonly children: ReactNode;
}

/** Parts of one place, one shown at a time: arrow keys, Home and End move along the row. */
export function Tabs<T extends string>({ label, value, options, onChoose, children }: TabsProps<T>): ReactNode {
  const id = useId();
  const row = useRef<HTMLDivElement>(null);
  const onKeyDown = (event: KeyboardEvent) => {
    const at = options.findIndex((option) => option.value === value);
    const last = options.length - 1;
    const next = { ArrowRight: at === last ? 0 : at + 1, ArrowLeft: at === 0 ? last : at - 1, Home: 0, End: last }[
      event.key
    ];
    const option = next === undefined ? undefined : options[next];
    if (next === undefined || option === undefined) return;
    event.preventDefault();
    onChoose(option.value);
    row.current?.querySelectorAll<HTMLButtonElement>("[role=tab]")[next]?.focus();
  };
  return (
    <>
      <div ref={row} role="tablist" aria-label={label} className={styles.tabs} data-print="no">
        {options.map((option) => (
          <button
            key={option.value}
            type="button"
            role="tab"
            id={`${id}-${option.value}`}
            aria-selected={option.value === value}
            aria-controls={`${id}-panel`}
            tabIndex={option.value === value ? 0 : -1}
            className={styles.tab}
            onClick={() => onChoose(option.value)}
            onKeyDown={onKeyDown}
          >
            {option.text}
          </button>
        ))}
      </div>
      <div role="tabpanel" id={`${id}-panel`} aria-labelledby={`${id}-${value}`} className={styles.panel}>
        {children}
      </div>
    </>
  );
}
