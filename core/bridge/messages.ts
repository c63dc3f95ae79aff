import { SWEEP_VALUES } from "../fit/smallestReading.ts";
import type { TeachView } from "../gauge/teach/teachView.ts";
import type { Nm } from "../length/nm.ts";
import { wellFormed } from "../length/shownText.ts";
import type { LinkState } from "../session/event.ts";
import { FEELS } from "../session/feel.ts";
import type { Outcome } from "../session/outcome.ts";
import type { SessionView, ViewChange } from "../session/view.ts";
import { z } from "../zod.ts";

/**
 * The one interface between the host (everything that touches the machine) and the page. Every method takes one
 * object and answers with an envelope; every payload is parsed on the host's side with the schema here.
 */
const id = z.string().min(1).max(200);
const text = (max: number) => z.string().max(max).refine(wellFormed, "expected well-formed text");

const count = z.number().int().min(0);

/** A session on the list of the Start place. */
export const sessionEntry = z.object({
  id: z.string(),
  title: z.string(),
  block: z.string(),
  created: z.string(),
  modified: z.string(),
  bores: count,
  measured: count,
  complete: z.boolean(),
  /** Bores by verdict; null while the session was not read through yet. */
  verdicts: z
    .object({ fits: count, "too tight": count, "too loose": count, undecided: count, "not measured": count })
    .nullable(),
  /** Whether simulated gauges were ever connected: it proves nothing about a block. */
  simulated: z.boolean(),
  /** Why it can not be read, or null. */
  trouble: z.string().nullable(),
});

export const portEntry = z.object({
  path: z.string(),
  /** What a person can tell it by: maker's text, serial number, or that it is simulated. */
  label: z.string(),
  simulated: z.boolean(),
  /** Plugged in since the program was started, and not yet used. */
  fresh: z.boolean(),
  /** The gauge of the open session that is on it; null for none. */
  usedBy: z.string().nullable(),
});

const step = z.enum(["lifters", "zero", "step-check", "bores", "return"]);
const place = z.object({ height: z.string().min(1).max(40), clock: z.enum(["axial", "cross"]) });

/** What a person may do; the host adds the time and records it. */
export const operatorAction = z.discriminatedUnion("type", [
  z.object({
    type: z.literal("step"),
    step,
    lifter: id.optional(),
    openedNm: z.number().int().positive().max(5_000_000).optional(),
    blockC: z.number().min(-40).max(150).optional(),
    lifterC: z.number().min(-40).max(150).optional(),
  }),
  z.object({
    type: z.literal("temperature"),
    blockC: z.number().min(-40).max(150).optional(),
    lifterC: z.number().min(-40).max(150).optional(),
  }),
  z.object({ type: z.literal("take") }),
  z.object({ type: z.literal("strike") }),
  z.object({ type: z.literal("back") }),
  z.object({ type: z.literal("hold"), on: z.boolean() }),
  z.object({ type: z.literal("go"), bore: id, station: place.optional() }),
  z.object({
    type: z.literal("correct"),
    gauge: id,
    polarity: z.enum(["+", "-"]).optional(),
    unit: z.enum(["in", "mm"]).optional(),
    gain: z.number().min(0.5).max(2).optional(),
  }),
  z.object({ type: z.literal("note"), text: text(2000) }),
  /** What was found by hand when the oiled lifter was let down into the bore; null withdraws what stands there. */
  z.object({
    type: z.literal("feel"),
    bore: id,
    found: z.enum(FEELS).nullable(),
    oil: text(100).optional(),
    note: text(500).optional(),
  }),
  /** Accepts a pairing: each lifter goes into the bore named beside it; an empty list puts every lifter back. */
  z.object({ type: z.literal("pairing"), assignments: z.array(z.object({ bore: id, lifter: id })).max(1000) }),
]);
export type OperatorAction = z.infer<typeof operatorAction>;

