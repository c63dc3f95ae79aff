import { formatLength } from "../length/formatLength.ts";
import { toNm } from "../length/nm.ts";

/** A clearance or another small length (nm) as a sentence states it: micrometres, and inches to what still shows it. */
export function smallLength(nm: number): string {
  const length = toNm(nm);
  const decimals = Math.abs(length) < 254 ? 6 : 5;
  return `${formatLength(length, "um", 1)} µm (${formatLength(length, "in", decimals)} in)`;
}

/** A range of small lengths (nm), the same way. */
export function smallRange(lowNm: number, highNm: number): string {
  const [low, high] = [toNm(lowNm), toNm(highNm)];
  const inches = `${formatLength(low, "in", 5)} to ${formatLength(high, "in", 5)} in`;
  return `${inches} (${formatLength(low, "um", 1)} to ${formatLength(high, "um", 1)} µm)`;
}

/** A diameter (nm) as a sentence states it. */
export function diameterText(nm: number): string {
  return `${formatLength(toNm(nm), "in", 5)} in (${formatLength(toNm(nm), "mm", 4)} mm)`;
}
