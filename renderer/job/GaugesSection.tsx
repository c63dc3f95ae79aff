import { type ReactNode, useState } from "react";
import type { GaugeRole, Sends } from "../../core/gauge/profile.ts";
import type { GaugeUnit } from "../../core/length/unit.ts";
import { controlCharacters } from "../gauges/controlCharacters.ts";
import { Check, Choices } from "../parts/Choices.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { gaugeName } from "../parts/gaugeName.ts";
import { BandSentence } from "./BandSentence.tsx";
import { type DraftGauge, errorAt, useDraft } from "./draft.ts";
import styles from "./JobPlace.module.css";
import { Section } from "./Section.tsx";

const SENDS: readonly { value: Sends; text: string }[] = [
  { value: "stream", text: "Readings all the time" },
  { value: "press", text: "One reading a press" },
  { value: "held", text: "A press sends the minimum it held" },
];
const UNITS: readonly { value: GaugeUnit; text: string }[] = [
  { value: "in", text: "Inches" },
  { value: "mm", text: "Millimetres" },
];
const POLARITIES: readonly { value: "+" | "-"; text: string }[] = [
  { value: "+", text: "Up as the bore grows" },
  { value: "-", text: "Down as the bore grows" },
];
const STEPS: Readonly<Record<GaugeUnit, readonly string[]>> = {
  in: ["0.00001 in", "0.00002 in", "0.00005 in", "0.0001 in", "0.0005 in"],
  mm: ["0.0001 mm", "0.0002 mm", "0.0005 mm", "0.001 mm", "0.01 mm"],
};

export function GaugesSection(): ReactNode {
  const { file, changeGauge, change, error } = useDraft();
  const gauges = file.gauges ?? [];
  const micrometer = gauges.find((gauge) => gauge.role === "micrometer");
  const whole = error?.path === "gauges" ? error.message : null;
  return (
    <Section
      number={4}
      title="Gauges"
      note="Not sure? Leave it: the place Gauges finds unit and resolution, and the step check proves which way it counts."
    >
      <GaugeFields of="bore" />
      <Check
        label="The lifters are measured with a micrometer"
        checked={micrometer !== undefined}
        onChange={(has) => {
          if (has) changeGauge("micrometer", {});
          else change({ gauges: gauges.filter((gauge) => gauge.role !== "micrometer") });
        }}
      />
      {micrometer === undefined ? null : <GaugeFields of="micrometer" />}
      <BandSentence />
      {whole === null ? null : <p className={styles.wrong}>▲ {whole}</p>}
    </Section>
  );
}

function GaugeFields({ of: role }: { readonly of: GaugeRole }): ReactNode {
  const { file, error, changeGauge } = useDraft();
  const gauges = file.gauges ?? [];
  const index = gauges.findIndex((gauge) => gauge.role === role);
  const gauge = gauges[index];
  const [request, setRequest] = useState(() => JSON.stringify(gauge?.request ?? "").slice(1, -1));
  if (gauge === undefined) return null;
  const at = (field: string) => errorAt(error, `gauges[${index}].${field}`);
  const set = (part: Partial<DraftGauge>) => changeGauge(role, part);
  const unit = gauge.unit ?? "in";
  const typed = gauge.source === "typed";
  const resolution = gauge.resolution ?? (unit === "in" ? "0.00005 in" : "0.001 mm");
  const steps = STEPS[unit].includes(resolution) ? STEPS[unit] : [resolution, ...STEPS[unit]];
  return (
    <fieldset className={styles.gauge}>
      <legend>{gaugeName({ role })}</legend>
      <Check
        label="It has no data output: I read its dial and type"
        checked={typed}
        onChange={(on) =>
          set({ source: on ? "typed" : undefined, ...(role === "bore" ? { sends: on ? "held" : "stream" } : {}) })
        }
      />
      {role === "bore" && !typed ? (
        <Choices
          label="It sends"
          value={gauge.sends ?? "stream"}
          options={SENDS}
          onChoose={(sends) => set({ sends })}
          hint={gauge.sends === "held" ? "Clear its memory before each sweep." : undefined}
        />
      ) : null}
      <Choices
        label="Its display counts in"
        value={unit}
        options={UNITS}
        onChoose={(chosen) => set({ unit: chosen, resolution: chosen === "in" ? "0.00005 in" : "0.001 mm" })}
      />
      {role === "bore" ? (
        <Choices
          label="It counts"
          value={gauge.polarity ?? "+"}
          options={POLARITIES}
          onChoose={(polarity) => set({ polarity })}
        />
      ) : null}
      {typed ? (
        <Field
          label="Smallest step you can read on it"
          value={resolution}
          onChange={(event) => set({ resolution: event.target.value })}
          error={at("resolution")}
          hint="Between the graduations of a dial as finely as you trust your eye, such as a fifth of one; it counts in the uncertainty."
          autoComplete="off"
        />
      ) : (
        <Choice
          label="Smallest step of its display"
          value={resolution}
          options={steps.map((step) => ({ value: step, text: step }))}
          onChange={(event) => set({ resolution: event.target.value })}
          error={at("resolution")}
        />
      )}
      {typed ? null : (
        <Field
          label="Asked with (only if it never speaks by itself)"
          value={request}
          placeholder="nothing"
          onChange={(event) => {
            setRequest(event.target.value);
            set({ request: controlCharacters(event.target.value) });
          }}
          error={at("request")}
          autoComplete="off"
        />
      )}
    </fieldset>
  );
}
