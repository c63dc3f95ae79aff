import { type ReactNode, useState } from "react";
import type { MethodInput } from "../../core/bridge/messages.ts";
import { Button } from "../parts/Button.tsx";
import { useStore } from "../store/store.ts";
import { download } from "./download.ts";
import styles from "./findings.module.css";

type Kind = MethodInput<"session.export">["kind"];

const TABLES: readonly { readonly kind: Kind; readonly word: string }[] = [
  { kind: "stations.csv", word: "Stations (CSV)" },
  { kind: "bores.csv", word: "Bores (CSV)" },
  { kind: "sweeps.csv", word: "Sweeps (CSV)" },
  { kind: "result.json", word: "Result (JSON)" },
];

/** Writes tables and results out of the open session, as files in the browser's or window's own way. */
export function ExportButtons({ kinds = TABLES }: { readonly kinds?: typeof TABLES }): ReactNode {
  const call = useStore((state) => state.actions.call);
  const decimal = useStore((state) => state.settings.decimal);
  const [done, setDone] = useState<string | null>(null);
  const write = async (kind: Kind) => {
    setDone(null);
    const file = await call("session.export", { kind, decimal });
    if (file === null) return;
    download(file.name, file.content);
    setDone(`${file.name} is written.`);
  };
  return (
    <>
      {kinds.map(({ kind, word }) => (
        <Button key={kind} onClick={() => void write(kind)}>
          {word}
        </Button>
      ))}
      <p role="status" className={styles.written}>
        {done}
      </p>
    </>
  );
}
