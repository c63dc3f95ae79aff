import { type FormEvent, type ReactNode, useState } from "react";
import { Button } from "../parts/Button.tsx";
import { Details } from "../parts/Details.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { gaugeName } from "../parts/gaugeName.ts";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import styles from "./TypeByHand.module.css";
import { typingGauge } from "./typingGauge.ts";

/** For a gauge without a data output, and to choose whose lines a keyboard-type cable types. */
export function TypeByHand(): ReactNode {
  const job = useJob();
  const place = useStore((state) => state.place);
  const chosen = useStore((state) => state.settings.typingGauge);
  const readOnly = useStore((state) => state.session?.readOnly ?? true);
  const { call, set } = useStore((state) => state.actions);
  const [line, setLine] = useState("");
  const gauge = typingGauge(job, place, chosen);
  if (job === null || gauge === null || readOnly) return null;
  const send = async (event: FormEvent) => {
    event.preventDefault();
    if (line.trim() === "") return;
    if ((await call("session.type", { gauge, line: line.trim() })) !== null) setLine("");
  };
  return (
    <Details summary="Keyboard-type cable, or a reading typed by hand">
      <form className={styles.form} onSubmit={send}>
        <Choice
          label="What is typed belongs to"
          value={chosen ?? ""}
          onChange={(event) => set({ typingGauge: event.target.value === "" ? null : event.target.value })}
          options={[
            { value: "", text: "the gauge of this place" },
            ...job.gauges.map((one) => ({ value: one.id, text: `${gaugeName(one)} (${one.id})` })),
          ]}
        />
        <Field
          label={`Reading of ${gaugeName(job.gauges.find((one) => one.id === gauge) ?? { role: "bore" })}, as it shows`}
          value={line}
          onChange={(event) => setLine(event.target.value)}
          inputMode="decimal"
          autoComplete="off"
          hint="A cable that types needs no click: its digits and Return go to the gauge wherever the cursor is."
        />
        <Button type="submit">Enter the reading</Button>
      </form>
    </Details>
  );
}
