import { create } from "zustand";
import type { LifterNote } from "../../core/session/job.ts";
import type { PlanningDraft } from "./planningDraft.ts";
import type { Takes } from "./takes.ts";

/** Parts of the place, in the order of the work. */
export type RemedySheet = "pairing" | "bores" | "shop" | "running";

/**
 * What is laid out on the desk for one session: tried, not recorded. Going to another place or session and back keeps
 * it, as long as the window is there.
 */
export interface RemedyDesk {
  readonly sheet: RemedySheet;
  /** What the pairing is to respect, in place of the job's note of that lifter. */
  readonly notes: Readonly<Record<string, LifterNote>>;
  /** Body size that bushes and larger bodies are planned for, as written; empty = every standard size. */
  readonly body: string;
  /** What is taken for single bores in place of the plan's choice: the key of an option, by bore. */
  readonly takes: Takes;
  /** The bore looked at; null = the first that asks for something. */
  readonly bore: string | null;
  /** The lifter whose constraints are looked at; null = the first. */
  readonly lifter: string | null;
  /** The bench list leaves out lifters that stay. */
  readonly onlyMoves: boolean;
  /** What planning figures assume in place of their defaults, as written. */
  readonly planning: PlanningDraft;
  /** Planned under the what-if of Findings instead of the record. */
  readonly underWhatIf: boolean;
}

const EMPTY: RemedyDesk = {
  sheet: "pairing",
  notes: {},
  body: "",
  takes: {},
  bore: null,
  lifter: null,
  onlyMoves: false,
  planning: {},
  underWhatIf: false,
};

interface Desks {
  /** By session. */
  readonly desks: Readonly<Record<string, RemedyDesk>>;
  change(session: string, part: Partial<RemedyDesk>): void;
}

const useDesks = create<Desks>()((set, get) => ({
  desks: {},
  change(session, part) {
    const { desks } = get();
    set({ desks: { ...desks, [session]: { ...(desks[session] ?? EMPTY), ...part } } });
  },
}));

/** The desk of a session and what changes it; a session that was not looked at yet has an empty one. */
export function useRemedyDesk(session: string): {
  readonly desk: RemedyDesk;
  readonly change: (part: Partial<RemedyDesk>) => void;
} {
  const desk = useDesks((state) => state.desks[session] ?? EMPTY);
  const change = useDesks((state) => state.change);
  return { desk, change: (part) => change(session, part) };
}
