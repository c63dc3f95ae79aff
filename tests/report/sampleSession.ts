import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import type { SessionInput } from "../../core/session/event.ts";
import { Recording } from "../../core/session/recording.ts";

/** What a made-up session is like; lengths in nm. */
export interface Sample {
  /** Changes of the job file. */
  readonly job?: Record<string, unknown>;
  /** True clearance of a station; null skips the bore from there on. */
  readonly clearanceNm?: (bore: number, station: number) => number | null;
  /** What the sweeps of each station are off by, in steps of the display; by default one up, none, one down. */
  readonly scatter?: readonly number[];
  readonly stepCheck?: boolean;
  readonly temperatures?: boolean;
  readonly lifters?: boolean;
  readonly simulated?: boolean;
  readonly returns?: boolean;
  /** Done once every station was offered. */
  readonly afterwards?: (feed: (input: Record<string, unknown>) => void) => void;
}

const TENTH = 2540;
const STEP = 1270;

/** Sixteen cylinders in two banks, two bores each: the most that the plan has to hold. */
export const THIRTY_TWO = {
  id: "v16",
  title: "V16, odd cylinders left, even right; valves by turns",
  firingOrder: [1, 14, 9, 4, 7, 12, 15, 6, 13, 8, 3, 16, 11, 2, 5, 10],
  banks: [
    { name: "left", cylinders: [1, 3, 5, 7, 9, 11, 13, 15], bores: turns(16) },
    { name: "right", cylinders: [2, 4, 6, 8, 10, 12, 14, 16], bores: turns(16) },
  ],
};

function turns(count: number): string[] {
  return Array.from({ length: count }, (_, index) => (index % 2 === 0 ? "I" : "E"));
}

/** Two heights, each in both clock directions. */
export const FOUR_STATIONS = ["upper", "lower"].flatMap((height) =>
  ["axial", "cross"].map((clock) => ({ height, clock })),
);

/** A session of held minima in 0.00005 in, and its inputs; every bore has the clearance it is told to have. */
export function sampleSession(sample: Sample = {}): { recording: Recording; inputs: SessionInput[] } {
  const {
    clearanceNm = () => 16 * TENTH,
    scatter = [-1, 0, 1],
    stepCheck = true,
    temperatures = true,
    lifters = true,
    simulated = false,
    returns = true,
  } = sample;
  const recording = Recording.begin({
    job: {
      format: "borewright/job",
      version: 1,
      title: "Demonstration block",
      block: "bench example",
      operator: "A. Fitter",
      budget: { indicator: "0.5 um" },
      gauges: [
        { id: "bore", role: "bore", sends: "held", unit: "in", resolution: "0.00005 in" },
        { id: "mic", role: "micrometer", sends: "press", unit: "in", resolution: "0.00005 in" },
      ],
      ...sample.job,
    },
    createdIso: "2026-01-02T03:04:05.000Z",
    app: "borewright 0.0.0",
  });
  const { job } = recording;
  const inputs: SessionInput[] = [];
  let t = 0;
  const feed = (input: Record<string, unknown>) => {
    t += 1500;
    const event = { t, ...input } as unknown as SessionInput;
    inputs.push(event);
    recording.record(event);
  };
  const line = (gauge: string, nm: number) =>
    feed({ type: "line", gauge, line: formatLength(toNm(Math.round(nm / STEP) * STEP), "in", 5, true) });
  const presses = (nm: number, steps: readonly number[] = [-1, 0, 1]) => {
    for (const step of steps) line("bore", nm + STEP * step);
  };
  const lifterNm = (index: number) => job.lifter.nominalNm - STEP * (index % 3);
  for (const gauge of job.gauges) {
    feed({ type: "link", gauge: gauge.id, link: "open", ...(simulated ? { path: `simulated:${gauge.id}` } : {}) });
  }
  if (lifters) {
    feed({ type: "step", step: "lifters" });
    for (const index of job.walk.keys()) line("mic", lifterNm(index));
  }
  feed({
    type: "step",
    step: "zero",
    lifter: job.walk[0],
    ...(temperatures ? { blockC: 20.5, lifterC: 20.5 } : {}),
  });
  presses(-2 * TENTH);
  if (stepCheck) {
    feed({ type: "step", step: "step-check", openedNm: 25_400 });
    presses(-2 * TENTH + 25_400);
  }
  feed({ type: "step", step: "bores" });
  const returnCheck = () => {
    feed({ type: "step", step: "return" });
    presses(-2 * TENTH);
    feed({ type: "step", step: "bores" });
  };
  for (const [bore, name] of job.walk.entries()) {
    for (const [station, place] of job.stations.entries()) {
      const wanted = clearanceNm(bore, station);
      if (wanted === null) break;
      feed({ type: "go", bore: name, station: place });
      const own = lifters ? lifterNm(bore) - lifterNm(0) : 0;
      presses(-2 * TENTH + wanted + own, scatter);
    }
    const every = job.returnCheckEvery;
    if (returns && every > 0 && (bore + 1) % every === 0 && bore + 1 < job.walk.length) returnCheck();
  }
  if (returns) returnCheck();
  sample.afterwards?.(feed);
  return { recording, inputs };
}

/** Clearances that give every verdict with the default limits of a flat-faced lifter. */
export function everyVerdict(bore: number, station: number): number | null {
  const middles = [16, 16, 9, 23, 18.5, 16, 14, 16, 15.5, 16.5, 13.5, 16, 17.5, 26, 16, null];
  const middle = middles[bore % middles.length];
  return middle === null || middle === undefined ? null : middle * TENTH + station * STEP * 0.5;
}
