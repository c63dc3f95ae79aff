import { type InputHTMLAttributes, type ReactNode, type SelectHTMLAttributes, useId } from "react";
import { classNames } from "./classNames.ts";
import styles from "./Field.module.css";

interface FieldFrameProps {
  readonly label: string;
  /** What is wrong with the value; shown at the field and tied to it. */
  readonly error?: string | null | undefined;
  readonly hint?: ReactNode;
}

export interface FieldProps extends FieldFrameProps, Omit<InputHTMLAttributes<HTMLInputElement>, "id"> {}

/** A text or number field with its label, hint and error. */
export function Field({ label, error, hint, className, ...rest }: FieldProps): ReactNode {
  const id = useId();
  return (
    <Frame id={id} label={label} error={error} hint={hint} className={className}>
      <input
        id={id}
        className={styles.input}
        aria-invalid={error ? true : undefined}
        aria-describedby={describedBy(id, error, hint)}
        {...rest}
      />
    </Frame>
  );
}

export interface ChoiceProps extends FieldFrameProps, Omit<SelectHTMLAttributes<HTMLSelectElement>, "id"> {
  readonly options: readonly { readonly value: string; readonly text: string }[];
}

/** One of a list of named values. */
export function Choice({ label, error, hint, options, className, ...rest }: ChoiceProps): ReactNode {
  const id = useId();
  return (
    <Frame id={id} label={label} error={error} hint={hint} className={className}>
      <select
        id={id}
        className={styles.input}
        aria-invalid={error ? true : undefined}
        aria-describedby={describedBy(id, error, hint)}
        {...rest}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.text}
          </option>
        ))}
      </select>
    </Frame>
  );
}

function describedBy(id: string, error: string | null | undefined, hint: ReactNode): string | undefined {
  const ids = [hint ? `${id}-hint` : null, error ? `${id}-error` : null].filter((one) => one !== null);
  return ids.length === 0 ? undefined : ids.join(" ");
}

function Frame({
  id,
  label,
  error,
  hint,
  className,
  children,
}: FieldFrameProps & {
  readonly id: string;
  readonly className?: string | undefined;
  readonly children: ReactNode;
}): ReactNode {
  return (
    <div className={classNames(styles.field, error ? styles.wrong : null, className)}>
      <label htmlFor={id} className={styles.label}>
        {label}
      </label>
      {children}
      {hint ? (
        <p id={`${id}-hint`} className={styles.hint}>
          {hint}
        </p>
      ) : null}
      {error ? (
        <p id={`${id}-error`} className={styles.error}>
          <span aria-hidden="true">▲ </span>
          {error}
        </p>
      ) : null}
    </div>
  );
}
