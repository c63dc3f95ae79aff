import type { TeachingNow } from "../../../core/bridge/messages.ts";
import { Teaching } from "../../../core/gauge/teach/teaching.ts";
import type { TeachView } from "../../../core/gauge/teach/teachView.ts";
import type { Nm } from "../../../core/length/nm.ts";
import type { PortEntry, SessionEntry } from "../../../renderer/store/store.ts";
import { studyJob } from "../../../renderer/study/studyJob.ts";
import { BoresBench, inventedClearance } from "../boresBench.ts";
import { type FakeHost, type FakeHostState, fakeHost } from "../fakeBridge.ts";

/** A stand-in host with what is to happen once the window listens. */
export interface SceneHost extends FakeHost {
  begin(): void;
}

const JOB = { title: "Demonstration block", block: "bench example" };

const PORTS: readonly PortEntry[] = [
  {
    path: "/dev/ttyUSB0",
    label: "USB serial adapter, serial number A1B2C3",
    simulated: false,
    fresh: false,
    usedBy: null,
  },
  { path: "/dev/ttyUSB1", label: "USB serial adapter", simulated: false, fresh: true, usedBy: null },
];

/** A bench with a hub full of adapters whose makers gave them long names. */
const EIGHT_PORTS: readonly PortEntry[] = Array.from({ length: 8 }, (_, index) => ({
  path: `/dev/serial/by-id/usb-Example_Works_of_Long_Names_Universal_Serial_Bridge_Controller_000${index}-if00-port0`,
  label: `/dev/serial/by-id/usb-Example_Works_of_Long_Names_Universal_Serial_Bridge_Controller_000${index}-if00-port0 (Example Works of Long Names, no. 000${index})`,
  simulated: false,
  fresh: index === 7,
  usedBy: index === 0 ? "mic" : null,
}));

const SETTING = { baud: 9600, framing: "8N1", dtr: true, rts: true };

function taught(part: Partial<TeachView>): TeachView {
  return {
    state: "listening",
    setting: SETTING,
    searching: true,
    tried: [],
    lines: [],
    sentence: "Press the data button of the gauge three times, at three different readings.",
    format: null,
    unit: null,
    unitFrom: null,
    resolutionNm: null,
    sends: null,
    lineEnd: null,
    settleMs: 0,
    ...part,
  };
}

const teachingOn = (ports: readonly PortEntry[], teach: TeachView): TeachingNow => ({
  ports: ports.slice(-1).map(({ path, label }) => ({ path, label, state: "talks", why: null })),
  chosen: ports.at(-1)?.path ?? null,
  teach,
});

const session = (id: string, part: Partial<SessionEntry>): SessionEntry => ({
  id,
  title: "Demonstration block",
  block: "bench example",
  created: "2031-03-02T08:00:00Z",
  modified: "2031-03-02T09:30:00Z",
  bores: 16,
  measured: 7,
  complete: false,
  verdicts: { fits: 5, "too tight": 0, "too loose": 1, undecided: 1, "not measured": 9 },
  simulated: false,
  trouble: null,
  ...part,
});

function scene(state: FakeHostState, begin: (host: FakeHost) => void): () => SceneHost {
  return () => {
    const host = fakeHost(state);
    return { ...host, begin: () => begin(host) };
  };
}

function measureLifters(bench: BoresBench, count: number, odd = false): void {
  bench.act({ type: "step", step: "lifters" });
  for (let index = 0; index < count; index += 1) {
    const nm = 21_386_800 + ((index * 37) % 5) * 254 + (odd && index === 4 ? 635_000 : 0);
    bench.line(nm, "mic");
  }
}

/** A gauge study of three invented people, four bores and three repeats, so many stations on. */
function studied(stations: number): BoresBench {
  const plan = { people: ["first", "second", "third"], repeats: 3, clock: "axial" } as const;
  const bench = new BoresBench({ ...studyJob(JOB, ["1I", "1E", "3I", "3E"], plan), returnCheckEvery: 2 });
  bench.zero();
  bench.act({ type: "step", step: "bores" });
  bench.walk(stations, (index) => {
    const person = [0, 900, -400][index % 3] as number;
    return 38_000 + Math.floor(index / 9) * 1700 + person + (((index * 7) % 5) - 2) * 300;
  });
  return bench;
}

/** Lifters of a set: neighbours differ by a tenth or two. */
function measureSet(bench: BoresBench): void {
  bench.act({ type: "step", step: "lifters" });
  const count = bench.run.view().lifters.length;
  for (let index = 0; index < count; index += 1) bench.line(21_386_800 + (((index * 7) % 9) - 4) * 1_270, "mic");
}

