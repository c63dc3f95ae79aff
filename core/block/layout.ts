/** Intake or exhaust. */
export type Valve = "I" | "E";

/** A lifter bore's name: cylinder number and valve, such as "1I" or "8E". */
export type BoreName = string;

/** A bore and where it is, seen in plan from above with the front of the engine at the top. */
export interface Bore {
  readonly name: BoreName;
  readonly cylinder: number;
  readonly valve: Valve;
  /** Index of its bank, 0 = left as seen from the flywheel end looking forward; inline engines have one. */
  readonly bank: number;
  /** Position along its bank from the front, 0, 1, 2 … */
  readonly along: number;
  /** Plan place: x across the block (-1 left … +1 right), y along it from the front (0 … 1). */
  readonly x: number;
  readonly y: number;
}

/** A block's arrangement of cylinders and lifter bores. */
export interface Layout {
  readonly id: string;
  readonly title: string;
  readonly firingOrder: readonly number[];
  /** Banks by index, each with its cylinders front to rear. */
  readonly banks: readonly { readonly name: string; readonly cylinders: readonly number[] }[];
  /** Every bore, each bank front to rear. */
  readonly bores: readonly Bore[];
}

/** Direction of the gauge's contacts: along the crankshaft or across it. */
export type Clock = "axial" | "cross";

/** A place in a bore. */
export interface StationPlace {
  /** Height in the bore in the user's words ("upper", "lower"), never empty. */
  readonly height: string;
  readonly clock: Clock;
}
