import type { StationPlace } from "../../core/block/layout.ts";
import type { Ms } from "../../core/gauge/ms.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import type { Job, JobGauge } from "../../core/session/job.ts";
import { chord, tiltedLength } from "./geometry.ts";
import type { Indicator } from "./indicator.ts";
import type { Mishap } from "./mishap.ts";
import type { Contact } from "./pose.ts";
import { Random } from "./random.ts";
import { drawBlock, type TrueBlock, trueDiameter } from "./trueBlock.ts";

/** What a bench may be given instead of its defaults. */
export interface BenchOptions {
  readonly seed: number;
  /** Readings a second of a streaming bore gauge. Default 20. */
  readonly readingsPerSecond?: number;
  /** Standard deviation of each reading of the bore gauge, nm. Default 400. */
  readonly noiseNm?: number;
  /**
   * How large the errors are that no rocking shows (transfer, centring, scale, drift, hand), as a part of what the
   * job's uncertainty budget allows for: 0 = none, 1 = all of it. Default 0.5.
   */
  readonly errorShare?: number;
  /** Radius of the bore gauge's contacts, nm. Default 3 mm. */
  readonly contactRadiusNm?: number;
  /** The block and its lifters as they truly are. Default: drawn to suit the job (`drawBlock`). */
  readonly block?: TrueBlock;
}

/** Temperatures at the bench, °C; `blockC` cools or warms towards `lifterC` with `settlingMinutes`. */
interface BenchTemperatures {
  blockC: number;
  lifterC: number;
  settlingMinutes: number;
}

const DEGREE = Math.PI / 180;

/** Identifies a station of the walk in a map. */
export function stationKey(bore: string, place: StationPlace): string {
  return `${bore} ${place.height} ${place.clock}`;
}

/**
 * Everything on a bench that is not there, as it truly is: block, lifters, gauges, temperatures, and what is going to
 * go wrong. Drawn once from the seed; blunders then change it. It knows no time but what it is told.
 */
export class Bench {
  readonly job: Job;
  readonly seed: number;
  readonly readingsPerSecond: number;
  readonly errorShare: number;
  readonly contactRadiusNm: number;
  readonly block: TrueBlock;
  readonly bore: Indicator;
  readonly boreGauge: JobGauge;
  readonly micrometer: Indicator | null;
  readonly micrometerGauge: JobGauge | null;
  readonly temperatures: BenchTemperatures;
  /** The lifter that the micrometer is set to for every zero. */
  readonly referenceLifter: string;
  /** Error of the gap between the micrometer's faces against the lifter it was set to, nm, signed. */
  readonly transferNm: number;

  /** What goes wrong on the first visit of a station, by `stationKey`. */
  readonly mishaps = new Map<string, Mishap>();
  /** Bore meant → bore the person puts the gauge in by mistake. */
  readonly mistaken = new Map<string, string>();
  /** Error of the reading of a lifter, nm: a thimble read a turn out. */
  readonly misreadLifters = new Map<string, number>();
  /** What the step check's opening falls short by, nm. */
  stepShortNm = 0;
  /** Part of the bore gauge's lines that arrive damaged, 0 … 1. */
  garbledPart = 0;
  /** False when the person neither stops nor withdraws between the stations of a bore. */
  stopsBetweenStations = true;

  readonly #random: Random;

