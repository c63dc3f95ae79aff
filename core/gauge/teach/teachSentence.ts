import type { BitSeven } from "../bitSevenParity.ts";
import { isMostlyText } from "../plainText.ts";
import { powerInWords, type SerialSetting, settingInWords } from "./serialSetting.ts";
import type { TeachView } from "./teachView.ts";

const PARITIES: Readonly<Record<BitSeven, string>> = {
  even: "7 data bits with even parity, read as 8",
  odd: "7 data bits with odd parity, read as 8",
  mark: "7 data bits and two stop bits, read as 8",
};

/** What came at a setting that was left, in a few words. */
export function heardInWords(bytes: Uint8Array, parity: BitSeven | null, lines: number): string {
  if (bytes.length === 0) return "nothing";
  if (parity !== null) return PARITIES[parity];
  if (!isMostlyText(bytes)) return "no text";
  return lines > 0 ? "text, no reading" : "text without a line end";
}

interface Told extends Omit<TeachView, "sentence"> {
  /** What `learnLines` says of the lines. */
  readonly learnt: string;
  readonly understood: number;
  /** Bytes at the present setting. */
  readonly heard: number;
  readonly wanted: number;
  /** What bytes that can not be read point to, where the setting is a person's. */
  readonly doubt: string | null;
}

/** One or two sentences: what was seen, and what to do now. */
export function teachSentence(told: Told): string {
  const { state, setting, tried, lines, lineEnd } = told;
  switch (state) {
    case "found":
      return `${told.learnt} ${foundWith(told)}${lineEnd === "none" ? ` ${NO_END}` : ""}`;
    case "no-end":
      return `Readings come one straight after the other at ${settingInWords(setting)}, and no line ever ends, so nobody can say where one reading stops. Set the gauge's output to end its lines with CR or CR LF, or to send only when its button is pressed.`;
    case "silent":
      return "Nothing came with any setting of the control lines that power a cable. Is the gauge switched on, its output on, the plug in the gauge, and this the right port? A gauge that speaks only when asked wants its request: type it below. A cable that types like a keyboard has no port at all: it is chosen at Lifters, Zero and Bores.";
    case "babble":
      return "Something comes in, and at no speed and framing that gauges use is it text. Pull the gauge's plug: if it still comes, the adapter or its cable is at fault; if not, look up speed and framing in the gauge's manual and set them below.";
    case "flood":
      return `Far more comes in than any gauge sends${lines.length === 0 ? "" : `, such as ${quoted(lines)}`}. Choose another port; if this is the gauge, set its output slower or to send at its button only.`;
    case "wrong":
      return `Plain text comes in at ${settingInWords(setting)}, and none of it is a reading, such as ${quoted(lines)}. This is another device, or the gauge's output is set to something else than its reading: choose another port, or look at the gauge's display.`;
    case "listening":
      return listening(told, tried.at(-1)?.setting ?? null);
  }
}

const NO_END =
  "Its lines have no end: each is taken when it has been quiet for half a second, and the first one after connecting is lost. Better set its output to end lines with CR.";

function foundWith({ setting, settleMs, lineEnd }: Told): string {
  const end = lineEnd === null || lineEnd === "none" || lineEnd === "another" ? "" : `, lines end with ${lineEnd}`;
  const power = setting.dtr && setting.rts ? "" : `, powered with ${powerInWords(setting)}`;
  const settle = settleMs === 0 ? "" : `, awake ${settleMs} ms after the port is opened`;
  return `Speed and framing ${settingInWords(setting)}${end}${power}${settle}.`;
}

function listening(told: Told, before: SerialSetting | null): string {
  const { setting, tried, heard, understood, wanted, doubt, searching } = told;
  if (doubt !== null) return doubt;
  if (understood > 0) {
    const more = wanted - understood;
    if (more > 0) {
      return `Heard ${understood} of ${wanted}. Press the data button again, at another reading.`;
    }
    return "Press the data button once more.";
  }
  if (heard > 0) return "Something came, and it is not enough yet. Press the data button again.";
  const last = tried.at(-1);
  if (last === undefined || before === null) {
    return "Press the data button of the gauge three times, at three different readings.";
  }
  const now = `Now listening at ${settingInWords(setting)}${setting.dtr && setting.rts ? "" : ` with ${powerInWords(setting)}`}`;
  if (!searching) return `${now}: press the data button three times.`;
  if (last.heard === "nothing") {
    return `Nothing came with ${powerInWords(before)}: some cables draw their power from these lines. ${now}: press the data button again.`;
  }
  return `At ${settingInWords(before)} came ${last.heard}. ${now}: press the data button again.`;
}

function quoted(lines: Told["lines"]): string {
  const [line] = lines;
  return line === undefined ? "nothing" : `“${line.raw.slice(0, 40)}”`;
}
