import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { type PortSettings, portSettings, type TaughtGauge, taughtGauge } from "../../core/bridge/messages.ts";
import { z } from "../../core/zod.ts";
import type { FoundPort } from "./portList.ts";
import { writeWhole } from "./safeFiles.ts";

const remembered = z.record(
  z.string(),
  z.object({
    settings: portSettings,
    adapter: z.string().nullable(),
    kind: z.string().nullable().default(null),
    label: z.string().default(""),
    taught: taughtGauge.nullable().default(null),
  }),
);

export interface RememberedPort {
  readonly settings: PortSettings;
  /** Vendor, product and serial number of the adapter, where it has them: its path may be another next time. */
  readonly adapter: string | null;
  /** Vendor and product; of an adapter without a serial number all that it can be known by. */
  readonly kind: string | null;
  /** What a person told it by. */
  readonly label: string;
  /** What was taught of the gauge; null where it was only connected. */
  readonly taught: TaughtGauge | null;
}

/** Where a remembered gauge is now, of the ports there are. */
export interface Whereabouts {
  /** Null while it is away or can not be told from others. */
  readonly path: string | null;
  /** Ports that look the same are there, so that only a press can tell. */
  readonly alike: boolean;
}

/** Which port each gauge was on last time, by the gauge's id, in a file beside the sessions. */
export class PortMemory {
  readonly #path: string;
  #ports: Record<string, RememberedPort> | null = null;

  constructor(folder: string) {
    this.#path = join(folder, "ports.json");
  }

  /** Null where the gauge was never connected, or the file is not to be read. */
  async recall(gauge: string): Promise<RememberedPort | null> {
    return (await this.all())[gauge] ?? null;
  }

  async remember(gauge: string, port: RememberedPort): Promise<void> {
    await this.#write({ ...(await this.all()), [gauge]: port });
  }

  async forget(gauge: string): Promise<void> {
    const { [gauge]: _, ...rest } = await this.all();
    await this.#write(rest);
  }

  /**
   * Where a remembered gauge is. An adapter with a serial number is known wherever it is plugged in. One without is
   * known only while it is the one of its kind, here and in memory: two that look alike may have changed places.
   */
  async find(gauge: string, ports: readonly FoundPort[]): Promise<Whereabouts> {
    const all = await this.all();
    const own = all[gauge];
    if (own === undefined) return { path: null, alike: false };
    if (own.adapter !== null) {
      const there = ports.find(({ adapter }) => adapter === own.adapter);
      return { path: there?.path ?? null, alike: false };
    }
    // A typed path, or a port that is built in.
    if (own.kind === null) {
      const other = ports.find(({ path, kind }) => path === own.settings.path && kind !== null);
      return { path: other === undefined ? own.settings.path : null, alike: false };
    }
    const same = ports.filter(({ kind, adapter }) => kind === own.kind && adapter === null);
    const rivals = Object.values(all).filter(({ kind, adapter }) => kind === own.kind && adapter === null);
    if (same.length === 0) return { path: null, alike: false };
    return same.length === 1 && rivals.length === 1
      ? { path: same[0]?.path ?? null, alike: false }
      : { path: null, alike: true };
  }

  async all(): Promise<Readonly<Record<string, RememberedPort>>> {
    if (this.#ports !== null) return this.#ports;
    try {
      this.#ports = remembered.parse(JSON.parse(await readFile(this.#path, "utf8")));
    } catch {
      // Only a convenience: without it the port is chosen once more.
      this.#ports = {};
    }
    return this.#ports;
  }

  async #write(all: Record<string, RememberedPort>): Promise<void> {
    this.#ports = all;
    await writeWhole(this.#path, `${JSON.stringify(all, null, 2)}\n`, true);
  }
}
