import { type ReactNode, useState } from "react";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { LifterStyle } from "../../core/session/job.ts";
import type { JobFile } from "../../core/session/jobFile.ts";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { errorAt, useDraft } from "./draft.ts";
import styles from "./JobPlace.module.css";
import { LifterNotes } from "./LifterNotes.tsx";
import { Section } from "./Section.tsx";

/** Lifter body sizes in common use: common practice, no source. */
const BODIES = ["0.8420 in", "0.8750 in", "0.9040 in", "0.9370 in"];

const STYLES: readonly { value: LifterStyle; text: string }[] = [
  { value: "flat", text: "Flat-faced" },
  { value: "roller", text: "Roller" },
];

export function LifterSection(): ReactNode {
  const { file, error, change } = useDraft();
  const style = file.lifter?.style ?? "flat";
  const nominal = file.lifter?.nominal ?? "0.8420 in";
  const [own, setOwn] = useState(!BODIES.includes(nominal));
  return (
    <Section number={2} title="Lifters">
      <Choices
        label="Style (solid or hydraulic)"
        value={style}
        options={STYLES}
        // The other style has other limits: those of the style before would pass unnoticed.
        // Tie bars belong to rollers.
        onChoose={(chosen) =>
          change({ lifter: { ...file.lifter, style: chosen }, limits: undefined, lifters: undefined })
        }
      />
      <Choice
        label="Body, nominal diameter"
        value={own ? "own" : nominal}
        options={[...BODIES.map((body) => ({ value: body, text: body })), { value: "own", text: "Another size" }]}
        onChange={(event) => {
          const chosen = event.target.value;
          setOwn(chosen === "own");
          if (chosen !== "own") change({ lifter: { ...file.lifter, nominal: chosen } });
        }}
        error={own ? null : errorAt(error, "lifter.nominal")}
      />
      {own ? (
        <Field
          label="The other size, with its unit"
          value={nominal}
          onChange={(event) => change({ lifter: { ...file.lifter, nominal: event.target.value } })}
          error={errorAt(error, "lifter.nominal")}
        />
      ) : null}
      <LifterNotes />
    </Section>
  );
}

type LimitsFile = NonNullable<JobFile["limits"]>;
type LimitName = "low" | "high" | "preferredLow" | "preferredHigh" | "serviceHigh";

const NAMES: readonly { name: LimitName; label: string }[] = [
  { name: "low", label: "Smallest clearance" },
  { name: "high", label: "Largest clearance" },
  { name: "preferredLow", label: "Preferred from" },
  { name: "preferredHigh", label: "Preferred to" },
  { name: "serviceHigh", label: "Wear limit, used block" },
];

function shippedLimits(style: LifterStyle): LimitsFile {
  const shipped = SHIPPED_LIMITS[style];
  const inches = (length: Nm) => `${formatLength(length, "in", 4)} in`;
  return {
    low: inches(shipped.lowNm),
    high: inches(shipped.highNm),
    ...(shipped.preferredLowNm === null ? {} : { preferredLow: inches(shipped.preferredLowNm) }),
    ...(shipped.preferredHighNm === null ? {} : { preferredHigh: inches(shipped.preferredHighNm) }),
  };
}

export function LimitsSection(): ReactNode {
  const { file, error, change } = useDraft();
  const style = file.lifter?.style ?? "flat";
  const own = file.limits !== undefined;
  const limits: LimitsFile = file.limits ?? shippedLimits(style);
  const set = (name: LimitName, text: string) => {
    const next: LimitsFile = { ...limits, source: file.limits?.source ?? "" };
    if (text.trim() === "") delete next[name];
    else next[name] = text;
    change({ limits: next });
  };
  const whole = error?.path === "limits" ? error.message : null;
  return (
    <Section
      number={3}
      title="Limits on clearance"
      note={
        own
          ? "Changed. Say where the limits come from."
          : "Common practice, no published source; the maker's sheet wins."
      }
    >
      {NAMES.map(({ name, label }) => (
        <Field
          key={name}
          label={label}
          value={limits[name] ?? ""}
          placeholder={name.startsWith("preferred") ? "middle of the limits" : "none"}
          onChange={(event) => set(name, event.target.value)}
          error={errorAt(error, `limits.${name}`)}
          autoComplete="off"
        />
      ))}
      {own ? (
        <>
          <Field
            label="Source of the limits"
            value={limits.source ?? ""}
            placeholder="maker's sheet, page …"
            onChange={(event) => change({ limits: { ...limits, source: event.target.value } })}
            error={errorAt(error, "limits.source")}
            autoComplete="off"
          />
          <div className={styles.aside}>
            <Button onClick={() => change({ limits: undefined })}>Back to common practice</Button>
          </div>
        </>
      ) : null}
      {whole === null ? null : <p className={styles.wrong}>▲ {whole}</p>}
    </Section>
  );
}
