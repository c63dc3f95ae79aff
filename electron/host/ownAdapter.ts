import { type GaugePort, type GaugePortHandlers, PortError } from "./gaugePort.ts";
import type { FoundPort, PortList } from "./portList.ts";

/** By what an adapter is known again; null where nobody can tell. */
export type KnownAdapter = Pick<FoundPort, "adapter" | "kind">;

/**
 * The port of a gauge whose adapter is known: opened wherever that adapter is plugged in now, and never on another one
 * that took its path. An adapter without a serial number of its own is told from another kind only.
 */
export class OwnAdapterPort implements GaugePort {
  readonly #ports: PortList;
  readonly #known: KnownAdapter;
  readonly #path: string;
  readonly #make: (path: string) => GaugePort;
  #port: GaugePort | null = null;

  constructor(ports: PortList, known: KnownAdapter, path: string, make: (path: string) => GaugePort) {
    this.#ports = ports;
    this.#known = known;
    this.#path = path;
    this.#make = make;
  }

  async open(handlers: GaugePortHandlers): Promise<void> {
    const { adapter, kind } = this.#known;
    const ports = await this.#ports.askAnew();
    const path = (adapter === null ? undefined : ports.find((port) => port.adapter === adapter)?.path) ?? this.#path;
    const found = ports.find((port) => port.path === path);
    const same = (port: FoundPort) =>
      port.adapter !== null && adapter !== null ? port.adapter === adapter : kind === null || port.kind === kind;
    const other = found !== undefined && !same(found);
    if (other) {
      throw new PortError(
        "other-adapter",
        path,
        `Another adapter than this gauge's own is plugged in at ${found.label}: plug its own in again, or connect the gauge anew under Gauges if it is on this one now.`,
      );
    }
    const port = this.#make(path);
    await port.open(handlers);
    this.#port = port;
  }

  async write(text: string): Promise<void> {
    const port = this.#port;
    if (port === null) {
      throw new PortError("absent", this.#path, `Port ${this.#path} is not open; nothing was sent.`);
    }
    await port.write(text);
  }

  async close(): Promise<void> {
    await this.#port?.close();
  }
}
