import type { StationPlace } from "../block/layout.ts";
import type { Ms } from "../gauge/ms.ts";
import type { SweepCollector } from "./sweepCollector.ts";

/** One station of the walk with its sweeps. */
export interface WalkStation {
  readonly index: number;
  readonly bore: string;
  readonly place: StationPlace;
  readonly collector: SweepCollector;
}

/** Whether a reference in force holds for a station that closed at a time. */
export type HoldsAt = (tMs: Ms) => boolean;

/** All stations of a job in the order they are walked, and which of them is due. */
export class WalkStations {
  readonly all: readonly WalkStation[];
  readonly #byBore: ReadonlyMap<string, readonly WalkStation[]>;
  /** Indexes of closed stations in the order they were closed, for taking back. */
  #closed: number[] = [];
  #revision = 0;

  constructor(
    walk: readonly string[],
    places: readonly StationPlace[],
    collector: (changed: () => void) => SweepCollector,
  ) {
    const changed = () => {
      this.#revision += 1;
    };
    this.all = walk.flatMap((bore, boreIndex) =>
      places.map((place, placeIndex) => ({
        index: boreIndex * places.length + placeIndex,
        bore,
        place,
        collector: collector(changed),
      })),
    );
    this.#byBore = new Map(
      walk.map((bore, index) => [bore, this.all.slice(index * places.length, (index + 1) * places.length)]),
    );
  }

  /** Another number for every change of a closed station, or of which stations are closed. */
  get revision(): number {
    return this.#revision;
  }

  find(bore: string, place?: StationPlace): WalkStation | undefined {
    return this.stationsOf(bore).find(
      (station) =>
        place === undefined || (station.place.height === place.height && station.place.clock === place.clock),
    );
  }

  stationsOf(bore: string): readonly WalkStation[] {
    return this.#byBore.get(bore) ?? [];
  }

  /** Closed before, but the zero has moved since: to be measured again. */
  isDueAgain(station: WalkStation, holds: HoldsAt): boolean {
    const { closedMs } = station.collector;
    return closedMs !== null && !holds(closedMs);
  }

  isDue(station: WalkStation, holds: HoldsAt): boolean {
    return station.collector.closedMs === null || this.isDueAgain(station, holds);
  }

  /** The next due station after `index` in walking order, round the end; null when none is due. */
  nextDue(index: number, holds: HoldsAt): WalkStation | null {
    const after = this.all.find((station) => station.index > index && this.isDue(station, holds));
    return after ?? this.all.find((station) => this.isDue(station, holds)) ?? null;
  }

  firstDueAgain(holds: HoldsAt): WalkStation | null {
    return this.all.find((station) => this.isDueAgain(station, holds)) ?? null;
  }

  noteClosed(station: WalkStation): void {
    this.noteOpen(station);
    this.#closed.push(station.index);
  }

  /** A closed station is open again. */
  noteOpen(station: WalkStation): void {
    this.#closed = this.#closed.filter((index) => index !== station.index);
  }

  /** Takes a station back: its sweeps are struck and it is open again. */
  takeBack(station: WalkStation): void {
    station.collector.takeBack();
    this.noteOpen(station);
  }

  /** The station closed last that is still closed; null when there is none. */
  get lastClosed(): WalkStation | null {
    const index = this.#closed.at(-1);
    return index === undefined ? null : (this.all[index] ?? null);
  }

  /** When a bore's last station closed; null while one is open. */
  boreClosedMs(bore: string): Ms | null {
    let latest: Ms | null = null;
    for (const station of this.stationsOf(bore)) {
      const { closedMs } = station.collector;
      if (closedMs === null) return null;
      if (latest === null || closedMs > latest) latest = closedMs;
    }
    return latest;
  }
}
