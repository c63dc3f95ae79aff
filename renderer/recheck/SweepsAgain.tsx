import { type ReactNode, useState } from "react";
import type { StationPlace } from "../../core/block/layout.ts";
import { spokenBore, spokenPlace } from "../../core/block/spokenBore.ts";
import type { MethodInput } from "../../core/bridge/messages.ts";
import type { SessionView } from "../../core/session/view.ts";
import type { Sweep } from "../../core/sweep/sweep.ts";
import { Button } from "../parts/Button.tsx";
import { classNames } from "../parts/classNames.ts";
import { Details } from "../parts/Details.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { SweepDot, sweepInWords } from "../parts/Sweeps.tsx";
import table from "../parts/table.module.css";
import { openSession } from "../start/openSession.ts";
import { useStore } from "../store/store.ts";
import { clock } from "../zero/ZeroLog.tsx";
import styles from "./recheck.module.css";

type Change = MethodInput<"session.derive">["changes"][number];

/** Where sweeps are looked at: a station of a bore, or a zero or return check. */
interface Group {
  readonly title: string;
  readonly bore?: string;
  readonly station?: StationPlace;
  readonly sweeps: readonly Sweep[];
}

const MICROMETER = "in the micrometer";

function groupsOf(view: SessionView, chosen: string): Group[] {
  if (chosen === MICROMETER) {
    return view.references.map(({ kind, tMs, sweeps }) => ({
      title: `${kind === "zero" ? "Zero" : "Return check"} at ${clock(tMs)}`,
      sweeps,
    }));
  }
  const bore = view.bores.find(({ name }) => name === chosen);
  return (bore?.stations ?? []).map(({ place, station }) => ({
    title: spokenPlace(place),
    bore: chosen,
    station: place,
    sweeps: station.sweeps,
  }));
}

/**
 * Sweeps struck or given back after the work, in a session derived from the open one: what was recorded at the bench
 * stays as it is.
 */
export function SweepsAgain({ view }: { readonly view: SessionView }): ReactNode {
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const call = useStore((state) => state.actions.call);
  const [chosen, setChosen] = useState(view.bores[0]?.name ?? MICROMETER);
  const [changes, setChanges] = useState<readonly Change[]>([]);
  const [why, setWhy] = useState("");
  const [made, setMade] = useState<string | null>(null);
  const measured = view.bores.filter(({ stations }) => stations.length > 0).map(({ name }) => name);
  if (measured.length === 0) return null;

  const toggle = (group: Group, sweep: Sweep) => {
    const known = changes.some(({ sweepMs }) => sweepMs === sweep.tMs);
    const where =
      group.bore === undefined || group.station === undefined ? {} : { bore: group.bore, station: group.station };
    const change: Change = { ...where, sweepMs: sweep.tMs, use: sweep.use === "struck" ? "kept" : "struck" };
    setChanges(known ? changes.filter(({ sweepMs }) => sweepMs !== sweep.tMs) : [...changes, change]);
    setMade(null);
  };
  const derive = async () => {
    const answer = await call("session.derive", { changes: [...changes], why });
    if (answer === null) return;
    setMade(answer.id);
    setChanges([]);
    setWhy("");
  };
  return (
    <section aria-labelledby="again-heading" className={styles.again}>
      <h2 id="again-heading">Strike a sweep, or give one back</h2>
      <p className={styles.soft}>
        The record of the bench is never changed. What you strike or give back here goes into a session of its own that
        names this one, with your reason.
      </p>
      <Choice
        label="Sweeps of"
        value={chosen}
        options={[
          ...measured.map((name) => ({ value: name, text: `${name}: ${spokenBore(name)}` })),
          { value: MICROMETER, text: MICROMETER },
        ]}
        onChange={({ target }) => setChosen(target.value)}
      />
      {groupsOf(view, chosen).map((group, index) => (
        <SweepTable
          key={`${chosen} ${group.title}`}
          group={group}
          first={index === 0}
          changed={(sweep) => changes.some(({ sweepMs }) => sweepMs === sweep.tMs)}
          onToggle={(sweep) => toggle(group, sweep)}
        />
      ))}
      <div className={styles.derive}>
        <Field
          label="Why"
          hint="in your words; it stands in the new session"
          value={why}
          onChange={({ target }) => setWhy(target.value)}
          autoComplete="off"
        />
        <Button disabled={!mayAct || changes.length === 0 || why.trim() === ""} onClick={() => void derive()}>
          {changes.length === 0
            ? "Make a session"
            : changes.length === 1
              ? "Make a session with this change"
              : `Make a session with these ${changes.length} changes`}
        </Button>
      </div>
      <p role="status">
        {made === null ? null : (
          <>
            Made: {made}. <Button onClick={() => void openSession(made, true)}>Look at it</Button>
          </>
        )}
      </p>
    </section>
  );
}

function SweepTable({
  group,
  first,
  changed,
  onToggle,
}: {
  readonly group: Group;
  /** It stands open from the start. */
  readonly first: boolean;
  readonly changed: (sweep: Sweep) => boolean;
  readonly onToggle: (sweep: Sweep) => void;
}): ReactNode {
  const marked = group.sweeps.filter(changed).length;
  return (
    <Details
      summary={`${group.title} ${group.sweeps.length} sweeps${marked === 0 ? "" : `, ${marked} to change`}`}
      open={first}
    >
      <div className={classNames(table.scroll, styles.scroll)}>
        <table className={classNames(table.table, styles.table)}>
          <caption className="unseen">{group.title}</caption>
          <thead>
            <tr>
              <th scope="col">At</th>
              <th scope="col">Smallest reading</th>
              <th scope="col">Turning point</th>
              <th scope="col">Counted as</th>
              <th scope="col">
                <span className="unseen">Change it</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {group.sweeps.map((sweep) => {
              const now = changed(sweep);
              const back = sweep.use === "struck";
              return (
                <tr key={sweep.tMs} data-changed={now}>
                  <td>
                    {clock(sweep.tMs)}.{Math.floor(sweep.tMs / 100) % 10}
                  </td>
                  <td>
                    <Figure length={sweep.rawMinNm} sign />
                  </td>
                  <td>
                    <Figure length={sweep.turningPointNm} sign />
                  </td>
                  <td>
                    <span className={styles.sweepUse}>
                      <span className={styles.sweepDot}>
                        <SweepDot use={sweep.use} />
                      </span>
                      {sweepInWords(sweep)}
                      {now ? <strong>, to be {back ? "given back" : "struck"}</strong> : null}
                    </span>
                  </td>
                  <td>
                    <Button aria-pressed={now} onClick={() => onToggle(sweep)}>
                      {now ? "Leave it" : back ? "Give it back" : "Strike it"}
                    </Button>
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </Details>
  );
}
