import type { Layout } from "../../core/block/layout.ts";
import { type Job, type LifterNote, lifterNames } from "../../core/session/job.ts";

type Notes = Readonly<Record<string, LifterNote>>;
type JobPart = Pick<Job, "layout" | "walk" | "lifters" | "lifter">;

/** A change to a note; a key that is there and undefined takes that part of it away. */
export type NoteChange = { readonly [K in keyof LifterNote]?: LifterNote[K] | undefined };

/** The change that takes a lifter off its tie bar. */
export const NO_TIE_BAR: NoteChange = { pairedWith: undefined, mayTurn: undefined };

/** What the pairing is to respect for a lifter now: what was tried here, else what the job says. */
export function noteOf(job: Pick<Job, "lifters">, tried: Notes, lifter: string): LifterNote {
  return tried[lifter] ?? job.lifters[lifter] ?? {};
}

/**
 * The tried notes after a change to one lifter. The other end of a tie bar follows, old and new; a note that says again
 * what the job says is no longer tried.
 */
export function withNote(job: JobPart, tried: Notes, lifter: string, part: NoteChange): Notes {
  const before = noteOf(job, tried, lifter);
  const after = defined({ ...before, ...part });
  const changed: Record<string, LifterNote> = { ...tried, [lifter]: after };
  const lost = before.pairedWith;
  if (lost !== undefined && lost !== after.pairedWith) changed[lost] = untied(noteOf(job, changed, lost));
  const partner = after.pairedWith;
  if (partner !== undefined) {
    const third = noteOf(job, changed, partner).pairedWith;
    if (third !== undefined && third !== lifter) changed[third] = untied(noteOf(job, changed, third));
    changed[partner] = { ...noteOf(job, changed, partner), pairedWith: lifter, mayTurn: after.mayTurn === true };
  } else {
    changed[lifter] = untied(after);
  }
  return onlyTried(job, changed);
}

/** The same change to every lifter that is not a spare one. */
export function withEveryNote(job: JobPart, tried: Notes, part: (lifter: string) => NoteChange): Notes {
  return job.walk.reduce((notes, lifter) => withNote(job, notes, lifter, part(lifter)), tried);
}

/** Lifters that can hang on one tie bar with this one: the other valve's of its cylinder, or another spare one. */
export function tieBarPartners(job: JobPart, lifter: string): string[] {
  const own = job.layout.bores.find((bore) => bore.name === lifter);
  if (own === undefined) {
    return lifterNames(job).filter((name) => name !== lifter && job.lifters[name]?.spare === true);
  }
  return job.layout.bores
    .filter((bore) => bore.cylinder === own.cylinder && bore.valve !== own.valve)
    .map((bore) => bore.name);
}

/** The lifter that stands opposite in the cylinder: first intake with first exhaust, second with second. */
export function oppositeLifter(layout: Layout, lifter: string): string | undefined {
  const own = layout.bores.find((bore) => bore.name === lifter);
  if (own === undefined) return undefined;
  const ofCylinder = layout.bores.filter((bore) => bore.cylinder === own.cylinder);
  const at = ofCylinder.filter((bore) => bore.valve === own.valve).findIndex((bore) => bore.name === lifter);
  return ofCylinder.filter((bore) => bore.valve !== own.valve)[at]?.name;
}

/** What a note asks for, in words; empty when it asks for nothing. `style` decides what "used" means. */
export function noteInWords(lifter: string, note: LifterNote, style: Job["lifter"]["style"]): string[] {
  const words: string[] = [];
  if (note.used === true) words.push(style === "flat" ? "used: stays in its own bore" : "used");
  if (note.pinned === true || note.pinned === lifter) words.push("stays in its own bore");
  else if (typeof note.pinned === "string") words.push(`goes into ${note.pinned}`);
  if (note.pairedWith !== undefined) {
    words.push(`tie bar with ${note.pairedWith}${note.mayTurn === true ? ", may turn round" : ""}`);
  }
  if (note.keptFrom !== undefined && note.keptFrom.length > 0) words.push(`kept from ${note.keptFrom.join(", ")}`);
  return words;
}

/** Every lifter of the job that something is asked of, in the order they are measured. */
export function lifterConstraints(
  job: JobPart,
  tried: Notes,
): { readonly lifter: string; readonly words: readonly string[]; readonly tried: boolean }[] {
  return lifterNames(job).flatMap((lifter) => {
    const words = noteInWords(lifter, noteOf(job, tried, lifter), job.lifter.style);
    const isTried = tried[lifter] !== undefined;
    return words.length === 0 && !isTried ? [] : [{ lifter, words, tried: isTried }];
  });
}

function defined(note: NoteChange): LifterNote {
  return Object.fromEntries(Object.entries(note).filter(([, value]) => value !== undefined));
}

function untied(note: LifterNote): LifterNote {
  const { pairedWith: _, mayTurn: __, ...rest } = note;
  return rest;
}

/** Keys whose absence says the same are dropped, so that notes can be compared. */
function plain(note: LifterNote): LifterNote {
  return {
    ...(note.used === true ? { used: true } : {}),
    ...(note.pairedWith === undefined ? {} : { pairedWith: note.pairedWith }),
    ...(note.mayTurn === true ? { mayTurn: true } : {}),
    ...(note.pinned === undefined || note.pinned === false ? {} : { pinned: note.pinned }),
    ...(note.keptFrom === undefined || note.keptFrom.length === 0 ? {} : { keptFrom: note.keptFrom }),
    ...(note.spare === true ? { spare: true } : {}),
  };
}

function onlyTried(job: Pick<Job, "lifters">, notes: Notes): Notes {
  const kept = Object.entries(notes).map(([lifter, note]) => [lifter, plain(note)] as const);
  return Object.fromEntries(
    kept.filter(([lifter, note]) => JSON.stringify(note) !== JSON.stringify(plain(job.lifters[lifter] ?? {}))),
  );
}
