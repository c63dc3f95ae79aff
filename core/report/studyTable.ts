import type { Nm } from "../length/nm.ts";

/** What one person read in one bore, trial by trial. */
export interface StudyCell {
  readonly person: string;
  readonly bore: string;
  /** nm, signed, in the order they were taken. */
  readonly valuesNm: readonly Nm[];
}

/** A gauge study as measured: people × bores × repeats. */
export interface StudyTable {
  readonly title: string;
  /** Where the readings come from, in words; empty if not said. */
  readonly source: string;
  readonly people: readonly string[];
  readonly bores: readonly string[];
  /** Readings of every bore by every person that were asked for. */
  readonly repeats: number;
  /** Width of the allowed band, nm; null if not known. */
  readonly bandNm: Nm | null;
  readonly cells: readonly StudyCell[];
}
