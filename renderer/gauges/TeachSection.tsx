import { type ReactNode, useEffect, useState } from "react";
import type { TeachingNow } from "../../core/bridge/messages.ts";
import type { GaugeRole } from "../../core/gauge/profile.ts";
import type { TeachView } from "../../core/gauge/teach/teachView.ts";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import { Details } from "../parts/Details.tsx";
import { Field } from "../parts/Field.tsx";
import { gaugeName } from "../parts/gaugeName.ts";
import { RawLine } from "../parts/RawLine.tsx";
import table from "../parts/table.module.css";
import { useStore } from "../store/store.ts";
import { controlCharacters } from "./controlCharacters.ts";
import styles from "./GaugesPlace.module.css";
import { PortChoice, PowerFields, SpeedFields } from "./PortFields.tsx";
import { TaughtSection } from "./TaughtSection.tsx";

const ROLES: readonly { readonly value: GaugeRole; readonly text: string }[] = [
  { value: "bore", text: "Bore gauge" },
  { value: "micrometer", text: "Micrometer" },
];

/** Finds out how a gauge speaks, from three presses of its button; what was found goes to the job and is kept. */
export function TeachSection({
  role,
  onRole,
}: {
  readonly role: GaugeRole;
  readonly onRole: (role: GaugeRole) => void;
}): ReactNode {
  const ports = useStore((state) => state.ports);
  const teaching = useStore((state) => state.teaching);
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const { call, ask } = useStore((state) => state.actions);
  const [path, setPath] = useState("");
  const free = ports.filter((port) => port.usedBy === null);
  const paths = path === "" ? free.map((port) => port.path) : [path];

  // The ports are let go when the place is left, else the gauge could not be connected to its own.
  useEffect(() => () => void ask("gauge.teachStop", {}), [ask]);

  const name = gaugeName({ role }).toLowerCase();
  return (
    <section className={styles.listen} aria-labelledby="teach-title">
      <h2 id="teach-title">Teach a gauge</h2>
      {teaching === null ? (
        <>
          <p>
            Plug it in. Then press its data button three times: port, speed, line format, unit and resolution are worked
            out from that.
          </p>
          <Choices label="The gauge to be taught" value={role} options={ROLES} onChoose={onRole} />
          <div className={styles.fields}>
            <PortChoice path={path} onChange={setPath} any={anyText(free.length)} />
          </div>
          {path === "" && free.length > 1 ? (
            <p className={styles.kept}>
              All {free.length} ports are opened to hear which one speaks. Unplug first what is no gauge and must not be
              opened.
            </p>
          ) : null}
          <div className={styles.row}>
            <Button
              kind="main"
              disabled={!mayAct || paths.length === 0}
              onClick={() => void call("gauge.teach", { paths })}
            >
              Begin
            </Button>
          </div>
        </>
      ) : (
        <>
          {teaching.teach === null ? (
            <WhichPort teaching={teaching} name={name} />
          ) : (
            <Taught teach={teaching.teach} teaching={teaching} role={role} />
          )}
          <div className={styles.row}>
            <Button onClick={() => void call("gauge.teachStop", {})}>Stop</Button>
          </div>
        </>
      )}
    </section>
  );
}

function anyText(count: number): string {
  if (count === 0) return "No port found: plug the gauge in";
  return count === 1 ? "The one there is" : `Whichever of the ${count} speaks`;
}

/** Several ports are open: a press tells which is the gauge's. */
function WhichPort({ teaching, name }: { readonly teaching: TeachingNow; readonly name: string }): ReactNode {
  const call = useStore((state) => state.actions.call);
  return (
    <>
      <p className={styles.instruction} role="status">
        Press the data button of the {name}: whichever port speaks is it.
      </p>
      <ul className={styles.ports}>
        {teaching.ports.map((port) => (
          <li key={port.path}>
            <span>{port.label}</span>
            <span>
              {port.state === "quiet"
                ? "○ quiet"
                : port.state === "talks"
                  ? "● talks by itself: another gauge that streams, or this one"
                  : `▲ ${port.why ?? "can not be opened"}`}
            </span>
            {port.state === "trouble" ? null : (
              <Button onClick={() => void call("gauge.teachTake", { path: port.path })}>It is this one</Button>
            )}
          </li>
        ))}
      </ul>
    </>
  );
}

