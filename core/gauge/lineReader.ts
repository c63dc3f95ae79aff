import type { Nm } from "../length/nm.ts";
import { decimalNm } from "../length/parseLength.ts";
import type { GaugeUnit } from "../length/unit.ts";
import { Habit } from "./habit.ts";
import { LINE_FORMATS, type LineFormat, unitOfMark } from "./lineFormats.ts";
import type { GaugeProfile } from "./profile.ts";
import { Steady } from "./steady.ts";
import { StepOfFive } from "./stepOfFive.ts";
import { whyNotUnderstood } from "./whyNotUnderstood.ts";

/** A line understood. */
export interface Understood {
  readonly ok: true;
  /** The reading, nm, signed, the profile's polarity applied: it grows as the measured size grows. */
  readonly valueNm: Nm;
  /** The same as displayed, before polarity. */
  readonly displayNm: Nm;
  /** Digits after the point, 1 to 6. */
  readonly decimals: number;
  /** The unit the line itself names, which it was read in; null when it names none. */
  readonly unitMark: GaugeUnit | null;
  readonly channel: string | null;
}

/** A line that is no reading, with the reason in a few words. It is counted and shown, never guessed at. */
export interface NotUnderstood {
  readonly ok: false;
  readonly why: string;
}

/** Turns the lines of one gauge into readings. */
export interface LineReader {
  /** The format its lines have been found to have; null before the first line that any format of the profile fits. */
  readonly format: LineFormat["name"] | null;
  read(line: string): Understood | NotUnderstood;
}

/** The part of a line around its number. */
interface Frame {
  readonly format: LineFormat;
  readonly channel: string;
  /** Whether lines name their unit. */
  readonly marked: boolean;
}

const sameFrame = (a: Frame, b: Frame): boolean =>
  a.format === b.format && a.channel === b.channel && a.marked === b.marked;

/** How the number itself is written; apart for each unit, since a display that changes unit changes its decimals. */
class NumberHabits {
  readonly decimals = { in: new Habit<number>(), mm: new Habit<number>(), none: new Habit<number>() };
  /** Digits before the point. */
  readonly whole = { in: new Steady<number>(), mm: new Steady<number>(), none: new Steady<number>() };
  readonly fives = { in: new StepOfFive(), mm: new StepOfFive(), none: new StepOfFive() };
  /** Blanks before a number without a sign, and before one with a minus: a lost minus moves or leaves a blank. */
  readonly indent = { none: new Steady<number>(), minus: new Steady<number>() };
  /** Digits before the point where they are filled up with zeros; 0 where they are not. */
  readonly filled = new Habit<number>();
  /** Whether a number above zero carries a plus. */
  readonly plus = new Habit<boolean>();
}

const not = (why: string): NotUnderstood => ({ ok: false, why });

/**
 * A reader for a gauge's lines, in the profile's format or, with `auto`, in the one that its first lines have.
 *
 * What the lines agree on is settled by the first two that agree, and never changes for this reader: format, channel,
 * whether the unit is named, the number of decimals (for each unit), whether whole digits are filled up with zeros,
 * whether a plus is sent. A line that differs is not understood, since a lost, doubled or inserted character looks
 * just so. Before that a line that differs from the first is not understood either, but counts: if the next is like
 * it, the first was the damaged one. So a damaged first line costs at most one good reading.
 *
 * The number of digits before the point may rightly change, at 10.000 for example, and so may the blanks that align
 * a number: such a line is not understood the first time, and is the second time in a row. A last digit that is neither
 * 0 nor 5 is damage, once a display that by the profile counts in fives has shown that it does.
 *
 * A line that names its unit is read in that unit, whatever the profile says, and says so in `unitMark`.
 * What can not be refused is listed at `LINE_FORMATS`.
 */
