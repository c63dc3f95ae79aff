import { formatLength } from "../length/formatLength.ts";
import { NM_PER_INCH, NM_PER_MM, type Nm, toNm } from "../length/nm.ts";

/** A length as the sheet prints it; null where it can not be said that coarsely without leaving what is allowed. */
export interface SheetLength {
  readonly nm: Nm;
  /** To 0.00001 in. */
  readonly inches: string;
  /** To a tenth, 0.0001 in, for a gauge that shows no more. */
  readonly tenths: string | null;
  /** To 0.0001 mm. */
  readonly mm: string;
}

const STEPS = { inches: NM_PER_INCH / 100_000, tenths: NM_PER_INCH / 10_000, mm: NM_PER_MM / 10_000 } as const;

/** A length to the nearest step of each unit, halves away from zero. */
export function nearest(nm: number): SheetLength {
  const length = toNm(nm);
  return printed(length, { inches: length, tenths: length, mm: length });
}

/**
 * Two ends of a range (nm, low ≤ high), each rounded into the range: what is printed is never outside. Tenths are left
 * out where no whole tenth lies between.
 */
export function inwards(low: number, high: number): { readonly from: SheetLength; readonly to: SheetLength } {
  const up = (step: number) => toNm(Math.ceil(low / step) * step);
  const down = (step: number) => toNm(Math.floor(high / step) * step);
  const coarse = up(STEPS.tenths) <= down(STEPS.tenths);
  return {
    from: printed(toNm(low), {
      inches: up(STEPS.inches),
      tenths: coarse ? up(STEPS.tenths) : null,
      mm: up(STEPS.mm),
    }),
    to: printed(toNm(high), {
      inches: down(STEPS.inches),
      tenths: coarse ? down(STEPS.tenths) : null,
      mm: down(STEPS.mm),
    }),
  };
}

function printed(nm: Nm, rounded: { readonly inches: Nm; readonly tenths: Nm | null; readonly mm: Nm }): SheetLength {
  return {
    nm,
    inches: formatLength(rounded.inches, "in", 5),
    tenths: rounded.tenths === null ? null : formatLength(rounded.tenths, "in", 4),
    mm: formatLength(rounded.mm, "mm", 4),
  };
}
