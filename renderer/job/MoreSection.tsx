import type { ReactNode } from "react";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import type { Rule } from "../../core/fit/finding.ts";
import type { JobFile } from "../../core/session/jobFile.ts";
import { Choices } from "../parts/Choices.tsx";
import { Details } from "../parts/Details.tsx";
import { Field } from "../parts/Field.tsx";
import { errorAt, useDraft } from "./draft.ts";
import styles from "./JobPlace.module.css";
import { MaterialFields } from "./MaterialFields.tsx";
import { NumberField } from "./NumberField.tsx";

const RULES: readonly { value: Rule; text: string }[] = [
  { value: "guarded", text: "Guarded: fits only if 95 % sure" },
  { value: "simple", text: "Simple: compare the values" },
];

type CountName = "sweepsPerStation" | "returnCheckEvery" | "pressesPerLifter";

const COUNTS: readonly { name: CountName; label: string; otherwise: number; hint: string }[] = [
  { name: "sweepsPerStation", label: "Sweeps that must agree", otherwise: 3, hint: "2 to 12" },
  { name: "returnCheckEvery", label: "Return check after so many bores", otherwise: 8, hint: "0 = none asked for" },
  { name: "pressesPerLifter", label: "Readings of each lifter", otherwise: 1, hint: "1 to 20" },
];

type BudgetName = "indicator" | "transfer" | "micrometer" | "centring";

const BUDGET: readonly { name: BudgetName; label: string; otherwise: string }[] = [
  { name: "indicator", label: "Indicator over the travel used, ±", otherwise: "1 um" },
  { name: "transfer", label: "Transfer, standard (faces, feel)", otherwise: "0.7 um" },
  { name: "micrometer", label: "Micrometer's largest error, ±", otherwise: "2 um" },
  { name: "centring", label: "Centring of the gauge, one-sided", otherwise: "0.5 um" },
];

type HalfWidthName = "temperatureHalfWidthC" | "thermometerHalfWidthC";

const HALF_WIDTHS: readonly { name: HalfWidthName; label: string; hint: string }[] = [
  {
    name: "temperatureHalfWidthC",
    label: "Temperature not measured: 20 °C, ± °C",
    hint: "how far the shop may be from 20 °C where no temperature is entered",
  },
  {
    name: "thermometerHalfWidthC",
    label: "Thermometer's largest error, ± °C",
    hint: "for the temperatures entered at Zero; its maker's sheet says",
  },
];

/** What has a good default and is seldom changed. */
export function MoreSection(): ReactNode {
  const { file, error, change } = useDraft();
  const wrongHere = ["materials", "rule", "agreement", "zeroHold", "budget", ...COUNTS.map((one) => one.name)].some(
    (path) => errorAt(error, path) !== null,
  );
  const count = (name: CountName, text: string) => {
    // What is no whole number is left to the check, which says what was expected.
    const value = text.trim() === "" ? undefined : Number(text);
    change({ [name]: Number.isNaN(value) ? text : value } as Partial<JobFile>);
  };
  return (
    <Details summary="Materials, decision rule, agreement, uncertainty: good as they are" open={wrongHere}>
      <div className={styles.fields}>
        <MaterialFields part="block" label="Block is" otherwise="grey-iron" />
        <MaterialFields part="lifter" label="Lifters are" otherwise="steel" />
        <Choices
          label="Decision rule"
          value={file.rule ?? "guarded"}
          options={RULES}
          onChoose={(rule) => change({ rule })}
        />
        {COUNTS.map(({ name, label, otherwise, hint }) => (
          <Field
            key={name}
            label={label}
            hint={hint}
            inputMode="numeric"
            value={String(file[name] ?? "")}
            placeholder={String(otherwise)}
            onChange={(event) => count(name, event.target.value)}
            error={errorAt(error, name)}
          />
        ))}
        <Field
          label="Sweeps agree within"
          value={file.agreement ?? ""}
          placeholder="0.0001 in"
          onChange={(event) => change({ agreement: event.target.value || undefined })}
          error={errorAt(error, "agreement")}
        />
        <Field
          label="A zero holds if it returns within"
          value={file.zeroHold ?? ""}
          placeholder="0.0001 in"
          onChange={(event) => change({ zeroHold: event.target.value || undefined })}
          error={errorAt(error, "zeroHold")}
        />
        {BUDGET.map(({ name, label, otherwise }) => (
          <Field
            key={name}
            label={label}
            value={file.budget?.[name] ?? ""}
            placeholder={otherwise}
            onChange={(event) => change({ budget: budgetWith(file.budget, name, event.target.value || undefined) })}
            error={errorAt(error, `budget.${name}`)}
          />
        ))}
        {HALF_WIDTHS.map(({ name, label, hint }) => (
          <NumberField
            key={name}
            label={label}
            hint={hint}
            value={file.budget?.[name]}
            placeholder={String(BUDGET_DEFAULTS[name])}
            onNumber={(value) => change({ budget: budgetWith(file.budget, name, value) })}
            error={errorAt(error, `budget.${name}`)}
          />
        ))}
      </div>
    </Details>
  );
}

/** The budget with one entry given, or left to its default where nothing is; undefined once nothing is left in it. */
function budgetWith<N extends BudgetName | HalfWidthName>(
  budget: JobFile["budget"],
  name: N,
  given: NonNullable<JobFile["budget"]>[N] | undefined,
): JobFile["budget"] {
  const { [name]: _, ...rest } = budget ?? {};
  const next = given === undefined ? rest : { ...rest, [name]: given };
  return Object.keys(next).length === 0 ? undefined : (next as JobFile["budget"]);
}
