import { create } from "zustand";
import type { SessionView } from "../../core/session/view.ts";
import { openSession, sentSession } from "../start/openSession.ts";
import { type SessionEntry, useStore } from "../store/store.ts";
import { STAGES } from "./stages.ts";

/** The invented block of the guided try: three of its four bores fit, one is too loose. Found by trying. */
const SEED = 861;

const JOB = {
  format: "borewright/job",
  version: 1,
  title: "Guided try",
  block: "invented, with simulated gauges",
  layout: {
    id: "two",
    title: "Two cylinders, invented",
    firingOrder: [1, 2],
    banks: [{ name: "only", cylinders: [1, 2], bores: ["I", "E", "I", "E"] }],
  },
};

/** The guided try: whose session it is, how far it is, and whether it is shown. */
export interface Guided {
  /** Id of its session; null when none was begun or taken up in this window. */
  readonly session: string | null;
  /** Index into the stages. */
  readonly stage: number;
  /** Its panel stands beside the places. */
  readonly shown: boolean;
}

export const useGuided = create<Guided>()(() => ({ session: null, stage: 0, shown: false }));

/**
 * The session of a guided try that was left, newest first: the one of this window, else one of the list that is not
 * complete. Null if there is none.
 */
export function leftGuided(session: string | null, sessions: readonly SessionEntry[]): string | null {
  const usable = sessions.filter((entry) => entry.trouble === null);
  if (usable.some((entry) => entry.id === session)) return session;
  const left = usable.filter((entry) => entry.simulated && entry.title === JOB.title && !entry.complete);
  return left.toSorted((a, b) => b.modified.localeCompare(a.modified))[0]?.id ?? null;
}

/** The first stage whose work is not done yet; once all of it is, the first at the desk after it. */
export function stageOf(view: SessionView): number {
  const lastDone = STAGES.findLastIndex(({ hands }) => hands?.isDone(view) === true);
  return Math.min(lastDone + 1, STAGES.length - 1);
}

/** Begins a new one: its own invented block, its own session. */
export async function beginGuided(): Promise<void> {
  const { actions } = useStore.getState();
  const begun = await actions.call("session.new", { job: JOB, simulate: true, seed: SEED });
  if (begun === null || (await sentSession(begun.id)) === null) return;
  useGuided.setState({ session: begun.id, stage: 0, shown: true });
  showStage(0);
}

/** Goes on with one that was left. */
export async function takeUpGuided(session: string): Promise<void> {
  if (useStore.getState().session?.id !== session) await openSession(session, false, { simulate: true, seed: SEED });
  const opened = useStore.getState();
  if (opened.session?.id !== session || opened.view === null) return;
  const before = useGuided.getState();
  useGuided.setState({ session, shown: true });
  showStage(before.session === session ? before.stage : stageOf(opened.view));
}

/** Leaves it where it is; the hands lay the gauge down, and everything else stays open. */
export function leaveGuided(): void {
  useGuided.setState({ shown: false });
  const { handsWork, actions } = useStore.getState();
  if (handsWork) void actions.letHandsWork(false);
}

/** Shows a stage at its place. */
export function showStage(stage: number): void {
  const { place } = STAGES[stage] ?? {};
  if (place === undefined) return;
  useGuided.setState({ stage });
  useStore.getState().actions.goTo(place);
}
