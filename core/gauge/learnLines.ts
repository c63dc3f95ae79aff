import { formatLength } from "../length/formatLength.ts";
import type { Nm } from "../length/nm.ts";
import { parseDecimal } from "../length/parseLength.ts";
import type { GaugeUnit } from "../length/unit.ts";
import { LINE_FORMATS } from "./lineFormats.ts";
import { createLineReader, type LineReader, type Understood } from "./lineReader.ts";
import type { Ms } from "./ms.ts";
import type { GaugeProfile, LineFormatName } from "./profile.ts";
import { bytesOfLine } from "./shownByte.ts";
import { suspectFraming } from "./suspectFraming.ts";

/** What a gauge's first lines taught about it. */
export interface Learnt {
  /** Each line as received, with what was understood or why nothing was. */
  readonly lines: { readonly raw: string; readonly understood: string | null; readonly why: string | null }[];
  /** Null when no line was understood. */
  readonly format: Exclude<LineFormatName, "auto"> | null;
  /** The unit that the lines name; null when they name none or not always the same. */
  readonly unit: GaugeUnit | null;
  /** Smallest step the digits can show, nm, positive; null while the unit is not known. */
  readonly resolutionNm: Nm | null;
  /** Null while the lines are too few to tell. A gauge that holds its minimum looks like `press`. */
  readonly sends: "stream" | "press" | null;
  /** One sentence: what was found, or what to try. */
  readonly text: string;
}

/** Presses asked for; fewer lines teach nothing for sure, since one may be damaged. */
const PRESSES = 3;
/** Lines of a stream before its rate is believed; a person does not press so often so evenly. */
const STREAM_LINES = 6;
/** Longest gap in a stream, ms: more than 2 a second. */
const STREAM_GAP_MS = 500;

/**
 * Learns a gauge from its lines, for the Gauges place ("press the data button three times").
 * Lines must be in order of time. The same lines always teach the same.
 * @param unit what to take lines for that name no unit; without it their resolution stays unknown.
 */
export function learnLines(lines: readonly { readonly tMs: Ms; readonly line: string }[], unit?: GaugeUnit): Learnt {
  const reader = createLineReader(profileFor(unit ?? "in"));
  // Twice: a first line that the others outvoted is then refused like any other damaged one.
  for (const { line } of lines) reader.read(line);
  const read = lines.map(({ tMs, line }) => ({ tMs, line, read: reader.read(line) }));
  const understood = read.flatMap((each) => (each.read.ok ? [{ ...each, read: each.read }] : []));

  const marks = new Set(understood.map((each) => each.read.unitMark));
  const [onlyMark = null] = marks.size === 1 ? marks : [];
  // Lines that name different units were switched while learning: no one step describes them.
  const counted = marks.size > 1 ? null : (onlyMark ?? unit ?? null);
  const step =
    counted === null
      ? null
      : stepOf(
          understood.map((each) => each.read),
          counted,
        );
  const sends = sendsOf(lines.map(({ tMs }) => tMs));
  return {
    lines: read.map(({ line, read: each }) => ({
      raw: line,
      understood: each.ok ? readingInWords(each, unit) : null,
      why: each.ok ? null : each.why,
    })),
    format: understood.length === 0 ? null : reader.format,
    unit: onlyMark,
    resolutionNm: step,
    sends,
    text: understood.length === 0 ? whatToTry(lines) : whatWasFound(),
  };

  function whatWasFound(): string {
    const title = titleOf(reader);
    const refused = read.length - understood.length;
    const parts = [
      understood.length < PRESSES ? `${title} so far` : title,
      marks.size > 1
        ? "the display was switched between inch and millimetre"
        : onlyMark !== null
          ? `in ${nameOf(onlyMark)}, as its lines say`
          : `no unit in its lines${unit === undefined ? ": choose it" : `, taken as ${nameOf(unit)}`}`,
    ];
    if (step !== null && counted !== null) {
      const decimals = understood[0]?.read.decimals ?? 0;
      parts.push(`steps of ${formatLength(step, counted, decimals)} ${counted}`);
    }
    if (sends === "stream") parts.push(`streams about ${rateOf(lines)} a second`);
    if (sends === "press") parts.push("one line a press");
    if (refused > 0) parts.push(`${refused} of ${read.length} lines not understood`);
    const more = sends !== "stream" && read.length < PRESSES ? "; press the data button again" : "";
    return `${sentenceCase(parts.join(", "))}${more}.`;
  }
}

function profileFor(unit: GaugeUnit): GaugeProfile {
  return { id: "learning", role: "bore", sends: "press", unit, resolutionNm: 1 as Nm, polarity: 1, line: "auto" };
}

/** A reading as its display shows it, with its unit or that none is said. */
export function readingInWords(read: Understood, assumed: GaugeUnit | undefined): string {
  const unit = read.unitMark ?? assumed;
  // The reader took an unmarked line as inches when no unit was given; the digits are the same either way.
  const number = formatLength(read.displayNm, unit ?? "in", read.decimals, true);
  const channel = read.channel === null ? "" : `channel ${read.channel}: `;
  return `${channel}${number}${unit === undefined ? " (unit not said)" : ` ${unit}`}`;
}

/**
 * The step of the last digit; five of it when every last digit is 0 or 5, some are 5 and there are enough lines (our
 * choice: of three readings to single units that happens by chance less than once in a hundred, and then errs towards
 * the coarser, more careful step).
 */
function stepOf(readings: readonly Understood[], unit: GaugeUnit): Nm | null {
  const decimals = readings[0]?.decimals;
  if (decimals === undefined) return null;
  const one = parseDecimal(`.${"1".padStart(decimals, "0")}`, unit);
  const five = parseDecimal(`.${"5".padStart(decimals, "0")}`, unit);
  if (one === null || five === null) return null;
  const lasts = readings.map(({ displayNm }) => formatLength(displayNm, unit, decimals).at(-1));
  const halves =
    readings.length >= PRESSES && lasts.includes("5") && lasts.every((last) => last === "0" || last === "5");
  return halves ? five : one;
}

/**
 * A stream has many lines and hardly a long gap; presses are a good while apart, each with one line or with one sent
 * twice.
 */
function sendsOf(times: readonly Ms[]): Learnt["sends"] {
  const gaps = times.slice(1).map((time, index) => time - (times[index] as Ms));
  const long = gaps.filter((gap) => gap >= STREAM_GAP_MS).length;
  const short = gaps.length - long;
  if (times.length >= STREAM_LINES && long * 10 <= gaps.length) return "stream";
  return long > 0 && short <= long + 1 ? "press" : null;
}

function rateOf(lines: readonly { readonly tMs: Ms }[]): string {
  const first = lines[0]?.tMs ?? 0;
  const last = lines.at(-1)?.tMs ?? first;
  return last > first ? Math.round(((lines.length - 1) * 1000) / (last - first)).toString() : "many";
}

function whatToTry(lines: readonly { readonly line: string }[]): string {
  if (lines.length === 0) {
    return "Nothing came: press the data button, and check cable, speed and the DTR and RTS settings.";
  }
  const bytes = lines.flatMap(({ line }) => [...bytesOfLine(line)]);
  return (
    suspectFraming(Uint8Array.from(bytes)) ??
    "Lines come in but none is a reading: see the reason beside each, and try another speed or output setting of the gauge."
  );
}

function titleOf(reader: LineReader): string {
  return LINE_FORMATS.find(({ name }) => name === reader.format)?.title ?? "";
}

function nameOf(unit: GaugeUnit): string {
  return unit === "in" ? "inch" : "millimetre";
}

function sentenceCase(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
