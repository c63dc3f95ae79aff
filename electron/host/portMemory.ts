import { readFile, rename } from "node:fs/promises";
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
  readonly #asidePath: string;
  #ports: Record<string, RememberedPort> | null = null;
  #reading: Promise<Record<string, RememberedPort>> | null = null;
  #writing: Promise<void> = Promise.resolve();

  constructor(folder: string) {
    this.#path = join(folder, "ports.json");
    this.#asidePath = join(folder, "ports.unreadable.json");
  }

  /** Null where the gauge was never connected, or the file can not be read. */
  async recall(gauge: string): Promise<RememberedPort | null> {
    return (await this.all())[gauge] ?? null;
  }

  /** @throws Error when the disk refuses, or holds a memory that can not be read now and would be written over. */
  remember(gauge: string, port: RememberedPort): Promise<void> {
    return this.#change((all) => ({ ...all, [gauge]: port }));
  }

  /** @throws Error as `remember`. */
  forget(gauge: string): Promise<void> {
    return this.#change(({ [gauge]: _, ...rest }) => rest);
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
    // Only a convenience: without it the port is chosen once more.
    return this.#known().catch(() => ({}));
  }

  async #known(): Promise<Record<string, RememberedPort>> {
    if (this.#ports !== null) return this.#ports;
    // Read once for all who ask meanwhile: what one of them puts aside must be gone for the others too.
    this.#reading ??= this.#read().finally(() => {
      this.#reading = null;
    });
    this.#ports = await this.#reading;
    return this.#ports;
  }

  /** What is on file; a file that makes no sense is put aside under another name. @throws Error when it can not be read. */
  async #read(): Promise<Record<string, RememberedPort>> {
    const text = await readFile(this.#path, "utf8").catch((error: NodeJS.ErrnoException) => {
      if (error.code === "ENOENT") return null;
      throw error;
    });
    if (text === null) return {};
    try {
      return remembered.parse(JSON.parse(text));
    } catch {
      await rename(this.#path, this.#asidePath);
      return {};
    }
  }

  // One change after the other, so that none is made from what another is just changing.
  #change(next: (all: Record<string, RememberedPort>) => Record<string, RememberedPort>): Promise<void> {
    const mine = this.#writing.then(async () => {
      const all = next(await this.#known());
      this.#ports = all;
      await writeWhole(this.#path, `${JSON.stringify(all, null, 2)}\n`, true);
    });
    this.#writing = mine.catch(() => {});
    return mine;
  }
}
