import { type ReactNode, useState } from "react";
import { Field, type FieldProps } from "../parts/Field.tsx";

export interface NumberFieldProps extends Omit<FieldProps, "value" | "onChange" | "inputMode" | "type"> {
  /** As in the job; undefined where it is left to its default. */
  readonly value: number | undefined;
  /** What is no number is passed on as typed: the check of the job says what was expected. */
  readonly onNumber: (value: number | undefined) => void;
}

/** A number with decimals as a person types it, "0." on the way to "0.5" included; a decimal comma is understood. */
export function NumberField({ value, onNumber, ...rest }: NumberFieldProps): ReactNode {
  const [typed, setTyped] = useState(printed(value));
  // Another job was taken in: what was typed for the last one is not its.
  const shown = numberIn(typed) === value ? typed : printed(value);
  return (
    <Field
      inputMode="decimal"
      {...rest}
      value={shown}
      onChange={({ target }) => {
        setTyped(target.value);
        onNumber(numberIn(target.value));
      }}
    />
  );
}

const printed = (value: number | undefined): string => (value === undefined ? "" : String(value));

/** The number that a text is, undefined for none; a text that is no number stays what it is. */
export function numberIn(text: string): number | undefined {
  const plain = text.trim().replace(",", ".");
  if (plain === "") return undefined;
  const value = Number(plain);
  return Number.isNaN(value) ? (text as unknown as number) : value;
}
