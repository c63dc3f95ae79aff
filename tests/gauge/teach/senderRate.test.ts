import { describe, expect, it } from "vitest";
import { timesSlower } from "../../../core/gauge/teach/senderRate.ts";
import { throughWire } from "./modelledWire.ts";

const LINES = ["+0.00150\r", "-0.00015\r\n", "0.8427 in\r", "01A+0000.1234\r\n", "21,387 mm\n"];

describe("timesSlower, on a model of the line", () => {
  it.each([2, 4, 8])("tells a sender that is %i times slower from one press, whatever its framing", (ratio) => {
    for (const framing of ["8N1", "7E2", "7E1", "8E1"]) {
      for (const line of LINES) {
        const bytes = throughWire(line, { baud: 9600 / ratio, framing }, { baud: 9600, framing: "8N1" });
        expect(timesSlower(bytes), `${line} ${framing}`).toBe(ratio);
      }
    }
  });

  it("says nothing of one that is as fast or faster, and of nothing", () => {
    for (const baud of [9600, 19_200, 57_600, 115_200]) {
      for (const line of LINES) {
        const bytes = throughWire(line, { baud, framing: "8N1" }, { baud: 9600, framing: "8N1" });
        expect(timesSlower(bytes) ?? 1, `${line} ${baud}`).toBe(1);
      }
    }
    expect(timesSlower(new Uint8Array())).toBeNull();
  });
});

describe("the model of the line itself", () => {
  it("passes text unchanged where both ends agree", () => {
    for (const framing of ["8N1", "7E1", "7E2", "7O1", "8E1", "8N2"]) {
      const bytes = throughWire("+0.00150\r\n", { baud: 4800, framing }, { baud: 4800, framing });
      expect(String.fromCharCode(...bytes)).toBe("+0.00150\r\n");
    }
  });

  it("shows 7 data bits with even parity, read as 8, with the parity in bit 7: CR is 0x8D", () => {
    const bytes = throughWire("1\r", { baud: 4800, framing: "7E2" }, { baud: 4800, framing: "8N1" });
    expect([...bytes]).toEqual([0xb1, 0x8d]);
  });
});
