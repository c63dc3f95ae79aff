import { create } from "zustand";
import type { GaugeRole } from "../../core/gauge/profile.ts";
import type { JobFile } from "../../core/session/jobFile.ts";
import type { SettingsStorage } from "../store/settings.ts";

export type DraftGauge = NonNullable<JobFile["gauges"]>[number];

/** What is wrong with the draft: where, as a path of the job file (empty = the whole), and what. */
export interface DraftError {
  readonly path: string;
  readonly message: string;
}

/** The job being written; going to another place and back keeps it. */
export interface Draft {
  readonly file: JobFile;
  readonly error: DraftError | null;
  change(part: Partial<JobFile>): void;
  changeGauge(role: GaugeRole, part: Partial<DraftGauge>): void;
  setError(error: DraftError | null): void;
  replace(file: JobFile): void;
}

const NEW_GAUGE: Readonly<Record<GaugeRole, DraftGauge>> = {
  bore: {
    id: "bore",
    role: "bore",
    sends: "stream",
    unit: "in",
    resolution: "0.00005 in",
    polarity: "+",
    line: "auto",
  },
  micrometer: { id: "mic", role: "micrometer", sends: "press", unit: "in", resolution: "0.00005 in", line: "auto" },
};

/** A job as it is before anything is chosen, with the gauges that were kept from the last one. */
export function newDraft(gauges: readonly DraftGauge[] | null): JobFile {
  return {
    format: "borewright/job",
    version: 1,
    title: "",
    block: "",
    operator: "",
    layout: "v8-alternate",
    walk: "bank",
    stations: [
      { height: "upper", clock: "axial" },
      { height: "lower", clock: "axial" },
    ],
    lifter: { style: "flat", nominal: "0.8420 in" },
    gauges: gauges === null ? [NEW_GAUGE.bore, NEW_GAUGE.micrometer] : [...gauges],
  };
}

export const useDraft = create<Draft>()((set, get) => ({
  file: newDraft(null),
  error: null,
  change(part) {
    set({ file: without({ ...get().file, ...part }) });
  },
  changeGauge(role, part) {
    const gauges = get().file.gauges ?? [];
    const found = gauges.find((gauge) => gauge.role === role);
    const changed = without({ ...(found ?? NEW_GAUGE[role]), ...part });
    get().change({
      gauges: found === undefined ? [...gauges, changed] : gauges.map((gauge) => (gauge === found ? changed : gauge)),
    });
  },
  setError(error) {
    set({ error });
  },
  replace(file) {
    set({ file, error: null });
  },
}));

/** Drops fields set to undefined: in a job file they are simply not there. */
function without<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, field]) => field !== undefined)) as T;
}

/** Splits what the host says of a job ("limits.low: found …") into path and sentence. */
export function draftError(message: string): DraftError {
  const match = /^([A-Za-z][\w.-]*(?:\[\d+\][\w.-]*)*): (.+)$/s.exec(message);
  if (match === null) return { path: "", message };
  return { path: match[1] ?? "", message: match[2] ?? message };
}

/** The error of a field of the draft, or of something inside it. */
export function errorAt(error: DraftError | null, path: string): string | null {
  if (error === null || path === "") return null;
  const inside = error.path === path || error.path.startsWith(`${path}.`) || error.path.startsWith(`${path}[`);
  return inside ? error.message : null;
}

const KEY = "borewright.gauges";

/** The gauges of the last job, for the next one; null if none are kept or they make no sense. */
export function readKeptGauges(storage: SettingsStorage): readonly DraftGauge[] | null {
  try {
    const kept: unknown = JSON.parse(storage.getItem(KEY) ?? "null");
    const sound =
      Array.isArray(kept) &&
      kept.length > 0 &&
      kept.every((one) => typeof one === "object" && one !== null && typeof one.id === "string") &&
      kept.some((one) => one.role === "bore");
    return sound ? (kept as DraftGauge[]) : null;
  } catch {
    return null;
  }
}

/** Keeps the gauges for the next job; a forbidden storage is tolerated. */
export function keepGauges(storage: SettingsStorage, gauges: readonly DraftGauge[]): void {
  try {
    storage.setItem(KEY, JSON.stringify(gauges));
  } catch {
    // They are chosen again next time.
  }
}
