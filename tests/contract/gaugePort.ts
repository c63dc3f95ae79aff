import { describe, expect, it } from "vitest";
import type { GaugePort } from "../../electron/host/gaugePort.ts";
import { PortError } from "../../electron/host/gaugePort.ts";

/** A port to try the contract on, with the far end of its cable. */
export interface TriedPort {
  readonly port: GaugePort;
  /** Lets the gauge send these bytes; null where the gauge sends by itself. */
  readonly send: ((text: string) => Promise<void>) | null;
  /** Pulls the cable; null where that needs a hand. */
  readonly pull: (() => Promise<void>) | null;
  /** What was written to the gauge so far; null where that cannot be seen. */
  readonly received: (() => string) | null;
  readonly cleanUp: () => Promise<void>;
}

export interface PortMaker {
  /** What it is, and that it is real or stands in. */
  readonly name: string;
  make(): Promise<TriedPort>;
  /** A port that cannot be opened; null where there is no such thing. */
  readonly makeAbsent: (() => GaugePort) | null;
}

/** What a port told its handlers. */
class Heard {
  text = "";
  readonly closes: { readonly wanted: boolean; readonly why: string | null }[] = [];
  bytesAfterClose = 0;
  opened = false;
  bytesBeforeOpen = 0;

  readonly handlers = {
    onBytes: (bytes: Uint8Array) => {
      if (!this.opened) this.bytesBeforeOpen += bytes.length;
      if (this.closes.length > 0) this.bytesAfterClose += bytes.length;
      this.text += new TextDecoder("latin1").decode(bytes);
    },
    onClose: (closed: { readonly wanted: boolean; readonly why: string | null }) => {
      this.closes.push(closed);
    },
  };
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

async function until(what: string, condition: () => boolean, withinMs = 5000): Promise<void> {
  const end = Date.now() + withinMs;
  while (!condition() && Date.now() < end) await pause(5);
  expect(condition(), what).toBe(true);
}

/** The contract of `GaugePort`, one suite for every implementation. */
export function gaugePortContract(maker: PortMaker): void {
  describe(`GaugePort contract: ${maker.name}`, () => {
    const withPort = async (use: (tried: TriedPort, heard: Heard) => Promise<void>) => {
      const tried = await maker.make();
      const heard = new Heard();
      try {
        const opening = tried.port.open(heard.handlers).then(() => {
          heard.opened = true;
        });
        await opening;
        await use(tried, heard);
      } finally {
        await tried.port.close();
        await tried.cleanUp();
      }
    };

    it("passes bytes on as they come, also half a line", () =>
      withPort(async (tried, heard) => {
        if (tried.send === null) {
          await until("the gauge sends", () => heard.text.length > 0);
        } else {
          await tried.send("+0.00");
          await until("half a line", () => heard.text === "+0.00");
          await tried.send("150\r\n-0.00005\r\n");
          await until("the rest", () => heard.text === "+0.00150\r\n-0.00005\r\n");
        }
        expect(heard.bytesBeforeOpen).toBe(0);
      }));

    it("passes every byte value unchanged", async (context) => {
      await withPort(async (tried, heard) => {
        if (tried.send === null) return context.skip("this gauge sends what it likes");
        const all = String.fromCharCode(...Array.from({ length: 256 }, (_, code) => code));
        await tried.send(all);
        await until("all bytes", () => heard.text.length === 256);
        expect(heard.text).toBe(all);
      });
    });

    it("says that a close was wanted, exactly once, and nothing after it", () =>
      withPort(async (tried, heard) => {
        await tried.port.close();
        await tried.port.close();
        await tried.send?.("+0.00150\r\n").catch(() => {});
        await pause(50);
        expect(heard.closes).toEqual([{ wanted: true, why: null }]);
        expect(heard.bytesAfterClose).toBe(0);
      }));

    it("says within a second that the cable was pulled, exactly once, and why", async (context) => {
      await withPort(async (tried, heard) => {
        if (tried.pull === null) return context.skip("pulling this cable needs a hand");
        await tried.pull();
        await until("the close", () => heard.closes.length > 0, 1000);
        await tried.port.close();
        await pause(600);
        expect(heard.closes).toHaveLength(1);
        expect(heard.closes[0]?.wanted).toBe(false);
        expect(heard.closes[0]?.why).toEqual(expect.any(String));
      });
    });

    it("takes what is written, and passes it on where the gauge can hear", () =>
      withPort(async (tried) => {
        await tried.port.write("?\r");
        const { received } = tried;
        if (received !== null) await until("the request", () => received() === "?\r");
      }));

    it("refuses what is not there with a sentence, and calls no handler", async (context) => {
      if (maker.makeAbsent === null) return context.skip("this port is always there");
      const heard = new Heard();
      const opening = maker.makeAbsent().open(heard.handlers);
      await expect(opening).rejects.toThrow(PortError);
      await opening.catch((error: PortError) => {
        expect(error.code).toBe("absent");
        expect(error.message).toContain(error.path);
      });
      expect(heard.closes).toEqual([]);
    });
  });
}
