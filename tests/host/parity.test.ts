import { describe, expect, it } from "vitest";
import { withParity } from "../../core/gauge/sevenBits.ts";
import { SerialGaugePort } from "../../electron/host/serialGaugePort.ts";
import { PseudoTerminal } from "./pseudoTerminal.ts";

const latin1 = (bytes: Uint8Array) => Buffer.from(bytes).toString("latin1");
const coded = (text: string) => withParity(Buffer.from(text, "latin1"), "even");

const until = async (what: string, condition: () => boolean) => {
  for (let turn = 0; turn < 500 && !condition(); turn += 1) await new Promise((resolve) => setTimeout(resolve, 10));
  expect(condition(), what).toBe(true);
};

describe("a gauge of seven data bits with even parity (socat, real serialport)", () => {
  it("is read with its parity looked at, and asked in its own code", async () => {
    const terminal = await PseudoTerminal.make();
    const port = new SerialGaugePort({ path: terminal.path, baud: 4800, framing: "7E2", dtr: true, rts: true });
    let got = "";
    await port.open({ onBytes: (bytes) => (got += latin1(bytes)), onClose: () => {} });
    try {
      await terminal.send(latin1(coded("+0.00150\r")));
      await until("a line", () => got.endsWith("\r"));
      expect(got).toBe("+0.00150\r");
      const damaged = coded("+0.00155\r").map((byte, index) => (index === 6 ? byte ^ 0x02 : byte));
      await terminal.send(latin1(damaged));
      await until("a second line", () => got.length === 18);
      // Without its parity looked at, the 5 would have come as a 7.
      expect(got.slice(9)).toBe("+0.001\x1a5\r");
      await port.write("?1\r");
      await until("the request", () => terminal.received.length === 3);
      expect(terminal.received).toBe(latin1(coded("?1\r")));
    } finally {
      await port.close();
      await terminal.cleanUp();
    }
  });
});
