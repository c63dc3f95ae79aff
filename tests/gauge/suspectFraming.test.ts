import { describe, expect, it } from "vitest";
import { LineSplitter } from "../../core/gauge/lineSplitter.ts";
import { suspectFraming } from "../../core/gauge/suspectFraming.ts";

const bytesOf = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));

const parityOf = (byte: number) => byte.toString(2).replaceAll("0", "").length % 2;

/** What an 8-bit receiver without parity gets of text sent with 7 bits and the given parity. */
const sentWith = (text: string, bit7: (byte: number) => number) =>
  bytesOf(text).map((byte) => byte | (bit7(byte) << 7));

const EVEN = (byte: number) => parityOf(byte);
const ODD = (byte: number) => 1 - parityOf(byte);

describe("suspectFraming", () => {
  it("knows 7 bits with even parity, whose CR is 0x8D and ends no line", () => {
    const bytes = sentWith("+0.00150\r+0.00155\r", EVEN);
    expect(bytes[8]).toBe(0x8d);
    expect(new LineSplitter().push(bytes)).toEqual([]);
    expect(suspectFraming(bytes)).toContain("choose 7E2.");
  });

  it("knows odd and mark parity", () => {
    expect(suspectFraming(sentWith("+0.00150\n", ODD))).toContain("choose 7O2.");
    expect(suspectFraming(sentWith("+0.00150\r\n", () => 1))).toContain(
      "two stop bits and no parity, read here as 8 data bits without, so its line ends are not seen: choose 7N2.",
    );
  });

  it("is silent about plain text, with space parity as well, and about too few bytes", () => {
    expect(suspectFraming(bytesOf("+0.00150\r\n-0.00015\r\n"))).toBeNull();
    expect(suspectFraming(sentWith("01A+0000.1234\r", () => 0))).toBeNull();
    expect(suspectFraming(sentWith("+0.0\r", EVEN))).toBeNull();
    expect(suspectFraming(new Uint8Array())).toBeNull();
  });

  it("forgives a single spoilt byte, and does not call it a parity", () => {
    expect(suspectFraming(bytesOf("+0.00150\r+0.00\xb15\r"))).toBeNull();
  });

  it("takes noise for a wrong speed", () => {
    expect(suspectFraming(Uint8Array.of(0, 0x86, 0x1e, 0xf8, 0, 0x66, 0xe6, 0x80, 0xfe, 0x18))).toContain("speed");
  });
});
