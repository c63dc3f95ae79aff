import { createRoot } from "react-dom/client";
import type { Bridge, HostEvent, OpenSession } from "../../../core/bridge/messages.ts";
import { BoresPlace } from "../../../renderer/bores/BoresPlace.tsx";
import { listenForControls } from "../../../renderer/controls/listenForControls.ts";
import { FindingsPlace } from "../../../renderer/findings/FindingsPlace.tsx";
import { HandoverPlace } from "../../../renderer/handover/HandoverPlace.tsx";
import { RecheckPlace } from "../../../renderer/recheck/RecheckPlace.tsx";
import { RemedyPlace } from "../../../renderer/remedy/RemedyPlace.tsx";
import { SettingsPlace } from "../../../renderer/settings/SettingsPlace.tsx";
import { listenForTones } from "../../../renderer/sound/listenForTones.ts";
import { playScore } from "../../../renderer/sound/playScore.ts";
import { attach, receive, useStore } from "../../../renderer/store/store.ts";
import "../../../renderer/theme/tokens.css";
import "../../../renderer/theme/base.css";
import appStyles from "../../../renderer/App.module.css";
import { Margin } from "../../../renderer/margin/Margin.tsx";
import { GaugeStrip } from "../../../renderer/strip/GaugeStrip.tsx";
import type { BoresBench } from "../boresBench.ts";
import { SCENES } from "./scenes.ts";

/** A page for looking at the places with invented sessions. The host is a stand-in: it answers exports and rechecks. */
const asked = new URLSearchParams(location.search);
const scene = SCENES[asked.get("scene") ?? "open"];
if (scene === undefined) throw new Error(`no such scene; there are ${Object.keys(SCENES).join(", ")}`);

const calls: unknown[] = [];
Object.assign(window, { calls, receive, playScore, view: () => useStore.getState().view });
const bridge: Bridge = {
  async call(method, input) {
    calls.push({ method, input });
    const answers: Record<string, unknown> = {
      "app.info": { version: "0", shell: "loopback", folder: "/invented/sessions", mayAct: true, writesPdf: false },
      "settings.read": { settings: null },
      "settings.keep": {},
      "sessions.list": { sessions: [] },
      "ports.list": { ports: [] },
      "session.act": {},
      "session.export": { name: "block.stations.csv", content: "bore,height\r\n1I,upper\r\n" },
      "session.recheck": scene.recheck?.(input as { limits: string; rule: string }) ?? {
        agrees: true,
        seal: "intact",
        differences: [],
        result: null,
      },
    };
    return { ok: true, value: answers[method] as never };
  },
  listen: () => () => undefined,
};
attach(bridge, { getItem: () => null, setItem: () => undefined });

const bench: BoresBench | null = scene.bench();
const events: HostEvent[] = [];
if (bench !== null) {
  const session: OpenSession = {
    id: "s",
    name: "bench example.bwsession",
    readOnly: false,
    simulated: true,
    simulating: true,
    job: bench.jobFile,
    view: { ...bench.run.view(), ...scene.view?.(bench.run.view()) },
  };
  events.push({ type: "session", session });
  events.push({ type: "readings", readings: bench.readings });
  const told = bench.outcomes.filter((outcome) => scene.untold !== true || outcome.type !== "station");
  for (const outcome of told.slice(-40)) events.push({ type: "outcome", outcome });
}
for (const event of events) receive(event);
for (const event of scene.events ?? []) receive(event);
// As the window does; what has gone before is not sounded again.
listenForTones();
listenForControls(window);
useStore.setState({
  place: (asked.get("place") ?? "Bores") as "Bores",
  settings: {
    ...useStore.getState().settings,
    theme: (asked.get("theme") ?? "light") as "light",
    figure: (asked.get("figure") ?? "normal") as "normal",
    unit: (asked.get("unit") ?? "in") as "in",
    seenFrom: (asked.get("seen") ?? "front") as "front",
  },
});
document.documentElement.dataset.theme = asked.get("theme") ?? "light";
document.documentElement.dataset.figure = asked.get("figure") ?? "normal";

const PLACES = {
  Bores: BoresPlace,
  Findings: FindingsPlace,
  Recheck: RecheckPlace,
  Handover: HandoverPlace,
  Remedy: RemedyPlace,
  Settings: SettingsPlace,
} as const;

function Page() {
  const place = useStore((state) => state.place);
  const Shown = PLACES[place as keyof typeof PLACES];
  return (
    <div className={appStyles.window}>
      <header className={appStyles.top}>
        <GaugeStrip />
      </header>
      <Margin />
      <main className={appStyles.sheet}>{Shown === undefined ? <p>{place}</p> : <Shown />}</main>
    </div>
  );
}
const root = document.getElementById("root");
if (root !== null) {
  createRoot(root).render(<Page />);
  // What has just happened comes after the page listens, so that its light is seen.
  setTimeout(() => {
    for (const outcome of bench === null ? [] : (scene.outcomes?.(bench) ?? [])) receive({ type: "outcome", outcome });
  }, 150);
}
