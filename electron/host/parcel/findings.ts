import { PairingError } from "../../../core/pairing/pairingError.ts";
import { pairSession } from "../../../core/report/pairingReport.ts";
import type { Pairing } from "../../../core/report/pairingSchema.ts";
import { remedySessionByStep } from "../../../core/report/remedyReport.ts";
import type { Remedy } from "../../../core/report/remedySchema.ts";
import { type Result, resultOf } from "../../../core/report/result.ts";
import { JobError } from "../../../core/session/jobError.ts";
import type { ReadSession } from "../../../core/session/recording.ts";
import { inSlices } from "../sessionFile.ts";

/** Everything that a parcel holds of what follows from a record. */
export interface Findings {
  readonly result: Result;
  /** Null where there is none: lifters not measured, or rules for them that clash. */
  readonly pairing: Pairing | null;
  /** Null only in a parcel of a version that had none. */
  readonly remedy: Remedy | null;
}

/**
 * What the raw lines of a record give, by this program; its seals are taken to hold. In slices: while a walk goes on in
 * this program, its gauges are heard in between.
 */
export function findingsOf(read: ReadSession): Promise<Findings> {
  return inSlices(findingsByStep(read));
}

function* findingsByStep({ recording, differences }: ReadSession): Generator<void, Findings, void> {
  const result = resultOf(recording, "intact", { differences });
  yield;
  const pairing = pairingOf(recording);
  yield;
  return { result, pairing, remedy: yield* remedySessionByStep(recording) };
}

function pairingOf(recording: ReadSession["recording"]): Pairing | null {
  try {
    return pairSession(recording);
  } catch (error) {
    if (error instanceof PairingError || error instanceof JobError) return null;
    throw error;
  }
}
