import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createLineReader } from "../../../core/gauge/lineReader.ts";
import { LineSplitter, LONGEST_LINE } from "../../../core/gauge/lineSplitter.ts";
import { type HeardLine, LineKeeper } from "../../../core/gauge/teach/heardLine.ts";
import { profileOf } from "../profileOf.ts";

const bytesOf = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));

function kept(text: string): HeardLine[] {
  const keeper = new LineKeeper();
  const lines = keeper.push(0, bytesOf(text));
  const last = keeper.quiet();
  return last === null ? lines : [...lines, last];
}

function split(text: string): string[] {
  const splitter = new LineSplitter();
  const lines = splitter.push(bytesOf(text));
  const last = splitter.flush();
  return last === null ? lines : [...lines, last];
}

const CUT_OFF = "…";

describe("LineKeeper, beside the splitter of a walk", () => {
  it.each(["\r", "\n", "\r\n", ""])(
    "passes a line of the longest length whole, ended by %j, and cuts a longer one",
    (end) => {
      const longest = "x".repeat(LONGEST_LINE);
      expect(kept(longest + end).map(({ line }) => line)).toEqual([longest]);
      expect(split(longest + end)).toEqual([longest]);
      expect(kept(`${longest}y${end}`).map(({ line }) => line)).toEqual([longest + CUT_OFF, `${CUT_OFF}y`]);
      expect(split(`${longest}y${end}`)).toEqual([longest + CUT_OFF]);
    },
  );

  it("shows how a line of the longest length ended, as it does for any other", () => {
    expect(kept(`${"x".repeat(LONGEST_LINE)}\r\n+0.00150\r`).map(({ end }) => end)).toEqual(["CR LF", "CR"]);
  });

  it("takes no rest of a run for a reading, and the line after it for one", () => {
    const lines = kept(`${"x".repeat(LONGEST_LINE)}+0.00150\r+0.00155\r`).map(({ line }) => line);
    expect(lines.slice(1)).toEqual([`${CUT_OFF}+0.00150`, "+0.00155"]);
    const reader = createLineReader(profileOf({}));
    expect(lines.map((line) => reader.read(line).ok)).toEqual([false, false, true]);
  });

  it("has the same lines as the splitter but for those rests, and every byte that came but for bare line ends", () => {
    const run = fc.oneof(
      fc.integer({ min: 0, max: 12 }),
      fc.integer({ min: 250, max: 262 }),
      fc.integer({ min: 510, max: 516 }),
    );
    const piece = fc.tuple(run, fc.constantFrom("\r", "\n", "\r\n"));
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 6 }), (pieces) => {
        const text = pieces.map(([length, end]) => "x".repeat(length) + end).join("");
        const lines = kept(text);
        expect(lines.map(({ line }) => line).filter((line) => !line.startsWith(CUT_OFF))).toEqual(split(text));
        const held = lines.flatMap(({ bytes }) => bytes).filter((byte) => byte === 0x78);
        expect(held.length).toBe(text.replaceAll(/[\r\n]/g, "").length);
      }),
      { seed: 4309, numRuns: 500 },
    );
  });
});