/** A whole block, its lifters measured: some bores tight, some loose, one undecided. */
function finished(jobFile: Record<string, unknown> = {}): BoresBench {
  const bench = new BoresBench({ ...JOB, returnCheckEvery: 0, ...jobFile });
  measureSet(bench);
  bench.zero();
  bench.act({ type: "step", step: "bores" });
  bench.walk(bench.job.walk.length * bench.job.stations.length, inventedClearance);
  return bench;
}

/** Sixteen cylinders in two banks: thirty-two bores. */
const SIXTEEN = {
  layout: {
    id: "v16",
    title: "V16, written out",
    firingOrder: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16],
    banks: [
      { name: "left", cylinders: [1, 3, 5, 7, 9, 11, 13, 15], bores: [..."EIIEEIIEEIIEEIIE"] },
      { name: "right", cylinders: [2, 4, 6, 8, 10, 12, 14, 16], bores: [..."EIIEEIIEEIIEEIIE"] },
    ],
  },
};

/** One cylinder, two bores. */
const SINGLE = {
  layout: {
    id: "one",
    title: "One cylinder",
    firingOrder: [1],
    banks: [{ name: "only", cylinders: [1], bores: ["I", "E"] }],
  },
};

/** States of the window with too little, typical and too much in it. */
export const SCENES: Readonly<Record<string, () => SceneHost>> = {
  first: scene({}, () => undefined),
  unreachable: () => {
    const host = fakeHost();
    host.refuse("app.info", "no-host", "The program was closed. Start it again; nothing that it kept is lost.");
    return { ...host, begin: () => undefined };
  },
  second: scene({ mayAct: false, sessions: [session("a", {})] }, () => undefined),
  typical: scene(
    {
      ports: PORTS,
      sessions: [
        session("a", {}),
        session("b", { title: "Rebuild in spring", modified: "2031-02-11T17:05:00Z", measured: 16, complete: true }),
        session("c", { title: "", block: "", modified: "2031-01-05T12:00:00Z", trouble: "line 3 is not a record" }),
      ],
    },
    (host) => {
      host.emit({ type: "ports", ports: PORTS });
      const bench = new BoresBench(JOB);
      measureLifters(bench, 5);
      host.open(bench);
    },
  ),
  much: scene(
    {
      ports: PORTS,
      sessions: Array.from({ length: 40 }, (_, index) =>
        session(`s${index}`, {
          title: `Block of a long-winded customer with a name that does not end soon, number ${index + 1}`,
          block: "casting mark 0123456789-ABCDEFGHIJKLMNOPQRSTUVWXYZ-0123456789, second regrind",
        }),
      ),
    },
    (host) => {
      host.emit({ type: "ports", ports: PORTS });
      const bench = new BoresBench({ ...JOB, pressesPerLifter: 1, returnCheckEvery: 2 });
      measureLifters(bench, 16, true);
      bench.zero();
      bench.act({ type: "step", step: "bores" });
      bench.walk(24, inventedClearance);
      bench.act({ type: "step", step: "return" });
      bench.returnCheck(6_000);
      host.open(bench);
      host.emit({
        type: "saved",
        pending: 3,
        trouble:
          'NOT SAVED: "demonstration.bwsession" could not be written (the disk is full; make room on it). What was ' +
          "measured since is held in memory and will be saved as soon as that is put right; leave the program open.",
      });
    },
  ),
  finished: scene(
    { sessions: [session("before", { title: "Before the regrind", measured: 16, complete: true })] },
    (host) => host.open(finished()),
  ),
  spares: scene({}, (host) =>
    host.open(
      finished({
        lifters: {
          S1: { spare: true },
          S2: { spare: true },
          "1I": { used: true },
          "2E": { pinned: true, keptFrom: ["3I"] },
        },
      }),
      { simulated: true },
    ),
  ),
  tied: scene({}, (host) =>
    host.open(finished({ lifter: { style: "roller", nominal: "0.8420 in" }, limits: undefined }), { readOnly: true }),
  ),
  /** Some lifters were let down by hand: one is held where the figures leave it room. */
  felt: scene({}, (host) => {
    const bench = finished();
    const oil = "engine oil 10W-40";
    for (const [index, bore] of bench.job.walk.slice(0, 9).entries()) {
      const found = ["free", "free", "drags", "free", "binds"][index % 5] as string;
      const note = index === 4 ? "catches half way down, lets go when it is turned a quarter" : undefined;
      bench.act({ type: "feel", bore, found, oil, ...(note === undefined ? {} : { note }) });
    }
    host.open(bench);
  }),
  sixteen: scene({}, (host) => host.open(finished(SIXTEEN))),
  single: scene({}, (host) => host.open(finished(SINGLE))),
  /** No lifter measured, and the walk only half done. */
  bare: scene({}, (host) => {
    const bench = new BoresBench({ ...JOB, returnCheckEvery: 0 });
    bench.zero();
    bench.act({ type: "step", step: "bores" });
    bench.walk(19, inventedClearance);
    host.open(bench);
  }),
  unpaired: scene({}, (host) => {
    host.refuse(
      "session.pairing",
      "fewer-lifters",
      "Found 15 measured lifters for 16 measured bores: lifter 3E not measured. Measure what is missing with the micrometer.",
    );
    host.refuse("session.remedy", "not-there", "The remedy can not be worked out: lifter 3E is not measured.");
    host.open(finished());
  }),
  zeroing: scene({ ports: PORTS }, (host) => {
    const bench = new BoresBench(JOB);
    measureLifters(bench, 16);
    bench.act({ type: "step", step: "zero", lifter: "1I" });
    bench.rock(-3_810, 3, [300, 0, 9000]);
    host.open(bench);
  }),
  stepping: scene({ ports: PORTS }, (host) => {
    const bench = new BoresBench(JOB);
    measureLifters(bench, 16);
    bench.zero();
    bench.act({ type: "step", step: "step-check", openedNm: 25_400 });
    bench.rock(-3_810 - 25_400, 5, [300, 0, -200]);
    bench.withdraw();
    host.open(bench);
  }),
  "study begun": scene({ ports: PORTS }, (host) => host.open(studied(0))),
  studying: scene({ ports: PORTS }, (host) => host.open(studied(13))),
  studied: scene({ ports: PORTS }, (host) => host.open(studied(36))),
  simulated: scene({}, (host) => {
    const bench = new BoresBench(JOB);
    measureLifters(bench, 16);
    bench.zero();
    host.open(bench, { simulated: true });
  }),
  lost: scene({ ports: PORTS }, (host) => {
    const bench = new BoresBench(JOB);
    measureLifters(bench, 3);
    bench.act({ type: "line", gauge: "bore", line: "Err␀‹8D›4" });
    bench.act({ type: "link", gauge: "mic", link: "lost" });
    host.open(bench);
  }),
  learning: scene({ ports: PORTS }, (host) => {
    host.emit({ type: "ports", ports: PORTS });
    host.emit({
      type: "teaching",
      teaching: teachingOn(
        PORTS,
        taught({
          state: "found",
          setting: { ...SETTING, baud: 4800, framing: "7E2" },
          tried: [
            { setting: SETTING, bytes: 17, heard: "no text" },
            {
              setting: { ...SETTING, baud: 4800 },
              bytes: 9,
              heard: "7 data bits with even parity, read as 8",
            },
          ],
          lines: [
            { hex: "2B 30 2E 30 30 31 35 35 0D", raw: "+0.00155", understood: "+0.00155 in", why: null },
            {
              hex: "2B 30 2E 30 23 31 32 30 0D",
              raw: "+0.0#120",
              understood: null,
              why: "not of a form that gauges send",
            },
            { hex: "2B 30 2E 30 30 31 32 30 0D", raw: "+0.00120", understood: "+0.00120 in", why: null },
          ],
          format: "decimal",
          unit: "in",
          unitFrom: "digits",
          resolutionNm: 1270 as Nm,
          sends: "press",
          lineEnd: "CR",
          sentence:
            "Signed decimal, no unit in its lines, taken as inch, steps of 0.00005 in, one line a press. Speed and framing 4800, 7E2, lines end with CR.",
        }),
      ),
    });
  }),
  /** Eight adapters open at once, to hear which one speaks. */
  "which port": scene({ ports: EIGHT_PORTS }, (host) => {
    host.emit({ type: "ports", ports: EIGHT_PORTS });
    host.emit({
      type: "teaching",
      teaching: {
        ports: EIGHT_PORTS.slice(1).map(({ path, label }, index) => ({
          path,
          label,
          state: index === 1 ? "talks" : index === 4 ? "trouble" : "quiet",
          why: index === 4 ? `Port ${path} is in use by another program: close it there, then connect again.` : null,
        })),
        chosen: null,
        teach: null,
      },
    });
  }),
  "silent gauge": scene({ ports: EIGHT_PORTS }, (host) => {
    host.emit({ type: "ports", ports: EIGHT_PORTS });
    const { sentence } = silent();
    host.emit({
      type: "teaching",
      teaching: teachingOn(
        EIGHT_PORTS,
        taught({
          state: "silent",
          tried: [
            { setting: SETTING, bytes: 0, heard: "nothing" },
            { setting: { ...SETTING, rts: false }, bytes: 0, heard: "nothing" },
            { setting: { ...SETTING, dtr: false }, bytes: 0, heard: "nothing" },
            { setting: { ...SETTING, dtr: false, rts: false }, bytes: 0, heard: "nothing" },
          ],
          sentence,
        }),
      ),
    });
  }),
  /** A session whose adapters look alike, with eight ports there. */
  "alike adapters": scene({ ports: EIGHT_PORTS }, (host) => {
    host.emit({ type: "ports", ports: EIGHT_PORTS });
    const bench = new BoresBench(JOB);
    for (const gauge of ["bore", "mic"]) bench.act({ type: "link", gauge, link: "closed" });
    host.open(bench);
    host.emit({
      type: "profiles",
      profiles: ["bore", "mic"].map((gauge, index) => ({
        gauge,
        settings: { path: EIGHT_PORTS[index]?.path ?? "", ...SETTING, settleMs: 0 },
        label: EIGHT_PORTS[index]?.label ?? "",
        path: null,
        alike: true,
        taught: null,
      })),
    });
  }),
  /** A dial bore gauge and a micrometer without outputs; in the middle of each step of the work. */
  "typed lifters": scene({}, (host) => host.open(typedBench("lifters"))),
  "typed zero": scene({}, (host) => host.open(typedBench("zero"))),
  "typed bores": scene({}, (host) => host.open(typedBench("bores"))),
  traffic: scene({ ports: PORTS }, (host) => {
    host.emit({ type: "ports", ports: PORTS });
    host.open(new BoresBench(JOB));
    host.emit({
      type: "traffic",
      entries: Array.from({ length: 300 }, (_, index) => ({
        n: index + 1,
        at: new Date(Date.UTC(2031, 2, 2, 8, 0, 0, index * 100)).toISOString(),
        path: index % 9 === 0 ? (EIGHT_PORTS[0]?.path ?? "") : "/dev/ttyUSB0",
        direction: index === 0 ? ("port" as const) : index % 50 === 0 ? ("out" as const) : ("in" as const),
        hex: index === 0 ? "" : "2B 30 2E 30 30 31 35 35 0D 0A",
        text: index === 0 ? "opened, 9600, 8N1, DTR and RTS raised" : index % 7 === 0 ? "Err␀‹8D›4" : "+0.00155",
        understood: index % 7 === 0 || index % 50 === 0 ? null : "+0.00155 in",
        why: index % 7 === 0 && index % 50 !== 0 ? "bytes that are not text: check speed and framing" : null,
      })),
    });
  }),
};

