import { stat } from "node:fs/promises";
import type { SerialPort } from "serialport";
import { asEightBits, checkParity, type Parity, sevenBitParity, withParity } from "../../core/gauge/sevenBits.ts";
import { type GaugePort, type GaugePortHandlers, PortError } from "./gaugePort.ts";
import { portTrouble } from "./portTrouble.ts";

/** How a serial port is opened. */
export interface SerialPortSettings {
  readonly path: string;
  /** Bits a second. */
  readonly baud: number;
  /** Data bits, parity, stop bits, such as "8N1" or "7E2". */
  readonly framing: string;
  /** Control lines after opening; many data cables draw their power from them. */
  readonly dtr: boolean;
  readonly rts: boolean;
}

/** Time that the longest line taken for one takes on the wire, ms; a framed character has up to 12 bits. */
export function lineTimeMs(settings: Pick<SerialPortSettings, "baud">): number {
  return (LONGEST_USUAL_LINE * 12 * 1000) / settings.baud;
}

/** Characters; gauges send 6 to 20. */
const LONGEST_USUAL_LINE = 40;

/** How often the device is looked for while nothing comes, ms: a pulled cable must show within a second. */
const PRESENCE_MS = 400;

/**
 * A gauge on a serial port of this computer, or on a pseudo-terminal. See `GaugePort` for what is guaranteed.
 *
 * Systems tell nobody which character came without its parity: they let it through, or leave it out, and either makes
 * another number. Where a parity stands beside seven data bits it is therefore received as an eighth and looked at here.
 */
export class SerialGaugePort implements GaugePort {
  readonly #settings: SerialPortSettings;
  readonly #parity: Parity | null;
  #port: SerialPort | null = null;
  #handlers: GaugePortHandlers | null = null;
  #presence: NodeJS.Timeout | null = null;
  #wanted = false;
  #used = false;

  constructor(settings: SerialPortSettings) {
    this.#settings = settings;
    this.#parity = sevenBitParity(settings.framing);
  }

  async open(handlers: GaugePortHandlers): Promise<void> {
    const { path } = this.#settings;
    if (this.#used) throw new PortError("failed", path, `Port ${path} was opened before: make a new one.`);
    this.#used = true;
    const port = await this.#make();
    await new Promise<void>((resolve, reject) => {
      port.open((error) => (error === null ? resolve() : reject(portTrouble(path, error))));
    });
    // What came before the opening is not a reading of now.
    await new Promise<void>((resolve) => port.flush(() => resolve()));
    const { dtr, rts } = this.#settings;
    await new Promise<void>((resolve) => port.set({ dtr, rts }, () => resolve()));
    if (!port.isOpen) throw new PortError("absent", path, `Port ${path} went away while it was being opened.`);
    this.#port = port;
    this.#handlers = handlers;
    const parity = this.#parity;
    port.on("data", (bytes: Uint8Array) => {
      this.#handlers?.onBytes(parity === null ? bytes : checkParity(Uint8Array.from(bytes), parity));
    });
    // A read or write error is followed by the close that says so.
    port.on("error", (error) => this.#lost(error.message));
    port.on("close", (error: Error | null) => this.#closed(error?.message ?? null));
    this.#presence = setInterval(() => void this.#lookForDevice(), PRESENCE_MS);
  }

  async write(text: string): Promise<void> {
    const port = this.#port;
    const { path } = this.#settings;
    if (port === null || !port.isOpen) {
      throw new PortError("absent", path, `Port ${path} is not open; nothing was sent.`);
    }
    await new Promise<void>((resolve, reject) => {
      port.write(this.#asSent(text), (error) =>
        error == null ? resolve() : reject(portTrouble(path, error, "written to")),
      );
    });
  }

  async close(): Promise<void> {
    this.#wanted = true;
    const port = this.#port;
    if (port === null || !port.isOpen) return;
    await new Promise<void>((resolve) => port.close(() => resolve()));
    this.#closed(null);
  }

  #asSent(text: string): Buffer {
    const bytes = Buffer.from(text, "latin1");
    return this.#parity === null ? bytes : Buffer.from(withParity(bytes, this.#parity));
  }

  async #make(): Promise<SerialPort> {
    const { path, baud, framing } = this.#settings;
    const match = /^([5678])([NEO])([12])$/.exec(this.#parity === null ? framing : asEightBits(framing));
    if (match === null) {
      throw new PortError("failed", path, `Framing "${framing}" is none; expected such as "8N1" or "7E2".`);
    }
    let Port: typeof SerialPort;
    try {
      // Taken in only now, so that everything else works where its binding does not load.
      ({ SerialPort: Port } = await import("serialport"));
    } catch (error) {
      const says = error instanceof Error ? error.message : String(error);
      throw new PortError("failed", path, `Serial ports cannot be used on this computer (${says}).`);
    }
    try {
      return new Port({
        path,
        baudRate: baud,
        dataBits: Number(match[1]) as 5 | 6 | 7 | 8,
        parity: match[2] === "E" ? "even" : match[2] === "O" ? "odd" : "none",
        stopBits: Number(match[3]) as 1 | 2,
        autoOpen: false,
      });
    } catch (error) {
      throw portTrouble(path, error);
    }
  }

  async #lookForDevice(): Promise<void> {
    if (process.platform === "win32") return;
    const there = await stat(this.#settings.path).then(
      () => true,
      () => false,
    );
    if (!there) this.#lost("the device is gone");
  }

  #lost(why: string): void {
    const port = this.#port;
    this.#closed(why);
    if (port?.isOpen === true) port.close(() => {});
  }

  #closed(why: string | null): void {
    const handlers = this.#handlers;
    if (handlers === null) return;
    this.#handlers = null;
    if (this.#presence !== null) clearInterval(this.#presence);
    this.#presence = null;
    handlers.onClose({ wanted: this.#wanted, why: this.#wanted ? null : (why ?? "the port was closed") });
  }
}
