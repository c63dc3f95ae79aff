import type { LiveReading } from "../../core/bridge/messages.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { Job } from "../../core/session/job.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";

/**
 * A bench made up for looking at screens: the program's own reducer, fed with the lines of an invented stream. Lengths
 * in nm. It knows nothing of noise; the scatter of the stations is what its caller asks for.
 */
export class BoresBench {
  readonly job: Job;
  readonly jobFile: Record<string, unknown>;
  readonly run: SessionRun;
  readonly outcomes: Outcome[] = [];
  readings: LiveReading[] = [];
  tMs = 0;
  readonly #everyMs = 50;

  constructor(jobFile: Record<string, unknown>) {
    this.jobFile = { format: "borewright/job", version: 1, ...jobFile };
    this.job = parseJob(this.jobFile);
    this.run = new SessionRun(this.job);
    for (const gauge of this.job.gauges) this.#apply({ type: "link", t: this.tMs, gauge: gauge.id, link: "open" });
  }

  #apply(event: Parameters<SessionRun["apply"]>[0]): void {
    this.outcomes.push(...this.run.apply(event));
    const due = this.run.guideNext();
    if (due?.auto === true)
      this.outcomes.push(...this.run.apply({ type: "step", t: this.tMs, step: due.step, by: "guide" }));
  }

  act(event: Record<string, unknown> & { type: string }): void {
    this.#apply({ ...event, t: this.tMs } as Parameters<SessionRun["apply"]>[0]);
  }

  line(valueNm: number, gauge = "bore"): void {
    const text = formatLength(Math.round(valueNm) as Nm, "in", 5, true);
    this.#apply({ type: "line", t: this.tMs, gauge, line: text });
    if (gauge === "bore") {
      this.readings.push({ gauge, tMs: this.tMs, valueNm: Math.round(valueNm) as Nm, line: text });
      this.readings = this.readings.filter((one) => one.tMs > this.tMs - 21_000);
    }
    this.tMs += this.#everyMs;
  }

  /** Rocks the gauge through `passes` minima at `footNm`, the k-th one off by `offsNm[k]`. */
  rock(footNm: number, passes: number, offsNm: readonly number[] = []): void {
    const half = 14;
    for (let pass = 0; pass < passes; pass += 1) {
      for (let k = -half / 2; k < half / 2; k += 1) {
        const tilt = Math.sin((k / half) * Math.PI);
        this.line(footNm + (offsNm[pass] ?? 0) + 90_000 * tilt * tilt);
      }
    }
  }

  /** Out of the bore for a while. */
  withdraw(ms = 1000): void {
    for (let k = 0; k < ms / this.#everyMs; k += 1) this.line(900_000);
  }

  zero(lifter = "1I"): void {
    this.act({ type: "step", step: "zero", lifter });
    this.rock(-3_810, 4, [300, 0, -200, 100]);
    this.withdraw(1500);
  }

  /** Measures the station that is open now with the given clearance. */
  station(clearanceNm: number, passes = 5): void {
    this.rock(-3_810 + clearanceNm, passes, [400, -300, 0, 200, -100]);
    this.withdraw();
  }

  /** Measures on until `stations` stations are closed; the clearance comes from a fixed pattern about the limits. */
  walk(stations: number, clearance: (index: number) => number): void {
    for (let index = 0; index < stations; index += 1) {
      if (this.run.view().step === "return") this.returnCheck();
      this.station(clearance(index));
      if (this.run.view().step === "return") this.returnCheck();
    }
  }

  returnCheck(movedNm = 400): void {
    this.rock(-3_810 + movedNm, 4, [200, 0, -200, 100]);
    this.withdraw(1500);
  }
}

/** An invented block: most bores fit, a few are tight, loose or near a limit. */
export function inventedClearance(index: number): number {
  const bore = Math.floor(index / 2);
  const pattern = [40, 41.5, 39, 42, 52.5, 40.5, 38.8, 41, 29, 40, 44, 47.5, 40.6, 39.7, 43, 33.4];
  return (pattern[bore % pattern.length] as number) * 1000 + (index % 2) * 700;
}
