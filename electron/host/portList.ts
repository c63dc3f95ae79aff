import { readFileSync } from "node:fs";

/** A port that a gauge may be on. */
export interface FoundPort {
  readonly path: string;
  /** What a person can tell it by. */
  readonly label: string;
  /**
   * Vendor, product and serial number, where the adapter has them and no other here has the same; finds the same adapter
   * under another path.
   */
  readonly adapter: string | null;
  /** Vendor and product; null where the system does not tell. Adapters of one kind look the same. */
  readonly kind: string | null;
  /** Plugged in since the watch began. */
  readonly fresh: boolean;
}

interface ListedPort {
  readonly path: string;
  readonly manufacturer?: string | undefined;
  readonly serialNumber?: string | undefined;
  readonly vendorId?: string | undefined;
  readonly productId?: string | undefined;
}

export type ListPorts = () => Promise<readonly ListedPort[]>;

const systemPorts: ListPorts = async () => {
  const { SerialPort } = await import("serialport");
  return SerialPort.list();
};

/**
 * Watches which ports there are. No event says that a cable was plugged in, so the system is asked every
 * `everyMs`, and never again before it has answered. Pseudo-terminals are not in the system's list; a typed path must do.
 */
export class PortList {
  readonly #list: ListPorts;
  readonly #everyMs: number;
  readonly #onChange: (ports: readonly FoundPort[]) => void;
  #ports: readonly FoundPort[] = [];
  #asked: Promise<readonly FoundPort[]> | null = null;
  #timer: NodeJS.Timeout | null = null;
  #stopped = true;
  /** Ports that were there when the watch began and have not left since; null before the first answer. */
  #first: ReadonlySet<string> | null = null;

  constructor(onChange: (ports: readonly FoundPort[]) => void, list: ListPorts = systemPorts, everyMs = 1500) {
    this.#onChange = onChange;
    this.#list = list;
    this.#everyMs = everyMs;
  }

  /** What the last answer said. */
  get ports(): readonly FoundPort[] {
    return this.#ports;
  }

  start(): void {
    if (!this.#stopped) return;
    this.#stopped = false;
    this.#again(0);
  }

  stop(): void {
    this.#stopped = true;
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }

  /** Asks now, or joins the question being asked. A system that cannot answer has no ports. */
  ask(): Promise<readonly FoundPort[]> {
    this.#asked ??= this.#askSystem().finally(() => {
      this.#asked = null;
    });
    return this.#asked;
  }

  /** Asks now; an answer under way may be of before a cable was changed. */
  async askAnew(): Promise<readonly FoundPort[]> {
    await this.#asked;
    return this.ask();
  }

  #again(inMs: number): void {
    this.#timer = setTimeout(() => {
      void this.ask().then(() => {
        if (!this.#stopped) this.#again(this.#everyMs);
      });
    }, inMs);
    this.#timer.unref();
  }

  async #askSystem(): Promise<readonly FoundPort[]> {
    let listed: readonly ListedPort[];
    try {
      listed = await this.#list();
    } catch {
      listed = [];
    }
    const described = listed.filter(isUsable).map(describe);
    const there = new Set(described.map(({ path }) => path));
    const first = this.#first;
    this.#first = first === null ? there : new Set([...first].filter((path) => there.has(path)));
    const ports = described.map((port) => ({
      ...port,
      adapter: described.filter(({ adapter }) => adapter === port.adapter).length > 1 ? null : port.adapter,
      fresh: first !== null && !first.has(port.path),
    }));
    if (JSON.stringify(ports) !== JSON.stringify(this.#ports)) {
      this.#ports = ports;
      this.#onChange(ports);
    }
    return ports;
  }
}

// Linux names the serial ports a computer might have; those of type 0 have no hardware behind them.
function isUsable(port: ListedPort): boolean {
  const builtIn = /^\/dev\/(ttyS\d+)$/.exec(port.path);
  if (builtIn === null) return true;
  try {
    return readFileSync(`/sys/class/tty/${builtIn[1]}/type`, "latin1").trim() !== "0";
  } catch {
    return false;
  }
}

function describe(port: ListedPort): Omit<FoundPort, "fresh"> {
  const { path, manufacturer, serialNumber, vendorId, productId } = port;
  const named = [manufacturer, serialNumber === undefined ? undefined : `no. ${serialNumber}`].filter(
    (part) => part !== undefined && part !== "",
  );
  const kind = vendorId === undefined || productId === undefined ? null : `${vendorId}:${productId}`.toLowerCase();
  return {
    path,
    label: named.length === 0 ? path : `${path} (${named.join(", ")})`,
    adapter: kind === null || serialNumber === undefined ? null : `${kind}:${serialNumber}`.toLowerCase(),
    kind,
  };
}
