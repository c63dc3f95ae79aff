import { create } from "zustand";
import { openSession, sentSession } from "../start/openSession.ts";
import type { SettingsStorage } from "../store/settings.ts";
import { useStore } from "../store/store.ts";
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
  /** Id of its session; null when none was begun on this machine. */
  readonly session: string | null;
  /** Index into the stages. */
  readonly stage: number;
  /** Its panel stands beside the places. */
  readonly shown: boolean;
}

const KEY = "borewright.guided";

/** The guided try as kept; none if what is kept makes no sense. It is never shown unasked. */
export function readGuided(storage: Pick<SettingsStorage, "getItem">): Guided {
  try {
    const { session, stage } = JSON.parse(storage.getItem(KEY) ?? "{}") as Record<string, unknown>;
    if (typeof session === "string" && Number.isInteger(stage) && STAGES[stage as number] !== undefined) {
      return { session, stage: stage as number, shown: false };
    }
  } catch {
    // It is begun anew.
  }
  return { session: null, stage: 0, shown: false };
}

export const useGuided = create<Guided>()(() => ({ session: null, stage: 0, shown: false }));

/** Remembers from here on how far it is, so that it can be taken up another day. */
export function keepGuided(storage: SettingsStorage): () => void {
  useGuided.setState(readGuided(storage));
  return useGuided.subscribe(({ session, stage }) => {
    try {
      storage.setItem(KEY, JSON.stringify({ session, stage }));
    } catch {
      // It is then forgotten with the window.
    }
  });
}

/** Begins a new one: its own invented block, its own session. */
export async function beginGuided(): Promise<void> {
  const { actions } = useStore.getState();
  const begun = await actions.call("session.new", { job: JOB, simulate: true, seed: SEED });
  if (begun === null || (await sentSession(begun.id)) === null) return;
  useGuided.setState({ session: begun.id, stage: 0, shown: true });
  showStage(0);
}

/** Goes on with the one that was left. */
export async function takeUpGuided(): Promise<void> {
  const { session, stage } = useGuided.getState();
  if (session === null) return;
  if (useStore.getState().session?.id !== session) {
    await openSession(session, false, { simulate: true, seed: SEED });
    if (useStore.getState().session?.id !== session) return;
  }
  useGuided.setState({ shown: true });
  showStage(stage);
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
