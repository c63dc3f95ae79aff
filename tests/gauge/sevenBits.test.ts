import { describe, expect, it } from "vitest";
import { createLineReader } from "../../core/gauge/lineReader.ts";
import { LineSplitter } from "../../core/gauge/lineSplitter.ts";
import {
  asEightBits,
  checkParity,
  type Parity,
  SUBSTITUTE,
  sevenBitParity,
  withParity,
} from "../../core/gauge/sevenBits.ts";
import { parseJob } from "../../core/session/jobFile.ts";

const PARITIES: readonly Parity[] = ["even", "odd"];
const ascii = Uint8Array.from({ length: 128 }, (_, code) => code);
const bytesOf = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));

describe("seven data bits with a parity, received as eight", () => {
  it("is told by the framing alone", () => {
    expect(["7E1", "7E2", "7O1", "7O2"].map(sevenBitParity)).toEqual(["even", "even", "odd", "odd"]);
    expect(["7N2", "8E1", "8O1", "8N1", "17E1", ""].map(sevenBitParity)).toEqual(Array(6).fill(null));
    expect(asEightBits("7E2")).toBe("8N2");
  });

  // ASCII "1" is 0110001: three ones; "3" is 0110011: four. CR is 0001101: three.
  it("sets bit 7 where the seven below have an odd count of ones, for even parity", () => {
    expect([...withParity(bytesOf("13\r"), "even")]).toEqual([0xb1, 0x33, 0x8d]);
    expect([...withParity(bytesOf("13\r"), "odd")]).toEqual([0x31, 0xb3, 0x0d]);
  });

  it.each(PARITIES)("gives every character back, and none that a single wrong bit has damaged (%s)", (parity) => {
    expect(checkParity(withParity(ascii, parity), parity)).toEqual(ascii);
    for (const [index, byte] of withParity(ascii, parity).entries()) {
      for (let bit = 0; bit < 8; bit += 1) {
        expect([...checkParity(Uint8Array.of(byte ^ (1 << bit)), parity)], `${index} bit ${bit}`).toEqual([SUBSTITUTE]);
      }
    }
  });

  it.each(PARITIES)("makes no other number of a line by any single wrong bit (%s)", (parity) => {
    const profile = parseJob({
      format: "borewright/job",
      version: 1,
      gauges: [{ id: "bore", role: "bore", unit: "in", resolution: "0.00005 in", sends: "press" }],
    }).gauges[0];
    if (profile === undefined) throw new Error("the job has a gauge");
    const sent = withParity(bytesOf("+0.00150\r+0.00145\r+0.00155\r"), parity);
    const readingsOf = (bytes: Uint8Array) => {
      const reader = createLineReader(profile);
      return new LineSplitter().push(checkParity(bytes, parity)).map((line) => reader.read(line));
    };
    const whole = readingsOf(sent).map((read) => (read.ok ? read.valueNm : null));
    expect(whole).toEqual([38_100, 36_830, 39_370]);
    let refused = 0;
    for (let at = 0; at < 8 * sent.length; at += 1) {
      const damaged = sent.map((byte, index) => (index === at >> 3 ? byte ^ (1 << (at & 7)) : byte));
      for (const read of readingsOf(damaged)) {
        if (read.ok) expect(whole).toContain(read.valueNm);
        else if (read.why.startsWith("a character without its parity")) refused += 1;
      }
    }
    // All but the last line's end, without which that line is not given out yet.
    expect(refused).toBe(8 * (sent.length - 1));
  });
});
