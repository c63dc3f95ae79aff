import type { LineFormatName, Polarity } from "../../core/gauge/profile.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { type GaugeUnit, NM_PER } from "../../core/length/unit.ts";
import type { Random } from "./random.ts";

/** A digital indicator as it really is, which need not be what the job says of it. Lengths in nm. */
export interface Indicator {
  polarity: Polarity;
  /** Change of measured size for each unit that the display changes by; 1 for a perfect one. */
  gain: number;
  unit: GaugeUnit;
  resolutionNm: number;
  /** Measured size at which the display shows zero, where its zero happens to stand. */
  zeroSizeNm: number;
  /** How fast the display creeps with the size unchanged, nm a minute. */
  driftNmPerMinute: number;
  /** Standard deviation of each reading. */
  noiseNm: number;
  /** Ends of travel, as measured size less `zeroSizeNm`; beyond them the display stands still. */
  travelLowNm: number;
  travelHighNm: number;
  /** Error of the scale along the travel: a wave of this amplitude, length and start (radians). */
  waveNm: number;
  waveLengthNm: number;
  waveStart: number;
  line: Exclude<LineFormatName, "auto">;
  /** Channel of a `channel-tagged` line, two digits. */
  channel: string;
  terminator: "\r" | "\n" | "\r\n";
}

/**
 * What the display shows (nm in its own sense of counting, before rounding to its resolution) of a true size
 * (nm between the contacts) at `tMs`; `noise` draws the scatter of this reading, null = none.
 * With contacts at an end of travel there is neither scatter nor creep: they stand against a stop.
 */
export function shown(indicator: Indicator, sizeNm: number, tMs: number, noise: Random | null): number {
  const travel = sizeNm - indicator.zeroSizeNm;
  if (travel >= indicator.travelHighNm) return (indicator.polarity * indicator.travelHighNm) / indicator.gain;
  if (travel <= indicator.travelLowNm) return (indicator.polarity * indicator.travelLowNm) / indicator.gain;
  const wave =
    indicator.waveNm === 0
      ? 0
      : indicator.waveNm * Math.sin((2 * Math.PI * travel) / indicator.waveLengthNm + indicator.waveStart);
  const creep = (indicator.driftNmPerMinute * tMs) / 60_000;
  const scatter = noise === null || indicator.noiseNm === 0 ? 0 : noise.normal(indicator.noiseNm);
  return (indicator.polarity * (travel + wave + creep + scatter)) / indicator.gain;
}

/** Rounds to the display's resolution (nm), halves away from zero. */
export function quantised(indicator: Indicator, shownNm: number): Nm {
  const steps = Math.round(Math.abs(shownNm) / indicator.resolutionNm) * Math.sign(shownNm);
  return toNm(steps * indicator.resolutionNm);
}

/** Decimal places with which a display of this resolution (nm) and unit writes every one of its steps exactly. */
export function decimalsOf(resolutionNm: number, unit: GaugeUnit): number {
  for (let decimals = 0; decimals < 9; decimals += 1) {
    if ((resolutionNm * 10 ** decimals) % NM_PER[unit] === 0) return decimals;
  }
  return 9;
}

/** The line (without its end) that an indicator sends for a display value (nm, in its own sense, already rounded). */
export function lineOf(indicator: Indicator, displayNm: Nm): string {
  const decimals = decimalsOf(indicator.resolutionNm, indicator.unit);
  const digits = formatLength(toNm(Math.abs(displayNm)), indicator.unit, decimals);
  const sign = displayNm < 0 ? "-" : "+";
  switch (indicator.line) {
    case "decimal":
      return `${sign}${digits}`;
    case "decimal-unit":
      return `${sign}${digits} ${indicator.unit}`;
    case "decimal-comma":
      return `${sign}${digits.replace(".", ",")}`;
    case "channel-tagged": {
      const [whole = "", places = ""] = digits.split(".");
      return `${indicator.channel}A${sign}${whole.padStart(4, "0")}.${places}`;
    }
  }
}