export function createLineReader(profile: GaugeProfile): LineReader {
  const candidates = profile.line === "auto" ? LINE_FORMATS : LINE_FORMATS.filter(({ name }) => name === profile.line);
  const frames = new Habit<Frame>(sameFrame);
  let numbers = new NumberHabits();

  function understand(format: LineFormat, groups: Record<string, string | undefined>): Understood | NotUnderstood {
    const { indent = "", sign = "", whole = "", fraction = "", mark = "", channel = "" } = groups;
    const unitMark = mark === "" ? null : unitOfMark(mark);

    const misframed = checkFrame(format, channel, unitMark !== null);
    if (misframed !== null) return not(misframed);

    // Every habit hears of every line, or a damaged first one would cost more than one good one.
    const miswritten = [
      checkDecimals(fraction.length, unitMark),
      checkWhole(format, whole, unitMark),
      checkIndent(sign, indent.length),
      checkStep(whole + fraction, fraction.length, unitMark),
    ].find((complaint) => complaint !== null);
    if (miswritten !== undefined) return not(miswritten);

    const displayNm = decimalNm(sign, whole, fraction, unitMark ?? profile.unit);
    if (displayNm === null) return not("too large to be a length");
    // Zero needs no sign, with any gauge; below zero there is no choice.
    if (sign === "+" || (sign === "" && displayNm !== 0)) {
      const expected = numbers.plus.admits(sign === "+");
      if (!expected && numbers.plus.settled !== null) {
        return not(sign === "" ? "its sign is missing" : "a plus where this gauge sends none");
      }
    }
    const valueNm = profile.polarity === 1 || displayNm === 0 ? displayNm : (-displayNm as Nm);
    return {
      ok: true,
      valueNm,
      displayNm,
      decimals: fraction.length,
      unitMark,
      channel: channel === "" ? null : channel,
    };
  }

  function checkFrame(format: LineFormat, channel: string, marked: boolean): string | null {
    const settled = frames.settled;
    if (settled !== null && settled.format === format && settled.channel === channel && settled.marked === marked) {
      return null;
    }
    const before = frames.likely;
    const admitted = frames.admits({ format, channel, marked });
    if (before === null) return null;
    if (admitted) {
      // The first line was outvoted: what it said about numbers goes with it.
      if (!sameFrame(before, { format, channel, marked })) numbers = new NumberHabits();
      return null;
    }
    if (before.format !== format) return `${format.title}, where this gauge sends ${before.format.title}`;
    if (before.channel !== channel) return `channel ${channel} where this gauge is on ${before.channel}`;
    return marked ? "names a unit where this gauge names none" : "its unit mark is missing";
  }

  function checkDecimals(count: number, unit: GaugeUnit | null): string | null {
    const decimals = numbers.decimals[unit ?? "none"];
    if (decimals.admits(count)) return null;
    const hint = unit === null ? "; switched between inch and millimetre?" : "";
    return `${count} decimals where this gauge sends ${decimals.likely}${hint}`;
  }

  function checkIndent(sign: string, blanks: number): string | null {
    if (sign === "+" || numbers.plus.settled === true) return null;
    const { none, minus } = numbers.indent;
    (sign === "" ? minus : none).pass();
    const admitted = (sign === "" ? none : minus).admits(blanks);
    return admitted ? null : "moved by a blank, as a lost sign would move it";
  }

  function checkStep(digits: string, decimals: number, unit: GaugeUnit | null): string | null {
    const five = decimalNm("", "", "5".padStart(decimals, "0"), unit ?? profile.unit);
    if (five !== profile.resolutionNm) return null;
    return numbers.fives[unit ?? "none"].admits(Number(digits))
      ? null
      : `ends in ${digits.at(-1)} where this gauge counts in fives`;
  }

  function checkWhole(format: LineFormat, whole: string, unit: GaugeUnit | null): string | null {
    const filled = numbers.filled;
    if (format.fixedWidth) {
      return filled.admits(whole.length)
        ? null
        : `${whole.length} digits before the point where this gauge sends ${filled.likely}`;
    }
    const digits = numbers.whole[unit ?? "none"];
    for (const other of Object.values(numbers.whole)) if (other !== digits) other.pass();
    const before = digits.value;
    const steady = digits.admits(whole.length);
    const leadingZero = whole.length > 1 && whole.startsWith("0");
    if (filled.settled === null) {
      // Zeros in front change no value, so both ways pass until one is settled.
      if (leadingZero) filled.admits(whole.length);
      else if (whole.length <= 1) filled.admits(0);
    } else if (filled.settled === 0) {
      if (leadingZero) return "a zero too many in front";
    } else if (whole.length !== filled.settled) {
      return `${whole.length} digits before the point where this gauge sends ${filled.settled}`;
    }
    return steady ? null : `${whole.length} digits before the point after ${before}; believed when it comes again`;
  }

  return {
    get format() {
      return frames.likely?.format.name ?? null;
    },
    read(line) {
      const settled = frames.settled?.format;
      const match = settled?.pattern.exec(line);
      if (settled && match?.groups) return understand(settled, match.groups);
      for (const format of candidates) {
        const groups = format.pattern.exec(line)?.groups;
        if (groups !== undefined) return understand(format, groups);
      }
      return not(whyNotUnderstood(line, profile.line));
    },
  };
}
