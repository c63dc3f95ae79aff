import type { Nm } from "../length/nm.ts";
import { parseDecimal } from "../length/parseLength.ts";
import type { GaugeUnit } from "../length/unit.ts";
import { LINE_FORMATS, type LineFormat, unitOfMark } from "./lineFormats.ts";
import type { GaugeProfile } from "./profile.ts";
import { CUT_OFF, NOT_PLAIN } from "./shownByte.ts";

/** A line understood. */
export interface Understood {
  readonly ok: true;
  /** The reading, nm, signed, the profile's polarity applied: it grows as the measured size grows. */
  readonly valueNm: Nm;
  /** The same as displayed, before polarity. */
  readonly displayNm: Nm;
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
  /** The format its lines have been found to have; null before the first understood line of an `auto` profile. */
  readonly format: LineFormat["name"] | null;
  read(line: string): Understood | NotUnderstood;
}

const not = (why: string): NotUnderstood => ({ ok: false, why });

/** What the first understood lines fixed about a gauge's way of writing. */
interface Habit {
  readonly format: LineFormat;
  /** Digits after the point; every display keeps to one count. */
  readonly decimals: number;
  /** Digits before the point, for fixed-width formats. */
  readonly width: number;
  readonly mark: string;
  readonly channel: string;
}

/**
 * A reader for a gauge's lines. With `auto` the first understood line decides the format; from then on every line must
 * be of that format, with as many decimals, the same unit mark and the same channel, and with as many digits before
 * the point where the format is fixed-width. A line that differs is not understood: a lost or doubled character would
 * look just so.
 */
export function createLineReader(profile: GaugeProfile): LineReader {
  const candidates = profile.line === "auto" ? LINE_FORMATS : LINE_FORMATS.filter(({ name }) => name === profile.line);
  let habit: Habit | null = null;

  function understand(format: LineFormat, match: RegExpExecArray): Understood | NotUnderstood {
    const sign = match[1] ?? "";
    const whole = match[2] ?? "";
    const fraction = match[3] ?? "";
    const mark = (match[4] ?? "").toLowerCase();
    const channel = match[5] ?? "";
    if (habit === null) {
      habit = { format, decimals: fraction.length, width: whole.length, mark, channel };
    } else {
      if (fraction.length !== habit.decimals) {
        return not(`${fraction.length} decimals where this gauge sends ${habit.decimals}`);
      }
      if (format.fixedWidth && whole.length !== habit.width) {
        return not(`${whole.length} digits before the point where this gauge sends ${habit.width}`);
      }
      if (mark !== habit.mark) {
        return not(
          mark === "" ? "its unit mark is missing" : `unit mark ${mark} where this gauge sends ${habit.mark || "none"}`,
        );
      }
      if (channel !== habit.channel) return not(`channel ${channel} where this gauge is on ${habit.channel}`);
    }
    const unitMark = mark === "" ? null : unitOfMark(mark);
    const displayNm = parseDecimal(`${sign}${whole}.${fraction}`, unitMark ?? profile.unit);
    if (displayNm === null) return not("a number too large to be a length");
    const valueNm = (profile.polarity === 1 || displayNm === 0 ? displayNm : -displayNm) as Nm;
    return { ok: true, valueNm, displayNm, unitMark, channel: channel === "" ? null : channel };
  }

  function read(line: string): Understood | NotUnderstood {
    if (habit !== null) {
      const match = habit.format.pattern.exec(line);
      return match === null ? not(whyNot(line)) : understand(habit.format, match);
    }
    for (const format of candidates) {
      const match = format.pattern.exec(line);
      if (match !== null) return understand(format, match);
    }
    return not(whyNot(line));
  }

  return {
    get format() {
      return habit?.format.name ?? null;
    },
    read,
  };
}

/** The likeliest reason why a line is no reading, for the person who looks at it. */
function whyNot(line: string): string {
  if (line.endsWith(CUT_OFF)) return "too long for a line, cut off";
  if (NOT_PLAIN.test(line)) return "bytes that are not text: check speed and framing";
  const text = line.trim();
  if (text === "") return "empty";
  if (/^[+-]?\d+$/.test(text)) return "a number without its decimal point";
  if (/e[+-]?\d/i.test(text) && /\d/.test(text)) return "an exponent, which no gauge of this kind sends";
  if ((text.match(/[.,]/g) ?? []).length > 1) return "more than one decimal point";
  if (/\d/.test(text)) return "not of the form this gauge sends";
  return "a word, not a reading: look at the gauge's display";
}