function Taught({
  teach,
  teaching,
  role,
}: {
  readonly teach: TeachView;
  readonly teaching: TeachingNow;
  readonly role: GaugeRole;
}): ReactNode {
  const [port] = teaching.ports;
  return (
    <>
      <p className={styles.instruction} role="status">
        {port?.why ?? teach.sentence}
      </p>
      <p className={styles.kept}>
        On {port?.label ?? teaching.chosen} at {teach.setting.baud}, {teach.setting.framing}, DTR{" "}
        {teach.setting.dtr ? "raised" : "lowered"}, RTS {teach.setting.rts ? "raised" : "lowered"}
        {teach.searching ? "" : ", kept by hand"}.
      </p>
      {teach.state === "found" ? <TaughtSection teach={teach} path={teaching.chosen ?? ""} role={role} /> : null}
      <div className={styles.columns}>
        <LinesTable teach={teach} />
        <div>
          <h3>Tried so far</h3>
          {teach.tried.length === 0 ? (
            <p className={styles.kept}>Nothing else yet.</p>
          ) : (
            <ol className={styles.tried}>
              {teach.tried.map(({ setting, heard }) => (
                <li key={`${setting.baud} ${setting.framing} ${setting.dtr} ${setting.rts}`}>
                  <span>
                    {setting.baud}, {setting.framing}
                    {setting.dtr && setting.rts
                      ? ""
                      : `, DTR ${setting.dtr ? "raised" : "lowered"}, RTS ${setting.rts ? "raised" : "lowered"}`}
                  </span>
                  <span>{heard}</span>
                </li>
              ))}
            </ol>
          )}
        </div>
      </div>
      <ByHand teach={teach} />
    </>
  );
}

function LinesTable({ teach }: { readonly teach: TeachView }): ReactNode {
  if (teach.lines.length === 0) return <p className={styles.kept}>No line yet at this speed.</p>;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section className={table.scroll} aria-label="Lines received" tabIndex={0}>
      <table className={table.table}>
        <caption className="unseen">Lines received: bytes, text, and how they were understood</caption>
        <thead>
          <tr>
            <th scope="col">Bytes, hexadecimal</th>
            <th scope="col">As text</th>
            <th scope="col">Understood as</th>
          </tr>
        </thead>
        <tbody>
          {numbered(teach.lines).map(({ key, entry }) => (
            <tr key={key}>
              <td className={styles.hex}>{entry.hex}</td>
              <td>
                <RawLine line={entry.raw} />
              </td>
              <td>{entry.understood ?? <strong>▲ {entry.why ?? "no number in it"}</strong>}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** Every part of how the port is opened, to be set by a person; the search then rests. */
function ByHand({ teach }: { readonly teach: TeachView }): ReactNode {
  const call = useStore((state) => state.actions.call);
  const [request, setRequest] = useState("");
  const { setting } = teach;
  return (
    <Details summary="Set it by hand: speed, power of the cable, a request">
      <div className={styles.fields}>
        <SpeedFields
          settings={setting}
          onChange={(part) => void call("gauge.teachHand", { setting: { ...setting, ...part } })}
        />
      </div>
      <p className={styles.kept}>Nothing comes? Some cables draw their power from these lines:</p>
      <div className={styles.row}>
        <PowerFields
          settings={setting}
          onChange={(part) => void call("gauge.teachHand", { setting: { ...setting, ...part } })}
        />
      </div>
      <form
        className={styles.ask}
        onSubmit={(event) => {
          event.preventDefault();
          const text = controlCharacters(request);
          if (text !== undefined) void call("gauge.teachAsk", { text });
        }}
      >
        <Field
          label="Request of a gauge that speaks only when asked"
          hint="\r is Return, \n is line feed; such as ?\r. The one that works belongs into the job, under Gauges."
          value={request}
          onChange={(event) => setRequest(event.target.value)}
          autoComplete="off"
        />
        <Button type="submit">Ask it</Button>
      </form>
      {teach.searching ? null : (
        <Button onClick={() => void call("gauge.teachHand", { search: true })}>Search again by itself</Button>
      )}
    </Details>
  );
}

function numbered<T>(entries: readonly T[]): readonly { readonly key: string; readonly entry: T }[] {
  return entries.map((entry, index) => ({ key: `line ${index}`, entry }));
}
