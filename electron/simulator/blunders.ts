import type { Job } from "../../core/session/job.ts";
import { type Bench, stationKey } from "./bench.ts";
import type { Mishap } from "./mishap.ts";

/** One way in which a bench goes wrong. */
export interface Blunder {
  readonly name: string;
  /** What happens at the bench, for the one who asks for it. */
  readonly sentence: string;
  /** Why this job cannot have it; null if it can. */
  readonly impossible?: (job: Job) => string | null;
  /** Changes a bench that was drawn without fault. */
  readonly apply: (bench: Bench) => void;
}

/** Thrown for a blunder that is not known or that a job cannot have. */
export class BlunderError extends Error {
  override readonly name = "BlunderError";
}

const sendsOf = (job: Job) => job.gauges.find((gauge) => gauge.role === "bore")?.sends;
const needsStream = (job: Job) =>
  sendsOf(job) === "stream" ? null : "only a bore gauge that sends a stream can show it";
const needsMicrometer = (job: Job) =>
  job.gauges.some((gauge) => gauge.role === "micrometer") ? null : "the job has no micrometer to measure lifters with";
const needsBores = (count: number) => (job: Job) =>
  job.walk.length >= count ? null : `the walk has ${job.walk.length} bores, at least ${count} are needed`;
const needsAll =
  (...needs: ((job: Job) => string | null)[]) =>
  (job: Job) =>
    needs.map((need) => need(job)).find((why) => why !== null) ?? null;

/** A bore in the middle of the first stretch between two return checks, never the first of the walk if there are more. */
function victim(job: Job): string {
  const stretch = Math.min(job.walk.length, job.returnCheckEvery === 0 ? job.walk.length : job.returnCheckEvery);
  return job.walk[Math.floor(stretch / 2)] ?? (job.walk[0] as string);
}

function setMishap(bench: Bench, mishap: Mishap): void {
  const place = bench.job.stations[0];
  if (place !== undefined) bench.mishaps.set(stationKey(victim(bench.job), place), mishap);
}

function reversePolarity(bench: Bench): void {
  bench.bore.polarity = bench.bore.polarity === 1 ? -1 : 1;
}

function mistakeUnit(bench: Bench): void {
  const { bore } = bench;
  bore.unit = bore.unit === "in" ? "mm" : "in";
  bore.resolutionNm = bore.unit === "in" ? 1_270 : 1_000;
}

function moveZero(bench: Bench): void {
  setMishap(bench, { knockNm: 4 * bench.job.zeroHoldNm });
}

function makeLifterOdd(bench: Bench): void {
  const name = victim(bench.job);
  bench.block.lifters.set(name, (bench.lifterNm(name) - 25_000) as typeof bench.job.lifter.nominalNm);
}

function makeBoreOdd(bench: Bench): void {
  const form = bench.block.bores.get(victim(bench.job));
  if (form !== undefined) form.diameterNm += 60_000;
}

function misreadTurn(bench: Bench): void {
  bench.misreadLifters.set(victim(bench.job), bench.micrometer?.unit === "mm" ? 500_000 : 635_000);
}

function repeatBore(bench: Bench): void {
  const { walk } = bench.job;
  const again = victim(bench.job);
  const meant = walk[walk.indexOf(again) + 1] ?? again;
  bench.mistaken.set(meant, again);
}

function failStep(bench: Bench): void {
  bench.stepShortNm = bench.boreGauge.unit === "in" ? 15_240 : 12_000;
}

function warmBlock(bench: Bench): void {
  bench.temperatures.blockC = bench.temperatures.lifterC + 6;
}

