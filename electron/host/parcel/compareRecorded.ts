/** A value that stands otherwise in a file of the parcel than the raw lines give it. */
export interface Difference {
  readonly path: string;
  readonly recorded: unknown;
  readonly now: unknown;
}

/**
 * So far apart two values that are not whole numbers may lie, as a share: what they are is not measured but worked out,
 * and the last digits of a logarithm depend on the machine. Lengths are whole nanometres and must be the same.
 */
const ROUNDING = 1e-9;

const sameNumber = (one: number, other: number): boolean =>
  one === other ||
  (!(Number.isInteger(one) && Number.isInteger(other)) &&
    Math.abs(one - other) <= ROUNDING * Math.max(1, Math.abs(one), Math.abs(other)));

/**
 * Every place where a recorded value is not what it is now, each with its path in words: `bores, 1I, stations, upper
 * axial, clearanceNm`.
 */
export function differencesOf(recorded: unknown, now: unknown): Difference[] {
  const found: Difference[] = [];
  compare(recorded, now, [], found);
  return found;
}

function compare(recorded: unknown, now: unknown, path: readonly string[], found: Difference[]): void {
  if (typeof recorded === "number" && typeof now === "number" && sameNumber(recorded, now)) return;
  if (Array.isArray(recorded) && Array.isArray(now) && recorded.length === now.length) {
    for (const [index, entry] of now.entries()) {
      compare(recorded[index], entry, [...path, nameOf(entry, index)], found);
    }
    return;
  }
  if (isObject(recorded) && isObject(now)) {
    const keys = new Set([...Object.keys(now), ...Object.keys(recorded)]);
    for (const key of keys) {
      const has = Object.hasOwn(recorded, key) === Object.hasOwn(now, key);
      if (has) compare(recorded[key], now[key], [...path, key], found);
      else found.push({ path: [...path, key].join(", "), recorded: own(recorded, key), now: own(now, key) });
    }
    return;
  }
  if (recorded === now) return;
  found.push({ path: path.join(", "), recorded, now });
}

/** A field of the record itself: one named "constructor" must not find what every object brings along. */
function own(record: Record<string, unknown>, key: string): unknown {
  return Object.hasOwn(record, key) ? record[key] : undefined;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** What an entry of a list is called, if it has a name; otherwise its place, counted from 1. */
function nameOf(entry: unknown, index: number): string {
  if (isObject(entry)) {
    if (typeof entry.height === "string" && typeof entry.clock === "string") return `${entry.height} ${entry.clock}`;
    for (const name of ["name", "bore", "code"]) if (typeof entry[name] === "string") return entry[name];
  }
  return `no. ${index + 1}`;
}

/** A difference as a sentence. */
export function differenceText({ path, recorded, now }: Difference): string {
  return `${path === "" ? "the whole" : path}: ${shown(recorded)} there, ${shown(now)} by the raw lines`;
}

function shown(value: unknown): string {
  if (value === undefined) return "nothing";
  const text = JSON.stringify(value);
  return text.length <= 60 ? text : `${text.slice(0, 57)}...`;
}
