import { type GaugePort, type GaugePortHandlers, PortError } from "../../electron/host/gaugePort.ts";
import { type Line, throughWire } from "../gauge/teach/modelledWire.ts";

interface Opened {
  readonly baud: number;
  readonly framing: string;
  readonly dtr: boolean;
  readonly rts: boolean;
}

/**
 * A gauge at the far end of a modelled line (`throughWire`): what it sends comes garbled where the port is open at
 * another speed or framing than its own. It stands in for a gauge.
 */
export class ModelledGaugeOnPort {
  readonly line: Line;
  readonly path: string;
  written = "";
  #opened: { readonly by: Opened; readonly handlers: GaugePortHandlers } | null = null;

  constructor(path: string, line: Line) {
    this.path = path;
    this.line = line;
  }

  get openedBy(): Opened | null {
    return this.#opened?.by ?? null;
  }

  press(text: string): void {
    const opened = this.#opened;
    opened?.handlers.onBytes(throughWire(text, this.line, opened.by));
  }

  newPort(by: Opened): GaugePort {
    let mine: GaugePortHandlers | null = null;
    return {
      open: async (handlers) => {
        if (this.#opened !== null) throw new PortError("busy", this.path, `Port ${this.path} is in use.`);
        mine = handlers;
        this.#opened = { by, handlers };
      },
      write: async (text) => {
        this.written += text;
      },
      close: async () => {
        const handlers = mine;
        mine = null;
        if (handlers === null) return;
        this.#opened = null;
        handlers.onClose({ wanted: true, why: null });
      },
    };
  }
}
