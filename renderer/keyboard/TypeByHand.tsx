import type { ReactNode } from "react";
import { Details } from "../parts/Details.tsx";
import { Choice } from "../parts/Field.tsx";
import { gaugeName } from "../parts/gaugeName.ts";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { EntryLine } from "./EntryLine.tsx";
import styles from "./TypeByHand.module.css";
import { gaugeOfPlace, typingGauge } from "./typingGauge.ts";

/**
 * Of a gauge without a data output the line to type into; of another, folded away, the same line for when its battery is
 * empty, and the choice whose lines a keyboard-type cable types.
 */
export function TypeByHand(): ReactNode {
  const job = useJob();
  const place = useStore((state) => state.place);
  const chosen = useStore((state) => state.settings.typingGauge);
  const readOnly = useStore((state) => state.session?.readOnly ?? true);
  const set = useStore((state) => state.actions.set);
  const own = gaugeOfPlace(job, place);
  if (job === null || readOnly) return null;
  if (own?.source === "typed") return <EntryLine key={own.id} gauge={own} />;
  const gauge = job.gauges.find((one) => one.id === typingGauge(job, place, chosen));
  if (gauge === undefined) return null;
  return (
    <Details summary="Keyboard-type cable, or a reading typed by a person">
      <div className={styles.hand}>
        <Choice
          label="A cable that types belongs to"
          value={chosen ?? ""}
          onChange={(event) => set({ typingGauge: event.target.value === "" ? null : event.target.value })}
          options={[
            { value: "", text: "the gauge of this place" },
            ...job.gauges.map((one) => ({ value: one.id, text: `${gaugeName(one)} (${one.id})` })),
          ]}
          hint="It needs no click: its digits and Return go to the gauge wherever the cursor is."
        />
        {own === null ? null : <EntryLine key={own.id} gauge={own} />}
      </div>
    </Details>
  );
}
