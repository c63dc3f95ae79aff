import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { type PortSettings, portSettings } from "../../core/bridge/messages.ts";
import { z } from "../../core/zod.ts";
import { writeWhole } from "./safeFiles.ts";

const remembered = z.record(z.string(), z.object({ settings: portSettings, adapter: z.string().nullable() }));

export interface RememberedPort {
  readonly settings: PortSettings;
  /** Vendor, product and serial number of the adapter, where it has them: its path may be another next time. */
  readonly adapter: string | null;
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
    return (await this.#all())[gauge] ?? null;
  }

  async remember(gauge: string, port: RememberedPort): Promise<void> {
    const all = { ...(await this.#all()), [gauge]: port };
    this.#ports = all;
    await writeWhole(this.#path, `${JSON.stringify(all, null, 2)}\n`, true);
  }

  async #all(): Promise<Record<string, RememberedPort>> {
    if (this.#ports !== null) return this.#ports;
    try {
      this.#ports = remembered.parse(JSON.parse(await readFile(this.#path, "utf8")));
    } catch {
      // Only a convenience: without it the port is chosen once more.
      this.#ports = {};
    }
    return this.#ports;
  }
}
