import { type FormEvent, type ReactNode, useState } from "react";
import { Button } from "../parts/Button.tsx";
import { Field } from "../parts/Field.tsx";
import { useStore } from "../store/store.ts";
import { readTemperature } from "./readTemperature.ts";
import styles from "./ZeroPlace.module.css";

/** Temperatures as measured on the metal; left out, both are taken as equal and the uncertainty says what that costs. */
export function TemperatureFields({ mayAct }: { readonly mayAct: boolean }): ReactNode {
  const act = useStore((state) => state.actions.act);
  const [block, setBlock] = useState("");
  const [lifter, setLifter] = useState("");
  const [kept, setKept] = useState<string | null>(null);
  const blockC = readTemperature(block);
  const lifterC = readTemperature(lifter);
  const wrong = blockC.error !== null || lifterC.error !== null;
  const send = async (event: FormEvent) => {
    event.preventDefault();
    if (wrong || (blockC.value === null && lifterC.value === null)) return;
    const taken = await act({
      type: "temperature",
      ...(blockC.value === null ? {} : { blockC: blockC.value }),
      ...(lifterC.value === null ? {} : { lifterC: lifterC.value }),
    });
    if (taken) setKept([block && `block ${block} °C`, lifter && `lifter ${lifter} °C`].filter(Boolean).join(", "));
  };
  return (
    <section className={styles.part} aria-labelledby="temperature-title">
      <h2 id="temperature-title">Temperatures</h2>
      <form className={styles.row} onSubmit={send}>
        <Field
          label="Block, °C"
          inputMode="decimal"
          autoComplete="off"
          value={block}
          onChange={(event) => setBlock(event.target.value)}
          error={blockC.error}
        />
        <Field
          label="Lifter and micrometer, °C"
          inputMode="decimal"
          autoComplete="off"
          value={lifter}
          onChange={(event) => setLifter(event.target.value)}
          error={lifterC.error}
        />
        <Button type="submit" disabled={!mayAct || wrong || (block === "" && lifter === "")}>
          Enter them
        </Button>
      </form>
      <p className={styles.note} aria-live="polite">
        {kept === null
          ? "Not measured? Leave them empty: both are then taken as equal, at 20 °C within a few degrees."
          : `Entered: ${kept}.`}
      </p>
    </section>
  );
}