  constructor(job: Job, options: BenchOptions) {
    const { seed, readingsPerSecond = 20, noiseNm = 400, errorShare = 0.5, contactRadiusNm = 3_000_000 } = options;
    if (!(readingsPerSecond >= 1 && readingsPerSecond <= 1000)) {
      throw new RangeError(`${readingsPerSecond} readings a second; expected 1 to 1000`);
    }
    const boreGauge = job.gauges.find((gauge) => gauge.role === "bore");
    const referenceLifter = job.walk[0];
    if (boreGauge === undefined || referenceLifter === undefined) throw new Error("a job has a bore gauge and a walk");
    this.job = job;
    this.seed = seed;
    this.readingsPerSecond = readingsPerSecond;
    this.errorShare = errorShare;
    this.contactRadiusNm = contactRadiusNm;
    this.boreGauge = boreGauge;
    this.micrometerGauge = job.gauges.find((gauge) => gauge.role === "micrometer") ?? null;
    this.referenceLifter = referenceLifter;
    this.#random = new Random(seed);
    this.block = options.block ?? drawBlock(job, this.#random.fork("block"));

    const room = 20 + this.#random.fork("temperature").triangular(1.5);
    this.temperatures = { blockC: room, lifterC: room, settlingMinutes: 20 };

    const gauges = this.#random.fork("gauges");
    this.transferNm = gauges.normal(errorShare * job.budget.transferNm);
    const standing = (job.limits.highNm / 3) * gauges.triangular(1);
    this.bore = {
      ...newIndicator(boreGauge),
      zeroSizeNm: this.micrometerGapNm(referenceLifter, 0) + standing,
      noiseNm,
      driftNmPerMinute: gauges.normal(errorShare * 20),
      // Two places on a wave differ by at most twice its amplitude.
      waveNm: (errorShare * job.budget.indicatorNm) / 2,
      waveStart: gauges.between(0, 2 * Math.PI),
    };
    this.micrometer =
      this.micrometerGauge === null
        ? null
        : {
            ...newIndicator(this.micrometerGauge),
            travelLowNm: 0,
            travelHighNm: Number.POSITIVE_INFINITY,
            noiseNm: noiseNm === 0 ? 0 : 300,
            waveNm: (errorShare * job.budget.micrometerNm) / 2,
            waveLengthNm: 500_000,
            waveStart: gauges.between(0, 2 * Math.PI),
            channel: "02",
          };
  }

  /** A generator for one purpose of whoever works at this bench. */
  fork(name: string): Random {
    return this.#random.fork(name);
  }

  /** °C of the block at `tMs`. */
  blockC(tMs: Ms): number {
    const { blockC, lifterC, settlingMinutes } = this.temperatures;
    return lifterC + (blockC - lifterC) * Math.exp(-tMs / 60_000 / settlingMinutes);
  }

  /** True diameter of a bore at a station, nm at 20 °C. */
  diameterNm(bore: string, place: StationPlace): Nm {
    return toNm(trueDiameter(this.block, this.job, bore, place));
  }

  /** True diameter of a lifter, nm at 20 °C. */
  lifterNm(name: string): Nm {
    const diameter = this.block.lifters.get(name);
    if (diameter === undefined) throw new RangeError(`no lifter ${name} at the simulated bench`);
    return diameter;
  }

  /** Gap of the micrometer set to a lifter and then opened, nm as it is at the lifter's temperature. */
  micrometerGapNm(lifter: string, openedNm: number): number {
    const warm = 1 + this.job.materials.lifter.alpha * 1e-6 * (this.temperatures.lifterC - 20);
    return this.lifterNm(lifter) * warm + openedNm + this.transferNm;
  }

  /** True size between the bore gauge's contacts, nm, held at a tilt (radians) at `tMs`. */
  readonly sizeOf = (contact: Contact, tilt: number, tMs: Ms): number => {
    switch (contact.at) {
      case "air":
        return this.bore.zeroSizeNm + this.bore.travelHighNm + 300_000;
      case "bore": {
        const warm = 1 + this.job.materials.block.alpha * 1e-6 * (this.blockC(tMs) - 20);
        const gap = chord(this.diameterNm(contact.bore, contact.place) * warm, contact.offCentreNm);
        return tiltedLength(gap, this.contactRadiusNm, tilt) + contact.handNm;
      }
      case "micrometer": {
        // Flat faces: a tilt in either plane lengthens, and the two multiply.
        const gap = this.micrometerGapNm(contact.lifter, contact.openedNm);
        const otherWay = tiltedLength(gap, this.contactRadiusNm, contact.otherTilt);
        return tiltedLength(otherWay, this.contactRadiusNm, tilt) + contact.handNm;
      }
    }
  };

  /** The gauge put into a bore once more: how well it is centred and how hard the hand presses, this time. */
  inBore(bore: string, place: StationPlace, random: Random): Contact {
    const shortNm = random.between(0, this.errorShare * this.job.budget.centringNm);
    const diameter = this.diameterNm(bore, place);
    // From D − √(D² − 4e²) = short, to the first order.
    return { at: "bore", bore, place, offCentreNm: Math.sqrt((shortNm * diameter) / 2), handNm: this.#handNm(random) };
  }

  /** The gauge put into the micrometer once more, which is set to the reference lifter and opened by `openedNm`. */
  inMicrometer(openedNm: number, random: Random): Contact {
    const otherTilt = random.normal(this.errorShare * 0.2) * DEGREE;
    return { at: "micrometer", lifter: this.referenceLifter, openedNm, otherTilt, handNm: this.#handNm(random) };
  }

  #handNm(random: Random): number {
    return random.normal(this.errorShare * 200);
  }
}

function newIndicator(gauge: JobGauge): Indicator {
  return {
    polarity: gauge.polarity,
    gain: 1,
    unit: gauge.unit,
    resolutionNm: gauge.resolutionNm,
    zeroSizeNm: 0,
    driftNmPerMinute: 0,
    noiseNm: 0,
    travelLowNm: -1_000_000,
    travelHighNm: 1_000_000,
    waveNm: 0,
    waveLengthNm: 400_000,
    waveStart: 0,
    line: gauge.line === "auto" ? "decimal" : gauge.line,
    channel: "01",
    terminator: "\r",
  };
}