/** Serial settings chosen on the Gauges place. */
export const portSettings = z.object({
  path: text(1000).min(1),
  baud: z.number().int().min(50).max(4_000_000).default(9600),
  framing: z
    .string()
    .regex(/^[78][NEO][12]$/)
    .default("8N1"),
  dtr: z.boolean().default(true),
  rts: z.boolean().default(true),
  /** Time after opening for which nothing is trusted, ms: the gauge and its cable wake up. */
  settleMs: z.number().int().min(0).max(10_000).default(0),
});
export type PortSettings = z.infer<typeof portSettings>;

/** How a port is opened while a gauge is taught. */
const serialSetting = portSettings.omit({ path: true, settleMs: true });

/** What was taught of a gauge, kept beside its port for the next job. */
export const taughtGauge = z.object({
  role: z.enum(["bore", "micrometer"]),
  unit: z.enum(["in", "mm"]),
  /** Nm, whole. */
  resolutionNm: z.number().int().positive().max(1_000_000),
  sends: z.enum(["stream", "press", "held"]),
  request: text(40).optional(),
});
export type TaughtGauge = z.infer<typeof taughtGauge>;

/** A gauge whose port is remembered. */
export interface RememberedGauge {
  readonly gauge: string;
  readonly settings: PortSettings;
  /** What a person can tell its adapter by. */
  readonly label: string;
  /** Where it is now; null while it is away or can not be told from others. */
  readonly path: string | null;
  /** Adapters that look the same are there, so that only a press can tell which is which. */
  readonly alike: boolean;
  readonly taught: TaughtGauge | null;
}

/** Readings of a gauge study, nm. */
const studyReadings = z.object({
  people: z.array(z.string()),
  bores: z.array(z.string()),
  repeats: z.number().int(),
  readings: z.array(z.object({ person: z.string(), bore: z.string(), valuesNm: z.array(z.number().int()) })),
});
export type StudyReadings = z.infer<typeof studyReadings>;

/** A length with its unit as a person writes it, such as "0.8427 in"; checked by the host. */
const length = text(40).min(1);
const celsius = z.number().min(-40).max(150);

/** What may be different from the session, for a look that leaves the record untouched. */
export const whatIf = z.object({
  limits: z
    .union([
      z.enum(["job", "flat", "roller"]),
      z.object({ low: length, high: length, preferredLow: length.optional(), preferredHigh: length.optional() }),
    ])
    .default("job"),
  rule: z.enum(["job", "simple", "guarded"]).default("job"),
  /** Diameters of single lifters, by name: another lifter in that one's place, the record's staying the reference. */
  lifters: z.record(id, length).default({}),
  /** One diameter for every lifter, as of a new set. */
  everyLifter: length.optional(),
  /** Temperatures during the whole work, °C. */
  blockC: celsius.optional(),
  lifterC: celsius.optional(),
});
export type WhatIfInput = z.input<typeof whatIf>;

/** What the pairing must respect for a lifter, in place of what the job says of it. */
const lifterNote = z.object({
  used: z.boolean().optional(),
  pairedWith: id.optional(),
  mayTurn: z.boolean().optional(),
  pinned: z.union([z.boolean(), id]).optional(),
  keptFrom: z.array(id).max(200).optional(),
  spare: z.boolean().optional(),
});

/** A material by the name it ships under, or with its own expansion, 1e-6 per °C. */
const material = z.union([
  text(60).min(1),
  z.object({ name: text(60).min(1), alpha: z.number(), alphaHalfWidth: z.number().min(0).optional() }),
]);

/** What planning figures assume; a part left out takes its default, which the answer names. */
const planningAssumptions = z.object({
  /** Temperatures of block and lifter when running, °C. */
  blockC: z.number().optional(),
  lifterC: z.number().optional(),
  blockMaterial: material.optional(),
  lifterMaterial: material.optional(),
  /** Dynamic viscosity of the warm oil, Pa·s. */
  viscosityPaS: z.number().optional(),
  /** Oil pressure over what is behind the lifter, bar. */
  pressureBar: z.number().optional(),
  /** Length over which the bore guides the lifter. */
  guidedLength: length.optional(),
  /** 0 concentric … 1 touching the bore. */
  eccentricity: z.number().optional(),
});
export type PlanningAssumptionsInput = z.input<typeof planningAssumptions>;

