import type { Layout } from "../block/layout.ts";
import type { LifterNote } from "./job.ts";
import { JobError } from "./jobError.ts";

/** What a job file may say of one lifter. */
type GivenNote = { readonly [K in keyof LifterNote]?: LifterNote[K] | undefined };

/** A spare lifter's name: short enough for a list, and plain. */
const SPARE_NAME = /^[A-Za-z0-9][A-Za-z0-9-]{0,11}$/;

/**
 * Checks what a job says of its lifters, and lets both ends of a tie bar name each other where one of them does.
 * @throws JobError with the path of the field, what was found and what was expected.
 */
export function lifterNotesOf(given: Readonly<Record<string, GivenNote>>, layout: Layout): Record<string, LifterNote> {
  const bores = new Map(layout.bores.map((bore) => [bore.name, bore]));
  const isSpare = (name: string) => given[name]?.spare === true;
  const notes: Record<string, LifterNote> = {};
  for (const [name, note] of Object.entries(given)) {
    const path = `lifters.${name}`;
    if (bores.has(name) && note.spare === true) {
      throw new JobError(
        `${path}.spare`,
        `"${name}" is a bore; expected a name of its own for a spare lifter, such as "S1"`,
      );
    }
    if (!bores.has(name) && note.spare !== true) {
      throw new JobError(path, `the layout has no bore "${name}"; a lifter for no bore is marked "spare": true`);
    }
    if (note.spare === true && !SPARE_NAME.test(name)) {
      throw new JobError(path, `found "${name}"; expected up to 12 letters, digits and hyphens for a spare lifter`);
    }
    if (typeof note.pinned === "string" && !bores.has(note.pinned)) {
      throw new JobError(`${path}.pinned`, `the layout has no bore "${note.pinned}"`);
    }
    if (note.pinned === true && note.spare === true) {
      throw new JobError(`${path}.pinned`, "a spare lifter has no bore of its own; expected the name of a bore");
    }
    for (const [index, bore] of (note.keptFrom ?? []).entries()) {
      if (!bores.has(bore)) throw new JobError(`${path}.keptFrom[${index}]`, `the layout has no bore "${bore}"`);
    }
    notes[name] = defined(note);
  }
  for (const [name, { pairedWith }] of Object.entries(given)) {
    if (pairedWith === undefined) continue;
    const path = `lifters.${name}.pairedWith`;
    if (pairedWith === name)
      throw new JobError(path, `"${name}" is named itself; expected the other end of its tie bar`);
    const own = bores.get(name);
    const other = bores.get(pairedWith);
    if (other === undefined && !isSpare(pairedWith)) throw new JobError(path, `the layout has no bore "${pairedWith}"`);
    if ((own === undefined) !== (other === undefined)) {
      throw new JobError(path, `"${name}" and "${pairedWith}": a spare lifter is paired with a spare one`);
    }
    if (own !== undefined && other !== undefined && (own.cylinder !== other.cylinder || own.valve === other.valve)) {
      throw new JobError(path, `found "${pairedWith}"; expected the other valve of cylinder ${own.cylinder}`);
    }
    const back = given[pairedWith]?.pairedWith;
    if (back !== undefined && back !== name) {
      throw new JobError(path, `"${pairedWith}" is paired with "${back}"; expected both ends to name each other`);
    }
    const taken = notes[pairedWith]?.pairedWith;
    if (taken !== undefined && taken !== name) {
      throw new JobError(
        path,
        `"${pairedWith}" is paired with "${taken}" already; expected each lifter on one tie bar`,
      );
    }
    notes[pairedWith] = { ...notes[pairedWith], pairedWith: name };
    notes[name] = { ...notes[name], pairedWith };
  }
  return notes;
}

function defined(note: GivenNote): LifterNote {
  return Object.fromEntries(Object.entries(note).filter(([, value]) => value !== undefined));
}
