import { createContext, useContext } from "react";
import { createStore, type StoreApi, useStore as useSlice } from "zustand";
import type {
  Bridge,
  Envelope,
  Given,
  HostEvent,
  LiveReading,
  MethodInput,
  MethodName,
  MethodOutput,
  OpenSession,
  OperatorAction,
  RememberedGauge,
  TeachingNow,
  TrafficEntry,
} from "../../core/bridge/messages.ts";
import type { LinkState } from "../../core/session/event.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import type { SessionView, ViewChange } from "../../core/session/view.ts";
import { PLACE_OF_STEP, type Place, takesTyping } from "./place.ts";
import {
  DEFAULT_SETTINGS,
  keepSettings,
  readSettings,
  type Settings,
  type SettingsStorage,
  settingsFrom,
} from "./settings.ts";
import { TraceRing } from "./trace.ts";

export type AppInfo = MethodOutput<"app.info">;
export type SessionEntry = MethodOutput<"sessions.list">["sessions"][number];
export type PortEntry = MethodOutput<"ports.list">["ports"][number];

/** A call that the host refused, as the person is told of it. */
export interface Problem {
  readonly method: MethodName;
  readonly code: string;
  readonly message: string;
}

/** An outcome with its number since the window was opened (1, 2, 3 …), so that a listener misses and repeats none. */
export interface NumberedOutcome {
  readonly count: number;
  readonly outcome: Outcome;
}

/** Rows of raw traffic remembered, as many as the host does. */
const TRAFFIC_KEPT = 2000;

/** How many outcomes are remembered. */
const OUTCOMES_KEPT = 64;

export interface Actions {
  /**
   * Asks the host. Null when it refused: `problem` then says why and the screen shows it.
   */
  call<M extends MethodName>(method: M, input: MethodInput<M>): Promise<MethodOutput<M> | null>;
  /** Asks the host and leaves the answer, good or bad, to the caller. Never rejects. */
  ask<M extends MethodName>(method: M, input: MethodInput<M>): Promise<Envelope<MethodOutput<M>>>;
  /** Does something in the open session; true if the host took it. */
  act(action: OperatorAction): Promise<boolean>;
  /**
   * Lets the simulated person work or rest; only with simulated gauges. With `alone: false` they do the step that is
   * chosen and wait for the next. True if the host took it.
   */
  letHandsWork(work: boolean, how?: { readonly alone: boolean }): Promise<boolean>;
  goTo(place: Place): void;
  set(change: Partial<Settings>): void;
  dismissProblem(): void;
}

export interface Store {
  /** Null until the host has answered. */
  readonly info: AppInfo | null;
  /** Why there is no host, or null. */
  readonly noHost: string | null;
  readonly session: OpenSession | null;
  /** Newest snapshot of the open session; null when none is open. */
  readonly view: SessionView | null;
  /** Null until the host has listed them. */
  readonly sessions: readonly SessionEntry[] | null;
  readonly ports: readonly PortEntry[];
  /** Null while no gauge is being taught. */
  readonly teaching: TeachingNow | null;
  /** Gauges whose ports are remembered. */
  readonly profiles: readonly RememberedGauge[];
  /** What went over the ports while it was watched, oldest first. */
  readonly traffic: readonly TrafficEntry[];
  /**
   * `pendingMs` is how long the oldest pending record had waited when the host told it, ms; 0 when nobody knows.
   * `cured` says how the last trouble with the disk ended; null while there is or was none.
   */
  readonly saved: {
    readonly pending: number;
    readonly pendingMs: number;
    readonly trouble: string | null;
    readonly cured: string | null;
  };
  /** The foot switch on a serial line; `line` is what its last press sent, of `presses` since the window was opened. */
  readonly footSwitch: {
    readonly link: LinkState;
    readonly path: string | null;
    readonly line: string | null;
    readonly presses: number;
  };
  /** By gauge id; filled in place, watch `traceCount`. */
  readonly trace: ReadonlyMap<string, TraceRing>;
  readonly traceCount: number;
  /** The time shown, ms since the start of the session, where it is not the bench's own: a replay's; else null. */
  readonly clockMs: number | null;
  /** The newest live reading by gauge id. */
  readonly live: Readonly<Record<string, LiveReading>>;
  /** The newest outcomes, oldest first, emptied when another session is opened; numbers go on. */
  readonly lastOutcomes: readonly NumberedOutcome[];
  readonly outcomeCount: number;
  /** Whether the simulated person works; the host does not say, so it is what was last asked of it. */
  readonly handsWork: boolean;
  /** The newest file that was opened from outside the window; null while there was none. */
  readonly given: Given | null;
  readonly place: Place;
  readonly problem: Problem | null;
  readonly settings: Settings;
  readonly actions: Actions;
}

