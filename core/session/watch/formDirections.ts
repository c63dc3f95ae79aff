import type { StationPlace } from "../../block/layout.ts";

/** What is left of a direction after the ones before it, as a part of it, below which it tells nothing new. */
const NOTHING_NEW = 1e-6;

/**
 * The ways in which bores differ, as directions among the values of their stations: size first, then taper, oval,
 * oval that changes with height, barrel, and whatever the stations can show beyond these. As many as there are
 * stations, each of length one and square to all others, so that equal errors of the stations are equal errors along
 * each. Heights count in the order in which they are first named, evenly spaced.
 *
 * Derived here: Gram–Schmidt over powers of the height times the clock's sign. Bores mostly
 * differ in the first few of these, so that six stations of two bores which share taper and oval agree six times
 * without being one bore.
 */
export function formDirections(stations: readonly StationPlace[]): readonly (readonly number[])[] {
  const heights = [...new Set(stations.map((place) => place.height))];
  const middle = (heights.length - 1) / 2;
  const high = (place: StationPlace) => middle - heights.indexOf(place.height);
  const sign = (place: StationPlace) => (place.clock === "axial" ? 1 : -1);
  const forms = heights.flatMap((_, power) => [
    stations.map((place) => high(place) ** power),
    stations.map((place) => high(place) ** power * sign(place)),
  ]);
  // Size, taper, oval, and so on: by the order of the height's power and the oval's together.
  const inOrder = forms.map((form, index) => ({ form, order: (index >> 1) + (index % 2) })).sort(byOrder);
  const single = stations.map((_, own) => stations.map((__, station) => Number(station === own)));
  const directions: (readonly number[])[] = [];
  for (const form of [...inOrder.map((entry) => entry.form), ...single]) {
    const rest = directions.reduce((left, direction) => less(left, direction, along(left, direction)), form);
    const length = Math.sqrt(along(rest, rest));
    if (length > NOTHING_NEW * Math.sqrt(along(form, form))) directions.push(rest.map((value) => value / length));
  }
  return directions;
}

function byOrder(one: { readonly order: number }, other: { readonly order: number }): number {
  return one.order - other.order;
}

/** How far `values` go along `direction`, signed, in the unit of the values; both of the same length. */
export function along(values: readonly number[], direction: readonly number[]): number {
  return values.reduce((sum, value, index) => sum + value * (direction[index] as number), 0);
}

function less(values: readonly number[], direction: readonly number[], by: number): readonly number[] {
  return values.map((value, index) => value - by * (direction[index] as number));
}
