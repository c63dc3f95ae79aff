import { PairingError } from "../../../core/pairing/pairingError.ts";
import { pairSession } from "../../../core/report/pairingReport.ts";
import type { Pairing } from "../../../core/report/pairingSchema.ts";
import { remedySession } from "../../../core/report/remedyReport.ts";
import type { Remedy } from "../../../core/report/remedySchema.ts";
import { type Result, resultOf } from "../../../core/report/result.ts";
import { JobError } from "../../../core/session/jobError.ts";
import type { ReadSession } from "../../../core/session/recording.ts";

/** Everything that a parcel holds of what follows from a record. */
export interface Findings {
  readonly result: Result;
  /** Null where there is none: lifters not measured, or rules for them that clash. */
  readonly pairing: Pairing | null;
  /** Null only in a parcel of a version that had none. */
  readonly remedy: Remedy | null;
}

/** What the raw lines of a record give, by this program; its seals are taken to hold. */
export function findingsOf({ recording, differences }: ReadSession): Findings {
  return {
    result: resultOf(recording, "intact", { differences }),
    pairing: pairingOf(recording),
    remedy: remedySession(recording),
  };
}

function pairingOf(recording: ReadSession["recording"]): Pairing | null {
  try {
    return pairSession(recording);
  } catch (error) {
    if (error instanceof PairingError || error instanceof JobError) return null;
    throw error;
  }
}