const NOTHING_SAVED = { pending: 0, pendingMs: 0, trouble: null, cured: null } as const;

/** One window's worth of state and the host it listens to: the live one, or that of a session being replayed. */
export interface Desk {
  readonly store: StoreApi<Store>;
  /**
   * Makes `host` the only source of the store and starts listening. Returns the function that lets it go again.
   */
  attach(host: Bridge, settingsStorage: SettingsStorage): () => void;
  /** Takes one event of the host into the store. */
  receive(event: HostEvent): void;
}

export function createDesk(): Desk {
  let bridge: Bridge | null = null;
  let storage: SettingsStorage | null = null;

  const store = createStore<Store>()((set, get) => ({
    info: null,
    noHost: null,
    session: null,
    view: null,
    sessions: null,
    ports: [],
    teaching: null,
    profiles: [],
    traffic: [],
    saved: NOTHING_SAVED,
    footSwitch: { link: "closed", path: null, line: null, presses: 0 },
    trace: new Map(),
    traceCount: 0,
    clockMs: null,
    live: {},
    lastOutcomes: [],
    outcomeCount: 0,
    handsWork: false,
    given: null,
    place: "Start",
    problem: null,
    settings: DEFAULT_SETTINGS,
    actions: {
      async ask(method, input) {
        if (bridge === null) return { ok: false, code: "no-host", message: "The program is not connected yet." };
        try {
          return await bridge.call(method, input);
        } catch (error) {
          const why = error instanceof Error ? error.message : String(error);
          return { ok: false, code: "no-answer", message: `No answer from the program: ${why}` };
        }
      },
      async call(method, input) {
        const answer = await get().actions.ask(method, input);
        if (answer.ok) return answer.value;
        set({ problem: { method, code: answer.code, message: answer.message } });
        return null;
      },
      async act(action) {
        return (await get().actions.call("session.act", { action })) !== null;
      },
      async letHandsWork(work, how = { alone: true }) {
        const input = how.alone ? { run: work } : { run: work, alone: false };
        if ((await get().actions.call("simulate.run", input)) === null) return false;
        set({ handsWork: work });
        return true;
      },
      goTo(place) {
        set({ place, problem: null });
      },
      set(change) {
        const settings = { ...get().settings, ...change };
        if (storage !== null) keepSettings(storage, settings);
        set({ settings });
        // The host keeps them for the next start; where it cannot, they last as long as the browser's do.
        void get().actions.ask("settings.keep", { settings });
      },
      dismissProblem() {
        set({ problem: null });
      },
    },
  }));

  function attach(host: Bridge, settingsStorage: SettingsStorage): () => void {
    bridge = host;
    storage = settingsStorage;
    store.setState({ settings: readSettings(settingsStorage), noHost: null });
    const stop = host.listen(receive);
    const { ask } = store.getState().actions;
    void ask("settings.read", {}).then((answer) => {
      const kept = answer.ok ? (answer.value.settings ?? null) : null;
      if (kept === null || bridge !== host) return;
      const settings = settingsFrom(kept);
      keepSettings(settingsStorage, settings);
      store.setState({ settings });
    });
    void ask("app.info", {}).then((answer) => {
      if (answer.ok) store.setState({ info: answer.value });
      else store.setState({ noHost: answer.message });
    });
    void ask("sessions.list", {}).then((answer) => {
      if (answer.ok) store.setState({ sessions: answer.value.sessions });
    });
    void ask("ports.list", {}).then((answer) => {
      if (answer.ok) store.setState({ ports: answer.value.ports });
    });
    return () => {
      stop();
      if (bridge === host) bridge = null;
    };
  }

  function receive(event: HostEvent): void {
    switch (event.type) {
      case "session":
        receiveSession(event.session);
        return;
      case "view":
        receiveView(event.view);
        return;
      case "outcome":
        receiveOutcome(event.outcome);
        return;
      case "readings":
        receiveReadings(event.readings);
        return;
      case "saved":
        store.setState({
          saved: {
            pending: event.pending,
            pendingMs: event.pendingMs ?? 0,
            trouble: event.trouble,
            cured: event.cured ?? null,
          },
        });
        return;
      case "switch": {
        const { presses } = store.getState().footSwitch;
        const { link, path, line = null } = event;
        store.setState({ footSwitch: { link, path, line, presses: presses + (line === null ? 0 : 1) } });
        return;
      }
      case "ports":
        store.setState({ ports: event.ports });
        return;
      case "teaching":
        store.setState({ teaching: event.teaching });
        return;
      case "profiles":
        store.setState({ profiles: event.profiles });
        return;
      case "traffic":
        store.setState({ traffic: [...store.getState().traffic, ...event.entries].slice(-TRAFFIC_KEPT) });
        return;
      case "sessions":
        store.setState({ sessions: event.sessions });
        return;
      case "given":
        store.setState({ given: event.given });
        return;
    }
  }

  function receiveSession(session: OpenSession | null): void {
    const before = store.getState().session;
    if (session !== null && before !== null && session.id === before.id) {
      store.setState({ session, view: session.view });
      return;
    }
    store.setState({
      session,
      view: session === null ? null : session.view,
      saved: NOTHING_SAVED,
      trace: new Map(),
      traceCount: 0,
      live: {},
      lastOutcomes: [],
      handsWork: false,
    });
  }

  function receiveView(change: ViewChange): void {
    const state = store.getState();
    // A snapshot may still be under way when the session is closed.
    if (state.session === null || state.view === null) return;
    const { measured = [], ...rest } = change;
    const known = change.bores ?? state.view.bores;
    const bores =
      measured.length === 0 ? known : known.map((one) => measured.find((own) => own.name === one.name) ?? one);
    const view: SessionView = { ...rest, bores };
    store.setState({ view });
    // Hands are on the gauge: when the work moves on, the screen goes with it, from one place of work to the next.
    const step = view.step;
    // A return check in the middle of the walk is shown by the walk itself.
    const shownHere = step === "return" && state.place === "Bores";
    if (step !== null && step !== state.view?.step && takesTyping(state.place) && !shownHere) {
      store.setState({ place: PLACE_OF_STEP[step] });
    }
  }

  function receiveOutcome(outcome: Outcome): void {
    const { lastOutcomes, outcomeCount } = store.getState();
    const count = outcomeCount + 1;
    store.setState({
      lastOutcomes: [...lastOutcomes, { count, outcome }].slice(-OUTCOMES_KEPT),
      outcomeCount: count,
    });
  }

  function receiveReadings(readings: readonly LiveReading[]): void {
    if (readings.length === 0) return;
    const { trace, traceCount, live } = store.getState();
    const next: Record<string, LiveReading> = { ...live };
    let rings = trace;
    for (const reading of readings) {
      next[reading.gauge] = reading;
      let ring = rings.get(reading.gauge);
      if (ring === undefined) {
        ring = new TraceRing();
        rings = new Map(rings).set(reading.gauge, ring);
      }
      ring.push(reading);
    }
    store.setState({ live: next, trace: rings, traceCount: traceCount + readings.length });
  }

  return { store, attach, receive };
}

/** The desk of this window. */
export const liveDesk = createDesk();

/** Which desk the components below show; a replay puts its own here. */
export const DeskContext = createContext<Desk>(liveDesk);

/** A part of the state of the desk that the component stands at. */
function useDesk<T>(select: (state: Store) => T): T {
  return useSlice(useContext(DeskContext).store, select);
}

/** The store of the desk that the component stands at, to be asked outside of drawing. */
export function useStoreApi(): StoreApi<Store> {
  return useContext(DeskContext).store;
}

/** As a hook: the desk the component stands at. Its functions: those of the live desk. */
export const useStore = Object.assign(useDesk, {
  getState: liveDesk.store.getState,
  setState: liveDesk.store.setState,
  subscribe: liveDesk.store.subscribe,
  getInitialState: liveDesk.store.getInitialState,
});

export const { attach, receive } = liveDesk;

/** Says that no host could be reached; `why` is a sentence for the person. */
export function setNoHost(why: string): void {
  useStore.setState({ noHost: why });
}
