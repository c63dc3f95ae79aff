import type { Bridge, Envelope, HostEvent, MethodInput, MethodName, OpenSession } from "../../core/bridge/messages.ts";
import { readTyped, typedLine } from "../../core/gauge/readTyped.ts";
import { PairingError } from "../../core/pairing/pairingError.ts";
import { sessionStudy } from "../../core/report/sessionStudy.ts";
import { parseStudyFile, StudyFileError } from "../../core/report/studyFile.ts";
import { studyReport } from "../../core/report/studyReport.ts";
import { WhatIfError } from "../../core/report/whatIf.ts";
import { JobError } from "../../core/session/jobError.ts";
import { jobFileWithDefaults } from "../../core/session/jobFile.ts";
import type { PortEntry, SessionEntry } from "../../renderer/store/store.ts";
import { BoresBench } from "./boresBench.ts";
import {
  benchPairing,
  benchPlanning,
  benchRecheck,
  benchRemedy,
  benchWhatIf,
  inventedComparison,
} from "./remedyAnswers.ts";

class TypedRefusal extends Error {}

/**
 * A stand-in for the host, for tests and for looking at screens: no port, no disk, no clock. What it does with a
 * session is the program's own reducer in memory; lists, ports and answers are invented by its caller.
 */
export interface FakeHost {
  readonly bridge: Bridge;
  /** Every call so far, oldest first. */
  readonly calls: readonly { readonly method: MethodName; readonly input: unknown }[];
  /** Sends an event as the host would. */
  emit(event: HostEvent): void;
  /** Opens a bench as the session, and sends it. */
  open(bench: BoresBench, session?: Partial<OpenSession>): void;
  /** Sends outcomes and the view after the bench was fed. */
  flush(): void;
  /** Refuses the method from now on. */
  refuse(method: MethodName, code: string, message: string): void;
}

export interface FakeHostState {
  readonly sessions?: readonly SessionEntry[];
  readonly ports?: readonly PortEntry[];
  readonly mayAct?: boolean;
}

export function fakeHost(state: FakeHostState = {}): FakeHost {
  const listeners = new Set<(event: HostEvent) => void>();
  const calls: { method: MethodName; input: unknown }[] = [];
  const refusals = new Map<MethodName, { code: string; message: string }>();
  const sessions = [...(state.sessions ?? [])];
  let bench: BoresBench | null = null;
  let told = 0;

  const emit = (event: HostEvent) => {
    for (const listener of listeners) listener(event);
  };
  const flush = () => {
    if (bench === null) return;
    for (const outcome of bench.outcomes.slice(told)) emit({ type: "outcome", outcome });
    told = bench.outcomes.length;
    emit({ type: "view", view: bench.run.view() });
  };
  const open = (opened: BoresBench, session: Partial<OpenSession> = {}) => {
    bench = opened;
    told = opened.outcomes.length;
    emit({
      type: "session",
      session: {
        id: "invented",
        name: "bench example.bwsession",
        readOnly: false,
        simulated: false,
        simulating: session.simulated ?? false,
        job: jobFileWithDefaults(opened.jobFile),
        view: opened.run.view(),
        ...session,
      },
    });
    emit({ type: "readings", readings: opened.readings });
  };

  const answer: { [M in MethodName]?: (input: MethodInput<M>) => unknown } = {
    "app.info": () => ({
      version: "0",
      shell: "loopback",
      folder: "/invented/sessions",
      mayAct: state.mayAct ?? true,
      writesPdf: false,
    }),
    "sessions.list": () => ({ sessions }),
    "ports.list": () => ({ ports: state.ports ?? [] }),
    "job.check": ({ job }) => ({ job: jobFileWithDefaults(job) }),
    "session.new": ({ job, simulate }) => {
      open(new BoresBench(job), { simulated: simulate ?? false });
      return { id: "invented" };
    },
    "session.open": ({ id, readOnly }) => {
      open(new BoresBench({}), { id, readOnly: readOnly ?? false });
      return { id };
    },
    "session.adopt": () => ({ id: "adopted" }),
    "session.act": ({ action }) => {
      bench?.act(action);
      flush();
      return {};
    },
    "session.type": ({ gauge, line }) => {
      bench?.act({ type: "line", gauge, line });
      flush();
      return {};
    },
    "session.typeByHand": ({ gauge, text, unit }) => {
      const read = readTyped(text, unit);
      const why = read.ok ? (bench?.run.whyNotTyped(gauge, typedLine(read)) ?? null) : read.why;
      if (!read.ok || why !== null) throw new TypedRefusal(why ?? "");
      bench?.act({ type: "line", gauge, line: typedLine(read), by: "hand" });
      flush();
      return {};
    },
    "session.study": () => {
      if (bench === null) return { report: null, table: null, due: 0 };
      const { report, table, due } = sessionStudy(bench.run);
      return { report, due, table: table === null ? null : { ...table, readings: table.cells } };
    },
    "session.pairing": (input) => (bench === null ? {} : { pairing: benchPairing(bench, input) }),
    "session.remedy": (input) => (bench === null ? {} : { remedy: benchRemedy(bench, input) }),
    "session.whatIf": (input) => (bench === null ? {} : { result: benchWhatIf(bench, input) }),
    "session.recheck": (input) => (bench === null ? {} : benchRecheck(bench, input)),
    "session.planning": (input) => (bench === null ? {} : { planning: benchPlanning(bench, input) }),
    "session.compare": () => (bench === null ? {} : { comparison: inventedComparison(bench) }),
    "study.read": ({ content }) => ({ report: studyReport(parseStudyFile(JSON.parse(content))) }),
    "gauge.connect": ({ gauge }) => {
      bench?.act({ type: "link", gauge, link: "open" });
      flush();
      return {};
    },
    "gauge.disconnect": ({ gauge }) => {
      bench?.act({ type: "link", gauge, link: "closed" });
      flush();
      return {};
    },
  };

  return {
    calls,
    emit,
    open,
    flush,
    refuse: (method, code, message) => refusals.set(method, { code, message }),
    bridge: {
      async call(method, input) {
        calls.push({ method, input });
        const refusal = refusals.get(method);
        if (refusal !== undefined) return { ok: false, ...refusal };
        try {
          const value = (answer[method] as ((input: unknown) => unknown) | undefined)?.(input) ?? {};
          return { ok: true, value } as Envelope<never>;
        } catch (error) {
          if (error instanceof StudyFileError) return { ok: false, code: "study", message: error.message };
          if (error instanceof PairingError) return { ok: false, code: "pairing", message: error.message };
          if (error instanceof WhatIfError) return { ok: false, code: "what-if", message: error.message };
          if (error instanceof TypedRefusal) return { ok: false, code: "not-a-reading", message: error.message };
          if (error instanceof JobError) return { ok: false, code: "job", message: error.message };
          throw error;
        }
      },
      listen(onEvent) {
        listeners.add(onEvent);
        return () => listeners.delete(onEvent);
      },
    },
  };
}
