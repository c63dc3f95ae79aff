import { LINE_FORMATS } from "./lineFormats.ts";
import type { LineFormatName } from "./profile.ts";
import { SUBSTITUTE } from "./sevenBits.ts";
import { CUT_OFF, NOT_PLAIN, SHOWN_BYTES } from "./shownByte.ts";

/** The likeliest reason, in a few words, why a line that fits none of the formats asked for is no reading. */
export function whyNotUnderstood(line: string, asked: LineFormatName): string {
  if (line.includes(CUT_OFF)) return "its end did not come: cut off";
  if (line.includes(SHOWN_BYTES[SUBSTITUTE] as string))
    return "a character without its parity: damaged on the way, or another framing";
  if (NOT_PLAIN.test(line)) return "bytes that are not text: check speed and framing";
  const text = line.trim();
  if (text === "") return "empty";
  const other = LINE_FORMATS.find(({ pattern }) => pattern.test(line));
  if (other !== undefined) return `${other.title}, where the profile asks for ${titleOf(asked)}`;
  if (/bat|\blow\b/i.test(text)) return "the gauge asks for a battery";
  if (/over|ovf|ofl|under|range|limit/i.test(text) || /^[-.\s]+$/.test(text)) return "the gauge is out of its range";
  if (/err|fail/i.test(text)) return "the gauge reports an error";
  if (!/\d/.test(text)) return "a word, not a reading: look at the gauge's display";
  if (/^[+-]?\d+$/.test(text)) return "a number without its decimal point";
  if (/\d[.,]?\d*e[+-]?\d/i.test(text)) return "an exponent, which no display sends";
  if ((text.match(/[.,]/g) ?? []).length > 1) return "more than one decimal point";
  if ((text.match(/[+-]/g) ?? []).length > 1) return "more than one sign";
  return "not of a form that gauges send";
}

function titleOf(asked: LineFormatName): string {
  return LINE_FORMATS.find(({ name }) => name === asked)?.title ?? asked;
}
