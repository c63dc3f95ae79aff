import type { StationPlace } from "../../core/block/layout.ts";
import type { BoreFinding, StationFinding } from "../../core/fit/finding.ts";

/** A row of the table: one station of a bore, measured or not; the bore's own cells stand on its first row. */
export interface StationRow {
  readonly bore: BoreFinding;
  readonly place: StationPlace;
  readonly station: StationFinding | null;
  /** How many rows the bore takes on its first row, 0 on the others. */
  readonly span: number;
}

/** Every station of every bore in the order of the job, those not measured included. */
export function stationRows(findings: readonly BoreFinding[], places: readonly StationPlace[]): StationRow[] {
  return findings.flatMap((bore) =>
    places.map((place, index) => ({
      bore,
      place,
      station:
        bore.stations.find((one) => one.place.height === place.height && one.place.clock === place.clock) ?? null,
      span: index === 0 ? places.length : 0,
    })),
  );
}
