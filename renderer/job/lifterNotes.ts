import type { Layout } from "../../core/block/layout.ts";
import type { JobFile } from "../../core/session/jobFile.ts";

type Notes = NonNullable<JobFile["lifters"]>;

/** What a person says of the whole set of lifters; single ones are noted in a job file or on Remedy. */
export interface LifterSet {
  readonly used: boolean;
  /** Intake and exhaust lifter of a cylinder hang on one tie bar. */
  readonly tied: boolean;
  /** Such a pair may go in turned round. */
  readonly mayTurn: boolean;
  /** Lifters more than there are bores. */
  readonly spares: number;
}

export const MOST_SPARES = 32;

const spareName = (index: number) => `S${index + 1}`;

/** The notes of a job file for a set; undefined when there is nothing to note. */
export function notesOf(set: LifterSet, layout: Layout): Notes | undefined {
  const notes: Notes = {};
  for (const { name, cylinder, valve } of layout.bores) {
    const same = layout.bores.filter((bore) => bore.cylinder === cylinder && bore.valve === valve);
    const others = layout.bores.filter((bore) => bore.cylinder === cylinder && bore.valve !== valve);
    const partner = set.tied ? others[same.findIndex((bore) => bore.name === name)] : undefined;
    const note = {
      ...(set.used ? { used: true } : {}),
      ...(partner === undefined ? {} : { pairedWith: partner.name, ...(set.mayTurn ? { mayTurn: true } : {}) }),
    };
    if (Object.keys(note).length > 0) notes[name] = note;
  }
  for (let index = 0; index < set.spares; index += 1) {
    const partner = index % 2 === 0 ? index + 1 : index - 1;
    const tied = set.tied && partner < set.spares ? { pairedWith: spareName(partner) } : {};
    notes[spareName(index)] = { spare: true, ...tied };
  }
  return Object.keys(notes).length === 0 ? undefined : notes;
}

/** The set that notes describe; null when they say more than that, as a job file may. */
export function setOf(notes: Notes | undefined, layout: Layout): LifterSet | null {
  const all = Object.values(notes ?? {});
  const set: LifterSet = {
    used: all.some(({ used }) => used === true),
    tied: all.some(({ pairedWith }) => pairedWith !== undefined),
    mayTurn: all.some(({ mayTurn }) => mayTurn === true),
    spares: all.filter(({ spare }) => spare === true).length,
  };
  const sorted = (given: Notes | undefined) =>
    JSON.stringify(
      Object.entries(given ?? {})
        .sort(([a], [b]) => (a < b ? -1 : 1))
        .map(([name, note]) => [name, Object.entries(note).sort()]),
    );
  return sorted(notesOf(set, layout)) === sorted(notes) ? set : null;
}

/** The notes for another layout: the same set of lifters, or none where single ones were noted. */
export function lifterSetFor(notes: Notes | undefined, before: Layout | null, after: Layout | null): Notes | undefined {
  const set = before === null ? null : setOf(notes, before);
  return set === null || after === null ? undefined : notesOf(set, after);
}