/** A job file as a person writes it; checked by the host with the same code as the command line's. */
const jobFile = z.record(z.string(), z.unknown());

/** Which of the simulated blocks: the same number, the same block. Drawn from the time of beginning where it is left out. */
const seed = z.number().int().min(0).max(2_147_483_646);

/** Method → schema of what it takes and what it gives. `unknown` outputs are typed below. */
export const methods = {
  "app.info": {
    in: z.object({}),
    out: z.object({
      version: z.string(),
      shell: z.enum(["window", "loopback"]),
      folder: z.string(),
      /** False in a second tab: it may look, not act. */
      mayAct: z.boolean(),
      /** Whether `session.reportPdf` can be asked for. */
      writesPdf: z.boolean(),
    }),
  },
  "job.check": { in: z.object({ job: jobFile }), out: z.object({ job: jobFile }) },
  "sessions.list": { in: z.object({}), out: z.object({ sessions: z.array(sessionEntry) }) },
  "session.new": {
    in: z.object({ job: jobFile, simulate: z.boolean().default(false), seed: seed.optional() }),
    out: z.object({ id: z.string() }),
  },
  /**
   * Opens a session of the list to go on with it, or only to look at it. `simulate` puts simulated gauges on it again;
   * only on one that had them before, never on a record of a real block.
   */
  "session.open": {
    in: z.object({
      id,
      readOnly: z.boolean().default(false),
      simulate: z.boolean().default(false),
      seed: seed.optional(),
    }),
    out: z.object({ id: z.string() }),
  },
  /** Takes the content of a session file dropped on the page into the folder (a new name if that is taken). */
  "session.adopt": { in: z.object({ name: text(200), content: text(200_000_000) }), out: z.object({ id: z.string() }) },
  "session.close": { in: z.object({}), out: z.object({}) },
  "session.act": { in: z.object({ action: operatorAction }), out: z.object({}) },
  /** A line typed by a keyboard-type cable for the named gauge. */
  "session.type": { in: z.object({ gauge: id, line: text(200) }), out: z.object({}) },
  /** A reading that a person typed, as read from a dial or display; `unit` counts where it names none. */
  "session.typeByHand": {
    in: z.object({ gauge: id, text: text(200), unit: z.enum(["in", "tenths", "mm", "um"]) }),
    out: z.object({}),
  },
  /** What to write for a person to keep: the table of stations (CSV) or the result (JSON). */
  "session.export": {
    in: z.object({
      kind: z.enum(["stations.csv", "bores.csv", "lifters.csv", "sweeps.csv", "result.json", "session"]),
      /** What stands before the decimals in a table. */
      decimal: z.enum(["point", "comma"]).default("point"),
    }),
    out: z.object({ name: z.string(), content: z.string() }),
  },
  /** Rechecks the open session from its raw lines. */
  "session.recheck": {
    in: z.object({
      limits: z.enum(["job", "flat", "roller"]).default("job"),
      rule: z.enum(["job", "simple", "guarded"]).default("job"),
      /** Judged again by another agreement or number of sweeps, where they are given. */
      agreement: length.optional(),
      sweepsPerStation: z.number().int().min(2).max(12).optional(),
      /** What counts as the value of a sweep (`resultBySmallestReading`). */
      sweepValue: z.enum(SWEEP_VALUES).default("turning-point"),
    }),
    out: z.object({ agrees: z.boolean(), seal: z.string(), differences: z.array(z.string()), result: z.unknown() }),
  },
  /**
   * Makes a session derived from the open one, with sweeps struck or given back and the reason; the open one stays as it
   * is. Answers with the new one's id.
   */
  "session.derive": {
    in: z.object({
      changes: z
        .array(
          z.object({
            /** Absent for a sweep in the micrometer. */
            bore: id.optional(),
            station: place.optional(),
            sweepMs: z.number().min(0),
            use: z.enum(["kept", "struck"]),
          }),
        )
        .min(1)
        .max(1000),
      why: text(2000),
    }),
    out: z.object({ id: z.string() }),
  },
  /**
   * Packs the open session for the next builder; `content` is the parcel in base64. Signed with the shop's own key where
   * that is wished; the key is made on first use, for the name given.
   */
  "session.handover": {
    in: z.object({
      sign: z.boolean().default(false),
      shop: text(100).optional(),
      decimal: z.enum(["point", "comma"]).default("point"),
    }),
    out: z.object({
      name: z.string(),
      content: z.string(),
      sha256: z.string(),
      files: z.array(z.object({ name: z.string(), size: z.number().int() })),
      signedBy: z.object({ name: z.string(), fingerprint: z.string() }).nullable(),
      /** Where the key is kept that was made just now; null when it was there, or none was needed. */
      keyMadeAt: z.string().nullable(),
    }),
  },
  /** The report of the open session: one page of HTML that holds everything, for paper. */
  "session.report": {
    in: z.object({ unitFirst: z.enum(["in", "um"]).optional(), seenFrom: z.enum(["front", "rear"]).optional() }),
    out: z.object({ html: z.string() }),
  },
  /** Writes that report as a PDF where the person chooses; `path` is null if they chose no place. */
  "session.reportPdf": {
    in: z.object({
      unitFirst: z.enum(["in", "um"]).optional(),
      seenFrom: z.enum(["front", "rear"]).optional(),
      paper: z.enum(["A4", "Letter"]),
    }),
    out: z.object({ path: z.string().nullable() }),
  },
  /**
   * Checks a parcel (base64) and tells what it came to (`parcelCheckSchema`). Nothing of it is kept but, if `remember`,
   * the key of a shop seen for the first time; `accept` is the fingerprint of another key that a person has compared.
   */
  "parcel.open": {
    in: z.object({
      content: text(200_000_000),
      remember: z.boolean().default(false),
      accept: text(200).optional(),
    }),
    out: z.object({ check: z.unknown(), notes: z.array(z.string()), title: z.string(), block: z.string() }),
  },
  /** Takes the session out of an intact parcel into the folder, under a name of its own. */
  "parcel.adopt": {
    in: z.object({ name: text(200), content: text(200_000_000) }),
    out: z.object({ id: z.string() }),
  },
  /** The result as it would be with other limits, rule, lifters or temperatures; the record stays as it is. */
  "session.whatIf": { in: z.object({ whatIf }), out: z.object({ result: z.unknown() }) },
  /** Which lifter goes where (`pairingSchema`); `notes` stand in for the job's, lifter by lifter. */
  "session.pairing": {
    in: z.object({ whatIf: whatIf.optional(), notes: z.record(id, lifterNote).default({}) }),
    out: z.object({ pairing: z.unknown() }),
  },
  /** What to do with each bore (`remedySchema`); `lifter` is a body size to plan bushes and bodies for. */
  "session.remedy": {
    in: z.object({
      whatIf: whatIf.optional(),
      notes: z.record(id, lifterNote).default({}),
      lifter: length.optional(),
    }),
    out: z.object({ remedy: z.unknown() }),
  },
  /** Estimates for planning: running clearance, leak past the lifter, tilt (`planningSchema`). */
  "session.planning": {
    in: z.object({ whatIf: whatIf.optional(), assumptions: planningAssumptions.default({}) }),
    out: z.object({ planning: z.unknown() }),
  },
  /**
   * The open session laid over an earlier one of the list (`comparisonSchema`); `newLifters` says that the lifters are
   * others than the earlier one's that bear the same names.
   */
  "session.compare": {
    in: z.object({ earlier: id, newLifters: z.boolean().default(false) }),
    out: z.object({ comparison: z.unknown() }),
  },
  /**
   * What the open session says of its gauge: `report` as of `borewright study --json`. `table` holds the readings so
   * far when the session was recorded as a gauge study (null in an ordinary walk), `due` how many are missing.
   */
  "session.study": {
    in: z.object({}),
    out: z.object({ report: z.unknown(), table: studyReadings.nullable(), due: z.number().int() }),
  },
  /** Reads a gauge study's file; `band`, a length with its unit, stands in for the file's own. */
  "study.read": {
    in: z.object({ content: text(5_000_000), band: text(40).optional() }),
    out: z.object({ report: z.unknown() }),
  },
  /** Settings of this bench as they were kept; null when none were. What they mean is the page's. */
  "settings.read": { in: z.object({}), out: z.object({ settings: z.record(z.string(), z.unknown()).nullable() }) },
  "settings.keep": { in: z.object({ settings: z.record(text(100), z.unknown()) }), out: z.object({}) },
  /** Listens to a foot switch on a serial line; `switch` events follow. */
  "switch.connect": { in: z.object({ settings: portSettings }), out: z.object({}) },
  "switch.disconnect": { in: z.object({}), out: z.object({}) },
  "ports.list": { in: z.object({}), out: z.object({ ports: z.array(portEntry) }) },
  "gauge.connect": { in: z.object({ gauge: id, settings: portSettings }), out: z.object({}) },
  "gauge.disconnect": { in: z.object({ gauge: id }), out: z.object({}) },
  /**
   * Opens ports to find out how a gauge speaks; `teaching` events follow until `gauge.teachStop`. With several, the one
   * that speaks after a quiet second is it, and the others are let go.
   */
  "gauge.teach": {
    in: z.object({
      paths: z.array(text(1000).min(1)).min(1).max(32),
      start: serialSetting.optional(),
      search: z.boolean().default(true),
      unit: z.enum(["in", "mm"]).optional(),
    }),
    out: z.object({}),
  },
  /** Of several ports, this one is it. */
  "gauge.teachTake": { in: z.object({ path: text(1000).min(1) }), out: z.object({}) },
  /** A person says how the port is to be opened, what the unit is, or that the search is to go on. */
  "gauge.teachHand": {
    in: z.object({
      setting: serialSetting.optional(),
      unit: z.enum(["in", "mm"]).nullable().optional(),
      search: z.boolean().optional(),
    }),
    out: z.object({}),
  },
  /** Writes a request to the gauge being taught. */
  "gauge.teachAsk": { in: z.object({ text: text(40).min(1) }), out: z.object({}) },
  "gauge.teachStop": { in: z.object({}), out: z.object({}) },
  /** Keeps what was taught for the next job that has this gauge. */
  "profile.keep": {
    in: z.object({ gauge: id, settings: portSettings, taught: taughtGauge }),
    out: z.object({}),
  },
  /** Forgets the port of a gauge and what was taught of it. */
  "profile.forget": { in: z.object({ gauge: id }), out: z.object({}) },
  /** Raw traffic of every port from number `after` on; while it is being watched, `traffic` events follow. */
  "traffic.watch": { in: z.object({ on: z.boolean(), after: z.number().int().min(0).default(0) }), out: z.object({}) },
  /**
   * Lets the simulated person start or stop working; only with simulated gauges. `alone`: every next step is taken for
   * them as well, else they do the step that is chosen and wait.
   */
  "simulate.run": { in: z.object({ run: z.boolean(), alone: z.boolean().default(true) }), out: z.object({}) },
} as const;

