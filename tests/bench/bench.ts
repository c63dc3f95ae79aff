import { createHash } from "node:crypto";
import { createLineReader } from "../../core/gauge/lineReader.ts";
import { toNm } from "../../core/length/nm.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording } from "../../core/session/recording.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { walkFeed } from "../session/walkFeed.ts";
import { pairingTable } from "./pairing.ts";
import { cuttingSpeed, turningPointTable } from "./turningPoints.ts";
import { whatIfTable } from "./whatIf.ts";

const fixed = (value: number | null, decimals: number) => (value === null ? "–" : value.toFixed(decimals));

/** Shortest of some runs, ms: what the code needs when nothing else is in its way. */
function shortest(work: () => void, runs = 7): number {
  let best = Number.POSITIVE_INFINITY;
  for (let run = 0; run < runs; run += 1) {
    const start = performance.now();
    work();
    best = Math.min(best, performance.now() - start);
  }
  return best;
}

console.log("\nStation values of seven passes on simulated rocking, µm");
console.table(
  turningPointTable().map((row) => ({
    "readings/s": row.perSecond,
    wander: row.wander,
    "RMS error": fixed(row.rms, 3),
    bias: fixed(row.bias, 3),
    "smallest reading RMS": fixed(row.rawRms, 3),
    "Cramér–Rao bound": fixed(row.bound, 3),
    "bound with median": fixed(row.medianBound, 3),
  })),
);

console.log("Cutting a stream into passes");
console.table([cuttingSpeed()]);

const lines = Array.from({ length: 200_000 }, (_, index) => `+0.${String(index % 100_000).padStart(5, "0")}`);
const reader = createLineReader({
  id: "bore",
  role: "bore",
  sends: "stream",
  unit: "in",
  resolutionNm: toNm(1270),
  polarity: 1,
  line: "auto",
});
let sum = 0;
const read = shortest(() => {
  for (const line of lines) {
    const reading = reader.read(line);
    if (reading.ok) sum += reading.valueNm;
  }
});
const bare = shortest(() => {
  for (const line of lines) sum += Number(line);
});
console.log("Reading a line, beside Number() of the same lines");
console.table([
  { lines: lines.length, "ms reader": fixed(read, 1), "ms Number": fixed(bare, 1), ratio: fixed(read / bare, 2) },
]);

const job = { format: "borewright/job", version: 1 };
const feed = simulateFeed(parseJob(job), { seed: 1, readingsPerSecond: 50 }).lines;
const { text } = walkFeed(job, feed);
const rows = text.trimEnd().split("\n");
const hash = (part: string) => createHash("sha256").update(part).digest("hex");
const recheck = shortest(() => {
  sum += Recording.read(text, { hash }).inputs.length;
});
const parse = shortest(() => {
  for (const row of rows) sum += Object.keys(JSON.parse(row) as object).length;
});
console.log("Reading a session again with every seal checked, beside JSON.parse of its lines");
console.table([
  {
    records: rows.length,
    "ms recheck": fixed(recheck, 1),
    "ms JSON.parse": fixed(parse, 1),
    ratio: fixed(recheck / parse, 2),
  },
]);

console.log("Pairing lifters with bores by every aim in order, beside general solvers of a single sum, ms");
console.table(
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
);

console.log("What to do about it, 16 bores at 4 places, beside the findings alone");
console.table(whatIfTable(shortest).map(({ what, ms, ratio }) => ({ what, ms: fixed(ms, 2), ratio: fixed(ratio, 2) })));
if (!Number.isFinite(sum)) throw new Error("the benchmark did not do its work");
