import { type ReactNode, useEffect, useRef, useState } from "react";
import type { TrafficEntry } from "../../core/bridge/messages.ts";
import { download } from "../findings/download.ts";
import { Button } from "../parts/Button.tsx";
import { Choice } from "../parts/Field.tsx";
import { RawLine } from "../parts/RawLine.tsx";
import table from "../parts/table.module.css";
import { useStore } from "../store/store.ts";
import styles from "./GaugesPlace.module.css";
import { trafficText } from "./trafficText.ts";

/** Rows drawn; what is copied and saved is everything that is kept. */
const MOST_ROWS = 200;

const DIRECTIONS = { in: "from gauge", out: "to gauge", port: "port" } as const;

/** Everything that goes over the ports, for somebody who looks for a trouble. */
export function TrafficSection(): ReactNode {
  const traffic = useStore((state) => state.traffic);
  const { ask } = useStore((state) => state.actions);
  const [path, setPath] = useState("");
  const [held, setHeld] = useState<readonly TrafficEntry[] | null>(null);
  const [copied, setCopied] = useState<string | null>(null);
  const scroll = useRef<HTMLElement>(null);
  const last = traffic.at(-1)?.n ?? 0;
  const after = useRef(last);
  after.current = last;

  useEffect(() => {
    void ask("traffic.watch", { on: true, after: after.current });
    return () => void ask("traffic.watch", { on: false });
  }, [ask]);

  const all = (held ?? traffic).filter((entry) => path === "" || entry.path === path);
  const shown = all.slice(-MOST_ROWS);
  const newest = shown.at(-1)?.n ?? 0;
  // biome-ignore lint/correctness/useExhaustiveDependencies: the newest row is brought into view whenever there is one
  useEffect(() => {
    if (held === null) scroll.current?.scrollTo(0, scroll.current.scrollHeight);
  }, [newest, held]);

  const paths = [...new Set(traffic.map((entry) => entry.path))];
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(trafficText(all));
      setCopied(`${all.length} rows are copied.`);
    } catch {
      setCopied("This window may not write to the clipboard: save the file instead.");
    }
  };
  return (
    <section className={styles.listen} aria-labelledby="traffic-title">
      <h2 id="traffic-title">Raw traffic</h2>
      <div className={styles.row}>
        <Choice
          label="Port"
          value={path}
          options={[{ value: "", text: "every port" }, ...paths.map((one) => ({ value: one, text: one }))]}
          onChange={(event) => setPath(event.target.value)}
        />
        <Button aria-pressed={held !== null} onClick={() => setHeld(held === null ? traffic : null)}>
          {held === null ? "Hold still" : "Go on"}
        </Button>
        <Button disabled={all.length === 0} onClick={() => void copy()}>
          Copy
        </Button>
        <Button
          disabled={all.length === 0}
          onClick={() => {
            download("raw-traffic.txt", trafficText(all));
            setCopied(`${all.length} rows are saved as raw-traffic.txt.`);
          }}
        >
          Save
        </Button>
        <p role="status">{copied}</p>
      </div>
      {shown.length === 0 ? (
        <p className={styles.kept}>
          Nothing has gone over any port since the program was started. Connect a gauge, or teach one.
        </p>
      ) : (
        <section
          ref={scroll}
          className={styles.traffic}
          aria-label="Rows, newest last"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
          tabIndex={0}
        >
          <table className={table.table}>
            <caption className="unseen">Time, port, direction, bytes and what was understood</caption>
            <thead>
              <tr>
                <th scope="col">Time</th>
                <th scope="col">Port</th>
                <th scope="col">Direction</th>
                <th scope="col">Bytes, hexadecimal</th>
                <th scope="col">As text</th>
                <th scope="col">Understood as</th>
              </tr>
            </thead>
            <tbody>
              {shown.map((entry) => (
                <tr key={entry.n}>
                  <td className={styles.time}>{entry.at.slice(11, 23)}</td>
                  <td className={styles.portCell}>{entry.path}</td>
                  <td>{DIRECTIONS[entry.direction]}</td>
                  <td className={styles.hex}>{entry.hex}</td>
                  <td>{entry.direction === "port" ? entry.text : <RawLine line={entry.text} />}</td>
                  <td>{entry.understood ?? (entry.why === null ? "" : <strong>▲ {entry.why}</strong>)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
      <p className={styles.kept}>
        Times are those of the computer in UTC. The newest 2000 rows of all ports are kept while the program runs, the
        newest {MOST_ROWS} are shown; nothing of it belongs to the record of a session.
      </p>
    </section>
  );
}