export type MethodName = keyof typeof methods;
export type MethodInput<M extends MethodName> = z.input<(typeof methods)[M]["in"]>;
export type MethodOutput<M extends MethodName> = z.output<(typeof methods)[M]["out"]>;

/** Every answer crosses the bridge as data, since errors lose their fields between processes. */
export type Envelope<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly code: string; readonly message: string };

/** A live reading for the strip and the trace; not measurement, only what is seen. */
export interface LiveReading {
  readonly gauge: string;
  readonly tMs: number;
  readonly valueNm: Nm | null;
  readonly line: string;
}

/** The teaching of a gauge as it stands. */
export interface TeachingNow {
  /** Every port listened to; one once the gauge's own is found. */
  readonly ports: readonly {
    readonly path: string;
    readonly label: string;
    /** `talks` by itself from the opening on, which a gauge that streams does as well. */
    readonly state: "quiet" | "talks" | "trouble";
    /** Why it can not be opened; null unless `state` is `trouble`. */
    readonly why: string | null;
  }[];
  /** The gauge's own port; null while it is looked for. */
  readonly chosen: string | null;
  /** Null while the port is looked for. */
  readonly teach: TeachView | null;
}

/** One line, request or event of a port. */
export interface TrafficEntry {
  /** 1, 2, 3 … since the program was started. */
  readonly n: number;
  /** Time of the computer, ISO 8601. */
  readonly at: string;
  readonly path: string;
  /** From the gauge, to the gauge, or about the port itself. */
  readonly direction: "in" | "out" | "port";
  /** Bytes in hexadecimal with their line end, at most 256 of them; empty for the port itself. */
  readonly hex: string;
  readonly text: string;
  /** Null where it is no reading; then `why` says why, if it came from the gauge. */
  readonly understood: string | null;
  readonly why: string | null;
}

