import type { GaugeUnit } from "../length/unit.ts";
import type { LineFormatName } from "./profile.ts";

/**
 * One way in which gauges write a reading. To add one: add its name to `LineFormatName` and its definition here, with
 * a pattern that no other format's lines match (a test holds every example against every pattern).
 */
export interface LineFormat {
  readonly name: Exclude<LineFormatName, "auto">;
  /** What it is, in words for the Gauges place. */
  readonly title: string;
  /** Lines of this format, for tests and for the Gauges place. */
  readonly examples: readonly string[];
  /**
   * Matches a whole line. Groups: `indent` (blanks in front), `sign`, `whole` (digits before the point), `fraction` (digits after it, at least
   * one: a whole number is never a reading of this fit, and a number whose point was lost would look like one),
   * `mark` (unit), `channel`. All but `fraction` may be empty or left out.
   */
  readonly pattern: RegExp;
  /**
   * True when every line has as many digits before the point as the first ones had. Such a line is protected against
   * a lost or doubled character anywhere.
   */
  readonly fixedWidth: boolean;
}

// Six places hold the finest display there is (0.000005 in) and lose nothing in nanometres; seven whole digits keep
// the value below 2^53 nm.
const SIGN = "(?<sign>[+-]?)";
const WHOLE = "(?<whole>\\d{0,7})";
const FRACTION = "(?<fraction>\\d{1,6})";
const MARK = '(?<mark>mm|inch|in|")';
const wholeLine = (pattern: string) => new RegExp(`^(?<indent>[ \\t]*)${pattern}[ \\t]*$`, "i");

/**
 * The formats that gauges write (common practice, no source: no standard fixes one).
 *
 * What no format can refuse by itself, as none has a check sum: a digit replaced by another digit or exchanged with its
 * neighbour, and a plus replaced by a minus or the other way round. What a gauge that sends no plus can not show either:
 * a minus lost or inserted, unless a blank stands in its place otherwise. `LineReader` refuses the rest; only a change
 * of the digits before the point is believed when it comes twice in a row. `npm run long -- fuzz-lines` measures the
 * shares.
 */
export const LINE_FORMATS: readonly LineFormat[] = [
  {
    name: "decimal",
    title: "signed decimal",
    examples: ["+0.00150", "-0.00015", "  21.387", "-.0012"],
    pattern: wholeLine(`${SIGN}${WHOLE}\\.${FRACTION}`),
    fixedWidth: false,
  },
  {
    name: "decimal-unit",
    title: "signed decimal with its unit",
    examples: ["+0.00150 in", "-0.012mm", "0.8427 INCH", '0.8427"'],
    pattern: wholeLine(`${SIGN}${WHOLE}\\.${FRACTION}[ \\t]*${MARK}`),
    fixedWidth: false,
  },
  {
    name: "decimal-comma",
    title: "signed decimal with a comma, with or without its unit",
    examples: ["+0,00150", "-0,012 mm", "21,387"],
    pattern: wholeLine(`${SIGN}${WHOLE},${FRACTION}(?:[ \\t]*${MARK})?`),
    fixedWidth: false,
  },
  {
    name: "channel-tagged",
    title: "channel, the letter A, sign and value",
    examples: ["01A+0000.1234", "02A-0012.345"],
    pattern: /^[ \t]*(?<channel>\d{2})A(?<sign>[+-])(?<whole>\d{1,7})\.(?<fraction>\d{1,6})[ \t]*$/,
    fixedWidth: true,
  },
];

/** The unit that a unit mark stands for, whatever its case. */
export function unitOfMark(mark: string): GaugeUnit {
  return mark.toLowerCase() === "mm" ? "mm" : "in";
}