/** Every blunder there is, by the code of the notice it should raise. */
export const BLUNDERS: readonly Blunder[] = [
  {
    name: "polarity-reversed",
    sentence: "The bore gauge counts the other way than the job says.",
    apply: reversePolarity,
  },
  {
    name: "unit-mismatch",
    sentence: "The bore gauge is switched to the other unit, inch or millimetre, than the job says.",
    apply: mistakeUnit,
  },
  {
    name: "zero-moved",
    sentence: "The bore gauge is knocked between two return checks and its zero moves by four times what is allowed.",
    impossible: (job) => (job.returnCheckEvery === 0 ? "the job asks for no return checks" : null),
    apply: moveZero,
  },
  {
    name: "too-quick",
    sentence: "In one bore the first passes are rocked too quickly for the display.",
    impossible: needsStream,
    apply: (bench) => setMishap(bench, { quickPasses: 6 }),
  },
  {
    name: "contact-lost",
    sentence: "At one station a contact drops into an oil hole in two passes, until the gauge is moved off it.",
    impossible: needsStream,
    apply: (bench) => setMishap(bench, { holePasses: 2 }),
  },
  {
    name: "no-agreement",
    sentence: "At one station dirt moves about and fourteen passes scatter before it is gone.",
    apply: (bench) => setMishap(bench, { scatteredPasses: 14 }),
  },
  {
    name: "outlier",
    sentence: "At one station a single pass reads far short, with dirt under a contact, among good ones.",
    impossible: (job) => (job.sweepsPerStation < 3 ? "a station of the job closes with fewer than three sweeps" : null),
    // Placed so that five sweeps or more are there when the station closes: the test needs them.
    apply: (bench) => setMishap(bench, { dirtyPass: { index: bench.job.sweepsPerStation === 3 ? 1 : 0, nm: -15_000 } }),
  },
  {
    name: "same-place",
    sentence: "The person neither stops rocking nor takes the gauge out between the stations of a bore.",
    impossible: needsAll(needsStream, (job) =>
      job.stations.length < 2 ? "the job has one station a bore, so there is nothing between them" : null,
    ),
    apply: (bench) => {
      bench.stopsBetweenStations = false;
    },
  },
  {
    name: "frozen",
    sentence: "At one station the display repeats one value for five seconds while the gauge is rocked.",
    impossible: needsStream,
    apply: (bench) => setMishap(bench, { frozenMs: 5_000 }),
  },
  {
    name: "out-of-range",
    sentence: "At one station the plunger sticks at the inner end of its travel for a while.",
    apply: (bench) => setMishap(bench, { stuck: { ms: 4_000, presses: 2 } }),
  },
  {
    name: "not-understood",
    sentence: "Some lines of the bore gauge arrive damaged.",
    apply: (bench) => {
      bench.garbledPart = 0.03;
    },
  },
  {
    name: "odd-lifter",
    sentence: "One lifter is worn and far smaller than its fellows.",
    impossible: needsAll(needsMicrometer, needsBores(4)),
    apply: makeLifterOdd,
  },
  {
    name: "odd-bore",
    sentence: "One bore is far larger than its fellows.",
    impossible: needsBores(4),
    apply: makeBoreOdd,
  },
  {
    name: "turn-out",
    sentence: "The micrometer is read one turn out at one lifter.",
    impossible: needsAll(needsMicrometer, needsBores(4)),
    apply: misreadTurn,
  },
  {
    name: "same-bore",
    sentence: "One bore is measured twice and the next one left out.",
    impossible: needsBores(2),
    apply: repeatBore,
  },
  {
    name: "step-failed",
    sentence: "For the step check the micrometer is not opened as far as was said.",
    apply: failStep,
  },
  {
    name: "temperature",
    sentence: "The block is six degrees warmer than the lifters and cools during the walk.",
    apply: warmBlock,
  },
];

/**
 * Lets blunders happen to a bench, in the order given.
 * @throws BlunderError naming a blunder that is not known, or why this job cannot have it.
 */
export function applyBlunders(bench: Bench, names: readonly string[]): void {
  for (const name of names) {
    const blunder = BLUNDERS.find((entry) => entry.name === name);
    if (blunder === undefined) {
      const known = BLUNDERS.map((entry) => entry.name).join(", ");
      throw new BlunderError(`found blunder "${name}"; expected one of ${known}`);
    }
    const why = blunder.impossible?.(bench.job) ?? null;
    if (why !== null) throw new BlunderError(`blunder "${name}" cannot happen in this job: ${why}`);
    blunder.apply(bench);
  }
}