/** A file that a person opened with the program from outside the window, once it was taken: or why it was not. */
export type Given =
  | { readonly kind: "session"; readonly name: string; readonly id: string }
  /** `content` is the parcel in base64; it is unchecked. */
  | { readonly kind: "parcel"; readonly name: string; readonly content: string }
  | { readonly kind: "refused"; readonly name: string; readonly why: string };

/** What the host tells the page without being asked. */
export type HostEvent =
  /** The open session, or null when none is; sent on every change of session and on connection. */
  | { readonly type: "session"; readonly session: OpenSession | null }
  /**
   * A fresh snapshot after something changed; at most 100 a second unless an outcome came with it. The findings, by far
   * its largest part, are left out while they are those of the snapshot before (that of the session, for the first),
   * and follow a little later where a station was closed.
   */
  | { readonly type: "view"; readonly view: ViewChange }
  /** What just happened, after its record is on disk. */
  | { readonly type: "outcome"; readonly outcome: Outcome }
  /** Live readings since the last such event, at most 100 events a second. */
  | { readonly type: "readings"; readonly readings: readonly LiveReading[] }
  /**
   * Saving: `pending` records not yet on disk, the oldest for `pendingMs` (ms; absent when none is or nobody knows);
   * `trouble` is the loud NOT SAVED; `cured` says how the last one ended.
   */
  | {
      readonly type: "saved";
      readonly pending: number;
      readonly pendingMs?: number;
      readonly trouble: string | null;
      readonly cured?: string;
    }
  /** The foot switch came, went, or (with `line`) a pedal of it was pressed. */
  | { readonly type: "switch"; readonly link: LinkState; readonly path: string | null; readonly line?: string }
  | { readonly type: "ports"; readonly ports: readonly z.infer<typeof portEntry>[] }
  /** How far the teaching of a gauge is; null once it is over. */
  | { readonly type: "teaching"; readonly teaching: TeachingNow | null }
  | { readonly type: "profiles"; readonly profiles: readonly RememberedGauge[] }
  /** What went over the ports since the last such event, oldest first. */
  | { readonly type: "traffic"; readonly entries: readonly TrafficEntry[] }
  | { readonly type: "sessions"; readonly sessions: readonly z.infer<typeof sessionEntry>[] }
  | { readonly type: "given"; readonly given: Given };

export interface OpenSession {
  readonly id: string;
  readonly name: string;
  readonly readOnly: boolean;
  /** Simulated gauges were connected at some time, by the record: it proves nothing about a block. */
  readonly simulated: boolean;
  /** Simulated gauges are there now, and hands that can work with them. */
  readonly simulating: boolean;
  /** The session it was derived from, as its header names it; absent for one recorded at the bench. */
  readonly derivedFrom?: { readonly name: string; readonly created: string; readonly seal: string };
  /** The job with every default filled in, as in the header of the file. */
  readonly job: Record<string, unknown>;
  readonly view: SessionView;
}

/** What the page holds of either shell. */
export interface Bridge {
  call<M extends MethodName>(method: M, input: MethodInput<M>): Promise<Envelope<MethodOutput<M>>>;
  /** Returns the function that stops listening. */
  listen(onEvent: (event: HostEvent) => void): () => void;
}