function typedBench(until: "lifters" | "zero" | "bores"): BoresBench {
  const bench = new BoresBench({
    ...JOB,
    gauges: [
      { id: "dial", role: "bore", source: "typed", unit: "in", resolution: "0.00005 in" },
      { id: "mic", role: "micrometer", source: "typed", unit: "in", resolution: "0.00005 in" },
    ],
  });
  for (const gauge of ["dial", "mic"]) bench.act({ type: "link", gauge, link: "closed" });
  const type = (gauge: string, ...lines: string[]) => {
    for (const line of lines) {
      bench.tMs += 4000;
      bench.act({ type: "line", gauge, line, by: "hand" });
    }
  };
  bench.act({ type: "step", step: "lifters" });
  type("mic", "+0.84200 in", "+0.84205 in", "+0.84195 in");
  if (until === "lifters") return bench;
  bench.act({ type: "step", step: "zero", lifter: "1I" });
  type("dial", "+0.00020 in");
  if (until === "zero") return bench;
  type("dial", "+0.00020 in", "+0.00025 in");
  bench.act({ type: "step", step: "bores" });
  type("dial", "+0.00180 in", "+0.00180 in", "+0.00185 in", "+0.00175 in");
  return bench;
}

/** What a teaching says of a gauge that never speaks. */
function silent(): TeachView {
  const teaching = new Teaching({});
  for (let power = 0; power < 4; power += 1) {
    teaching.open(power * 8000);
    teaching.pass((power + 1) * 8000);
  }
  return teaching.view();
}
