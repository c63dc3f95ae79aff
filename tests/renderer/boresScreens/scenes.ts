import type { HostEvent } from "../../../core/bridge/messages.ts";
import type { Outcome } from "../../../core/session/outcome.ts";
import type { SessionView } from "../../../core/session/view.ts";
import { BoresBench, inventedClearance } from "../boresBench.ts";

/** One state of the walk to look at. */
export interface Scene {
  readonly bench: () => BoresBench | null;
  /** What differs from the bench's own view, for states that a bench reaches only after long. */
  readonly view?: (view: SessionView) => Partial<SessionView>;
  readonly outcomes?: (bench: BoresBench) => readonly Outcome[];
  /** Stations are not told of: their records are not on disk. */
  readonly untold?: true;
  readonly events?: readonly HostEvent[];
  readonly recheck?: (input: { limits: string; rule: string }) => unknown;
}

const PLAIN = { title: "Demonstration block", block: "bench example", operator: "" };

/** Sixteen cylinders in two banks: thirty-two bores, six stations each. */
const LARGE = {
  ...PLAIN,
  layout: {
    id: "v16",
    title: "V16, written out",
    firingOrder: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16],
    banks: [
      { name: "left", cylinders: [1, 3, 5, 7, 9, 11, 13, 15], bores: [..."EIIEEIIEEIIEEIIE"] },
      { name: "right", cylinders: [2, 4, 6, 8, 10, 12, 14, 16], bores: [..."EIIEEIIEEIIEEIIE"] },
    ],
  },
  stations: ["upper", "middle", "lower"].flatMap((height) => [
    { height, clock: "axial" },
    { height, clock: "cross" },
  ]),
  returnCheckEvery: 0,
};

function begun(jobFile: Record<string, unknown> = {}): BoresBench {
  const bench = new BoresBench({ ...PLAIN, ...jobFile });
  bench.zero();
  bench.act({ type: "step", step: "bores" });
  return bench;
}

function walked(stations: number, jobFile: Record<string, unknown> = {}): BoresBench {
  const bench = begun(jobFile);
  bench.walk(stations, inventedClearance);
  return bench;
}

export const SCENES: Readonly<Record<string, Scene>> = {
  nosession: { bench: () => null },
  empty: { bench: () => new BoresBench(PLAIN) },
  begun: { bench: () => begun() },
  open: {
    bench: () => {
      const bench = walked(10);
      bench.rock(-3_810 + 40_000, 2, [300, -200]);
      bench.rock(-3_810 + 40_000, 1);
      return bench;
    },
    outcomes: (bench) => bench.outcomes.slice(-1),
  },
  closed: {
    bench: () => {
      const bench = walked(10);
      bench.rock(-3_810 + 40_600, 5, [300, -200, 0, 100]);
      return bench;
    },
    outcomes: (bench) => bench.outcomes.filter((one) => one.type === "station" && !one.again).slice(-1),
  },
  outside: {
    bench: () => {
      const bench = walked(8);
      bench.rock(-3_810 + 70_000, 5, [300, -200, 0, 100]);
      return bench;
    },
    outcomes: (bench) => bench.outcomes.filter((one) => one.type === "station" && !one.again).slice(-1),
  },
  pending: {
    bench: () => {
      const bench = walked(10);
      bench.rock(-3_810 + 40_600, 5);
      return bench;
    },
    untold: true,
    events: [{ type: "saved", pending: 3, trouble: null }],
  },
  notsaved: {
    bench: () => {
      const bench = walked(10);
      bench.rock(-3_810 + 40_600, 3);
      return bench;
    },
    events: [{ type: "saved", pending: 9, trouble: "The disk is full: free some space." }],
  },
  noagreement: {
    bench: () => {
      const bench = walked(6);
      bench.rock(
        -3_810 + 40_000,
        13,
        [0, 9, 2, 12, 4, 15, 1, 8, 14, 3, 11, 5, 10].map((um) => um * 1000),
      );
      return bench;
    },
  },
  lost: {
    bench: () => {
      const bench = walked(10);
      bench.rock(-3_810 + 40_000, 2);
      bench.act({ type: "link", gauge: "bore", link: "lost", path: "/dev/gauge0" });
      return bench;
    },
  },
  hold: {
    bench: () => {
      const bench = walked(10);
      bench.act({ type: "hold", on: true });
      return bench;
    },
  },
  return: {
    bench: () => {
      const bench = walked(15);
      bench.station(40_000);
      bench.rock(-3_810, 2, [0, 200]);
      return bench;
    },
  },
  returndone: {
    bench: () => {
      const bench = walked(15);
      bench.station(40_000);
      bench.rock(-3_810 + 500, 4);
      return bench;
    },
  },
  moved: {
    bench: () => {
      const bench = walked(15);
      bench.station(40_000);
      bench.returnCheck(6_000);
      return bench;
    },
  },
  complete: {
    bench: () => walked(32),
  },
  large: {
    bench: () => {
      const bench = walked(60, LARGE);
      bench.rock(-3_810 + 41_000, 3);
      return bench;
    },
  },
  largecomplete: { bench: () => walked(192, LARGE) },
  cross: {
    bench: () =>
      walked(38, {
        stations: ["upper", "lower"].flatMap((height) => [
          { height, clock: "axial" },
          { height, clock: "cross" },
        ]),
      }),
  },
  inline: { bench: () => walked(9, { layout: "i6", walk: "firing" }) },
  differs: {
    bench: () => walked(32),
    recheck: ({ limits, rule }) => ({
      agrees: false,
      seal: "broken at line 118",
      differences: ["3E upper axial: clearance recorded 0.00160 in, now 0.00158 in"],
      result: { limits, rule },
    }),
  },
};
