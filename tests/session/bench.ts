import type { SessionInput } from "../../core/session/event.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { Recording } from "../../core/session/recording.ts";

/** A job file for tests: four bores of an inline four in own order, pressed readings in mm of 1 µm. */
export function jobFile(change: Record<string, unknown> = {}): Record<string, unknown> {
  return {
    format: "borewright/job",
    version: 1,
    title: "Test block",
    layout: "i4",
    walk: ["1E", "1I", "2I", "2E"],
    stations: [
      { height: "upper", clock: "axial" },
      { height: "lower", clock: "axial" },
    ],
    lifter: { style: "flat", nominal: "21.400 mm" },
    limits: { low: "33 um", high: "48 um", preferredLow: "38 um", preferredHigh: "43 um", source: "test" },
    rule: "simple",
    agreement: "2.5 um",
    zeroHold: "2.5 um",
    returnCheckEvery: 2,
    gauges: [
      { id: "bore", role: "bore", sends: "press", unit: "mm", resolution: "0.001 mm" },
      { id: "mic", role: "micrometer", sends: "press", unit: "mm", resolution: "0.001 mm" },
    ],
    ...change,
  };
}

/** Writes micrometres as a gauge in millimetres shows them. */
export function asLine(micrometres: number): string {
  const sign = micrometres < 0 ? "-" : "+";
  return `${sign}${(Math.abs(micrometres) / 1000).toFixed(3)}`;
}

/** A recording fed by short commands; keeps every outcome and the file's text. */
export class Bench {
  readonly recording: Recording;
  readonly outcomes: Outcome[] = [];
  text: string;
  t = 0;

  constructor(file: Record<string, unknown> = jobFile()) {
    parseJob(file);
    this.recording = Recording.begin({ job: file, createdIso: "2026-01-02T03:04:05.000Z", app: "test 0" });
    this.text = this.recording.headerText;
  }

  feed(input: Record<string, unknown> & { type: SessionInput["type"] }, after = 500): readonly Outcome[] {
    this.t += after;
    const { text, outcomes } = this.recording.record({ t: this.t, ...input } as unknown as SessionInput);
    this.text += text;
    this.outcomes.push(...outcomes);
    return outcomes;
  }

  /** Presses of the bore gauge, µm. */
  press(...micrometres: number[]): Outcome[] {
    return micrometres.flatMap((value) => [...this.feed({ type: "line", gauge: "bore", line: asLine(value) })]);
  }

  mic(...millimetres: number[]): void {
    for (const value of millimetres) this.feed({ type: "line", gauge: "mic", line: `+${value.toFixed(3)}` });
  }

  step(step: string, more: Record<string, unknown> = {}): readonly Outcome[] {
    return this.feed({ type: "step", step, ...more });
  }

  /** A zero of three equal presses. */
  zero(micrometres = 0): void {
    this.step("zero", { lifter: "1E" });
    this.press(micrometres, micrometres, micrometres);
  }

  get here(): string | null {
    const { here } = this.recording.view();
    return here === null ? null : `${here.bore} ${here.place.height} ${here.place.clock}`;
  }

  codes(): string[] {
    return this.recording.run.notices.filter((notice) => notice.curedMs === undefined).map((notice) => notice.code);
  }

  bore(name: string) {
    const found = this.recording.run.findings().find((finding) => finding.name === name);
    if (found === undefined) throw new Error(`no bore ${name}`);
    return found;
  }
}
