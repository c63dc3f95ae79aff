import { NM_PER_INCH, NM_PER_MM, NM_PER_UM } from "./nm.ts";

/** A unit a person may write a length in. */
export type Unit = "in" | "mm" | "um";

/** A unit that gauges count in. */
export type GaugeUnit = "in" | "mm";

/** Nanometres in one of each unit, exact. */
export const NM_PER: Readonly<Record<Unit, number>> = { in: NM_PER_INCH, mm: NM_PER_MM, um: NM_PER_UM };
