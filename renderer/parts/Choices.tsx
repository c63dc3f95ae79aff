import { type ReactNode, useId } from "react";
import styles from "./Choices.module.css";

export interface ChoicesProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly text: string }[];
  readonly onChoose: (value: T) => void;
  readonly hint?: ReactNode;
}

/** One of a few, all seen at once: arrow keys move between them. */
export function Choices<T extends string>({ label, value, options, onChoose, hint }: ChoicesProps<T>): ReactNode {
  const name = useId();
  return (
    <fieldset className={styles.choices}>
      <legend className={styles.legend}>{label}</legend>
      <div className={styles.row}>
        {options.map((option) => (
          <label key={option.value} className={styles.choice}>
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              onChange={() => onChoose(option.value)}
              className={styles.radio}
            />
            {option.text}
          </label>
        ))}
      </div>
      {hint ? <p className={styles.hint}>{hint}</p> : null}
    </fieldset>
  );
}

/** A yes or no with its label. */
export function Check({
  label,
  checked,
  onChange,
}: {
  readonly label: ReactNode;
  readonly checked: boolean;
  readonly onChange: (checked: boolean) => void;
}): ReactNode {
  return (
    <label className={styles.choice}>
      <input
        type="checkbox"
        checked={checked}
        onChange={(event) => onChange(event.target.checked)}
        className={styles.radio}
      />
      {label}
    </label>
  );
}
