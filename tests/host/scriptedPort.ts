import { type GaugePort, type GaugePortHandlers, PortError } from "../../electron/host/gaugePort.ts";

/** The far end of a scripted gauge's cable. Each opening is a new port on it. */
export class ScriptedCable {
  readonly path = "scripted";
  plugged = true;
  received = "";
  /** How many ports were opened on it. */
  openings = 0;
  #open: ScriptedPort | null = null;

  newPort(): GaugePort {
    return new ScriptedPort(this);
  }

  send(text: string): void {
    this.#open?.deliver(Buffer.from(text, "latin1"));
  }

  pull(): void {
    this.plugged = false;
    this.#open?.end(false, "the cable was pulled");
  }

  plugIn(): void {
    this.plugged = true;
  }

  attach(port: ScriptedPort): void {
    if (!this.plugged) throw new PortError("absent", this.path, `There is no port ${this.path}: plug the gauge in.`);
    if (this.#open !== null) throw new PortError("busy", this.path, `Port ${this.path} is in use.`);
    this.openings += 1;
    this.#open = port;
  }

  detach(port: ScriptedPort): void {
    if (this.#open === port) this.#open = null;
  }
}

class ScriptedPort implements GaugePort {
  readonly #cable: ScriptedCable;
  #handlers: GaugePortHandlers | null = null;

  constructor(cable: ScriptedCable) {
    this.#cable = cable;
  }

  async open(handlers: GaugePortHandlers): Promise<void> {
    this.#cable.attach(this);
    this.#handlers = handlers;
  }

  async write(text: string): Promise<void> {
    this.#cable.received += text;
  }

  async close(): Promise<void> {
    this.end(true, null);
  }

  deliver(bytes: Uint8Array): void {
    this.#handlers?.onBytes(bytes);
  }

  end(wanted: boolean, why: string | null): void {
    const handlers = this.#handlers;
    this.#handlers = null;
    this.#cable.detach(this);
    handlers?.onClose({ wanted, why });
  }
}
