import type { StationPlace } from "../../core/block/layout.ts";
import type { Ms } from "../../core/gauge/ms.ts";

/** What the two contacts of the bore gauge touch. */
export type Contact =
  /** In the hand or on the bench: the contacts stand out to the end of their travel. */
  | { readonly at: "air" }
  | {
      readonly at: "bore";
      readonly bore: string;
      readonly place: StationPlace;
      /** Distance of the gauge from the bore's axis, nm. */
      readonly offCentreNm: number;
      /** What the hand's pressure adds to the size, nm, signed. */
      readonly handNm: number;
    }
  | {
      readonly at: "micrometer";
      /** The lifter that the micrometer is set to. */
      readonly lifter: string;
      /** How far it was opened beyond that for the step check, nm. */
      readonly openedNm: number;
      /** Tilt left over in the plane that is not being rocked, radians. */
      readonly otherTilt: number;
      readonly handNm: number;
    };

/** Where the gauge is and how far it leans from square in the plane it is rocked in, radians. */
export interface Pose {
  readonly contact: Contact;
  readonly tilt: number;
}

/** A stretch of the gauge's motion, eased at both ends like a hand's. */
export interface Motion {
  readonly fromMs: Ms;
  readonly toMs: Ms;
  readonly from: Pose;
  readonly to: Pose;
  /** Dirt under a contact during this pass, nm, signed: full in the middle, nothing at the ends. */
  readonly dirtNm?: number;
  /** A contact drops into an oil hole: the size jumps by this much in the middle of the pass. */
  readonly hole?: { readonly nm: number; readonly fromMs: Ms; readonly toMs: Ms };
}

/** Part of the way from `from` to `to`, 0 … 1, at `tMs`. */
function eased(motion: Motion, tMs: Ms): number {
  const span = motion.toMs - motion.fromMs;
  const part = span <= 0 ? 1 : Math.max(0, Math.min(1, (tMs - motion.fromMs) / span));
  return (1 - Math.cos(Math.PI * part)) / 2;
}

/**
 * True size between the contacts (nm) during a motion at `tMs`. `sizeOf` gives that of a contact held at a tilt.
 * From one contact to another the size goes over smoothly, as it does when a gauge is slid or drawn out.
 */
export function sizeDuring(
  motion: Motion,
  tMs: Ms,
  sizeOf: (contact: Contact, tilt: number, tMs: Ms) => number,
): number {
  const part = eased(motion, tMs);
  let size: number;
  if (motion.from.contact === motion.to.contact) {
    const tilt = motion.from.tilt + (motion.to.tilt - motion.from.tilt) * part;
    size = sizeOf(motion.from.contact, tilt, tMs);
  } else {
    const from = sizeOf(motion.from.contact, motion.from.tilt, tMs);
    const to = sizeOf(motion.to.contact, motion.to.tilt, tMs);
    size = from + (to - from) * part;
  }
  if (motion.dirtNm !== undefined) size += motion.dirtNm * Math.sin(Math.PI * part) ** 2;
  if (motion.hole !== undefined && tMs >= motion.hole.fromMs && tMs < motion.hole.toMs) size += motion.hole.nm;
  return size;
}

/**
 * When, during a pass between two tilts of one contact, the gauge leans by `tilt` (radians); null if it never does.
 * The inverse of the easing.
 */
export function timeOfTilt(motion: Motion, tilt: number): Ms | null {
  const way = motion.to.tilt - motion.from.tilt;
  if (way === 0) return null;
  const part = (tilt - motion.from.tilt) / way;
  if (part < 0 || part > 1) return null;
  return motion.fromMs + ((motion.toMs - motion.fromMs) * Math.acos(1 - 2 * part)) / Math.PI;
}
