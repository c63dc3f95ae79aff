import { appendTable } from "./appending.ts";
import { fixed, shortest } from "./measure.ts";
import { memoryTable } from "./memory.ts";
import { pairingTable } from "./pairing.ts";
import { parsingTable } from "./parsing.ts";
import { floorTable, growthTable, millionTable, recheckTable, reducerTable } from "./recheck.ts";
import { startUpTable } from "./startUp.ts";
import { cuttingSpeed, turningPointTable } from "./turningPoints.ts";
import { whatIfTable } from "./whatIf.ts";

interface Table {
  readonly title: string;
  readonly rows: () => readonly object[] | Promise<readonly object[]>;
  /** Too long to be run unless it is asked for by its name. */
  readonly onlyByName?: true;
}

const TABLES: Readonly<Record<string, Table>> = {
  accuracy: {
    title: "Station values of seven passes on simulated rocking, µm",
    rows: () =>
      turningPointTable().map((row) => ({
        "readings/s": row.perSecond,
        wander: row.wander,
        "RMS error": fixed(row.rms, 3),
        bias: fixed(row.bias, 3),
        "smallest reading RMS": fixed(row.rawRms, 3),
        "Cramér–Rao bound": fixed(row.bound, 3),
        "bound with median": fixed(row.medianBound, 3),
      })),
  },
  cutting: { title: "Cutting a stream into passes", rows: () => [cuttingSpeed()] },
  parsing: {
    title: "From bytes to readings, beside the serial library's parser-readline with Number()",
    rows: parsingTable,
  },
  reducer: { title: "The session reducer alone, beside JSON.parse of the session's lines", rows: reducerTable },
  recheck: {
    title: "Reading a session again, every seal and figure checked, beside JSON.parse of its lines",
    rows: recheckTable,
  },
  floor: { title: "The same, step by step: what the format alone asks for", rows: floorTable },
  growth: { title: "How recheck grows with readings, bores and passes (µs a reading should not)", rows: growthTable },
  million: { title: "A million readings", rows: millionTable, onlyByName: true },
  append: { title: "Records on disk, beside bare write and fdatasync of the same bytes", rows: appendTable },
  memory: { title: "Memory that the reducer holds over time, beside the text it read", rows: memoryTable },
  "start-up": {
    title: "From asking for the built program's page until its first button can be pressed, beside an empty page",
    rows: startUpTable,
  },
  pairing: {
    title: "Pairing lifters with bores by every aim in order, beside general solvers of a single sum, ms",
    rows: () =>
      pairingTable(shortest).map((row) => ({
        bores: row.bores,
        sizes: row.sizes,
        "with rules": fixed(row.pairingMs, 2),
        "every aim": fixed(row.wholeMs, 2),
        "munkres, squares": fixed(row.munkresMs, 2),
        ratio: fixed(row.wholeMs / row.munkresMs, 1),
        "shortest paths, squares": fixed(row.shortestPathsMs, 2),
        "munkres, sums as long integers": fixed(row.longIntegersMs, 2),
        "ratio to long integers": fixed(row.wholeMs / row.longIntegersMs, 2),
        "same sum of squares": row.agrees,
      })),
  },
  "what-if": {
    title: "What to do about it, 16 bores at 4 places, beside the findings alone",
    rows: () =>
      whatIfTable(shortest).map(({ what, ms, ratio }) => ({ what, ms: fixed(ms, 2), ratio: fixed(ratio, 2) })),
  },
};

export const TABLE_NAMES: readonly string[] = Object.keys(TABLES);

/** Prints the tables of these names; of none, all but those that are too long to be run unasked. */
export async function printTables(asked: readonly string[]): Promise<void> {
  for (const [name, { title, rows, onlyByName }] of Object.entries(TABLES)) {
    if (asked.length > 0 ? !asked.includes(name) : onlyByName === true) continue;
    console.log(`\n${title} (${name})`);
    console.table(await rows());
  }
}
