import { parseJob } from "../../core/session/jobFile.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { heldFeed, heldJob } from "../host/benchFiles.ts";
import { Bench, jobFile } from "../session/bench.ts";
import { walkFeed } from "../session/walkFeed.ts";

/** A short walk in which everything happens that an event can say. */
function eventful(): Bench {
  const bench = new Bench(
    jobFile({ title: "Prüfblock ✓", walk: ["1E", "1I"], returnCheckEvery: 2, lifters: { S1: { spare: true } } }),
  );
  bench.feed({ type: "link", gauge: "bore", link: "open", path: "/dev/ttyX0" });
  bench.step("lifters");
  bench.mic(21.4, 21.398, 21.401);
  bench.step("zero", { lifter: "1E", blockC: 20.5, lifterC: 20.5 });
  bench.press(0, 1, 0);
  bench.step("step-check", { openedNm: 20_000 });
  bench.press(20);
  bench.step("bores");
  bench.press(40, 60, 900, 40, 40);
  bench.feed({ type: "temperature", blockC: 21 });
  bench.press(41, 41, 41, 39);
  bench.feed({ type: "strike" });
  bench.feed({ type: "hold", on: true });
  bench.feed({ type: "hold", on: false });
  bench.feed({ type: "go", bore: "1I", station: { height: "lower", clock: "axial" } });
  bench.press(42, 42, 42);
  bench.feed({ type: "link", gauge: "bore", link: "lost" });
  bench.feed({ type: "resumed", app: "test 0" });
  bench.feed({ type: "torn", bytes: 12 });
  bench.press(40, 41, 41);
  bench.feed({ type: "back" });
  bench.press(40, 41, 41, 39, 39, 39);
  bench.feed({ type: "note", text: "first “quoted”\nsecond" });
  bench.step("return", { lifter: "1E" });
  bench.press(0, 0, 1);
  bench.feed({ type: "take" });
  bench.feed({ type: "silence" });
  bench.feed({ type: "pairing", assignments: [{ bore: "1E", lifter: "1I" }] });
  bench.feed({
    type: "reconsider",
    bore: "1I",
    station: { height: "upper", clock: "axial" },
    sweepMs: 1,
    use: "struck",
  });
  bench.feed({ type: "correct", gauge: "mic", unit: "mm" });
  return bench;
}

const stationsOnce = [{ height: "upper", clock: "axial" }];
const streamJob = {
  format: "borewright/job",
  version: 1,
  title: "One bore",
  walk: ["1I"],
  stations: stationsOnce,
  returnCheckEvery: 0,
  gauges: [{ id: "bore", role: "bore", sends: "stream", unit: "in", resolution: "0.00005 in" }],
};
const streamFeed = () => simulateFeed(parseJob(streamJob), { seed: 3, readingsPerSecond: 5, errorShare: 0 }).lines;

const fullJob = {
  ...jobFile({
    title: "Every field",
    operator: "nobody",
    layout: {
      id: "own",
      title: "Inline two",
      firingOrder: [1, 2],
      banks: [{ name: "only", cylinders: [1, 2], bores: ["I", "E", "E", "I"] }],
    },
    walk: "firing",
    materials: { block: { name: "own iron", alpha: 10.5, alphaHalfWidth: 0.5, source: "test" }, lifter: "steel" },
    limits: {
      low: "33 um",
      high: "48 um",
      preferredLow: "38 um",
      preferredHigh: "43 um",
      serviceHigh: "60 um",
      source: "test",
    },
    pressesPerLifter: 2,
    budget: { indicator: "1 um", transfer: "1 um", micrometer: "1 um", centring: "1 um", temperatureHalfWidthC: 1 },
    lifters: {
      "1I": { used: true, pairedWith: "1E", mayTurn: true },
      "2I": { pinned: "2E", keptFrom: ["1I"] },
      S1: { spare: true },
    },
  }),
  gauges: [
    {
      id: "bore",
      role: "bore",
      sends: "held",
      unit: "mm",
      resolution: "0.001 mm",
      polarity: "-",
      line: "decimal",
      request: "?\r",
      serial: { baud: 9600, framing: "7E2", dtr: true, rts: false, settleMs: 100 },
    },
  ],
};

const studyFile = {
  format: "borewright/study",
  version: 1,
  title: "Two people",
  source: "test",
  band: "15 um",
  people: ["A", "B"],
  bores: ["1I", "1E", "2I"],
  readings: ["A", "B"].flatMap((person, who) =>
    ["1I", "1E", "2I"].map((bore, where) =>
      who === 0
        ? { person, bore, values: [`${where + 1}.1 um`, `${where + 1}.25 um`] }
        : { person, bore, valuesNm: [where * 1000 + 1200, where * 1000 + 1150] },
    ),
  ),
};

const pretty = (value: unknown) => JSON.stringify(value, null, 2);

/** Sound files of every kind that the program reads; the mutations start from these. */
export const corpus = {
  session: () => [
    eventful().text,
    walkFeed(
      heldJob,
      heldFeed().map((line) => JSON.stringify(line)),
    ).text,
    walkFeed(streamJob, streamFeed().slice(0, 100)).text,
  ],
  job: () => [pretty(heldJob), pretty(fullJob), pretty(jobFile())],
  feed: () => [
    {
      job: heldJob as Record<string, unknown>,
      text: heldFeed()
        .map((line) => JSON.stringify(line))
        .join("\n"),
    },
    { job: streamJob as Record<string, unknown>, text: streamFeed().slice(0, 60).join("\n") },
    {
      job: jobFile(),
      text: [
        { t: 0, step: "lifters" },
        { t: 5, gauge: "mic", link: "open" },
        { t: 10, gauge: "mic", line: "+21.400" },
        { t: 20, step: "zero", lifter: "1E", blockC: 20, lifterC: 20.5 },
        ...[30, 40, 50].map((t) => ({ t, gauge: "bore", line: "+0.000" })),
        { t: 60, step: "step-check", opened: "0.02 mm" },
        { t: 70, gauge: "bore", line: "-0.020" },
        { t: 80, step: "correct", gauge: "bore", polarity: "-" },
        { t: 90, step: "zero" },
        ...[100, 110, 120].map((t) => ({ t, gauge: "bore", line: "+0.000" })),
        { t: 130, step: "go", bore: "2I", station: { height: "lower", clock: "axial" } },
        ...[140, 150, 160].map((t) => ({ t, gauge: "bore", line: "-0.041" })),
        { t: 170, step: "hold", on: true },
        { t: 171, step: "hold", on: false },
        { t: 180, step: "strike" },
        { t: 190, step: "back" },
        { t: 200, step: "temperature", blockC: 21 },
        { t: 210, step: "take" },
        { t: 220, step: "return" },
      ]
        .map((line) => JSON.stringify(line))
        .join("\n"),
    },
  ],
  study: () => [pretty(studyFile)],
} as const;
