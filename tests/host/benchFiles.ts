/** Small jobs and feeds for tests of the host and the command line: two bores, two stations each. */

export interface FeedLine {
  readonly t: number;
  readonly [field: string]: unknown;
}

export const heldJob = {
  format: "borewright/job",
  version: 1,
  title: "Two bores",
  walk: ["1I", "1E"],
  returnCheckEvery: 2,
  gauges: [
    { id: "bore", role: "bore", sends: "held", unit: "in", resolution: "0.00005 in" },
    { id: "mic", role: "micrometer", sends: "press", unit: "in", resolution: "0.00005 in" },
  ],
} as const;

const ZERO = ["-0.00015", "-0.00010", "-0.00015"];
const BORE = ["+0.00140", "+0.00145", "+0.00140"];

/** What the gauges of `heldJob` send in a whole walk, by the step it is in. */
export const heldLines = [
  { step: "lifters", gauge: "mic", lines: ["+0.84200", "+0.84205"] },
  { step: "zero", gauge: "bore", lines: ZERO },
  { step: "bores", gauge: "bore", lines: [...BORE, ...BORE, ...BORE, ...BORE] },
  { step: "return", gauge: "bore", lines: ZERO },
] as const;

/** A whole walk of `heldJob` as a feed, one record every `everyMs`. */
export function heldFeed(everyMs = 500): FeedLine[] {
  const feed: FeedLine[] = [];
  const add = (record: Record<string, unknown>) => feed.push({ t: feed.length * everyMs, ...record });
  for (const { step, gauge, lines } of heldLines) {
    add(step === "zero" ? { step, lifter: "1I" } : { step });
    for (const line of lines) add({ gauge, line });
  }
  add({ step: "bores" });
  return feed;
}

export const ndjson = (records: readonly object[]) => records.map((record) => `${JSON.stringify(record)}\n`).join("");
