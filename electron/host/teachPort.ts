import { type SerialSetting, sameSetting } from "../../core/gauge/teach/serialSetting.ts";
import { Teaching } from "../../core/gauge/teach/teaching.ts";
import type { TeachView } from "../../core/gauge/teach/teachView.ts";
import { type GaugePort, PortError } from "./gaugePort.ts";

/** A port that can not be opened is tried again after so long, ms. */
const AGAIN_MS = 1_000;

export interface TeachPortOptions {
  readonly path: string;
  /** Makes a port for one opening by this setting. */
  readonly newPort: (setting: SerialSetting) => GaugePort;
  readonly start?: SerialSetting | undefined;
  readonly search?: boolean | undefined;
  readonly unit?: "in" | "mm" | null | undefined;
  /** Something was heard or has changed. */
  readonly onChange: () => void;
}

/** One port on which a gauge is being taught: opened as the teaching wants it, and anew whenever that changes. */
export class TeachPort {
  readonly path: string;
  readonly #options: TeachPortOptions;
  readonly #teaching: Teaching;
  #port: GaugePort | null = null;
  #open: SerialSetting | null = null;
  /** When it was opened for the first time. */
  #openedMs: number | null = null;
  #timer: NodeJS.Timeout | null = null;
  #again: NodeJS.Timeout | null = null;
  #turn: Promise<void> = Promise.resolve();
  #stopped = false;
  #trouble: string | null = null;
  #firstAfterMs: number | null = null;

  constructor(options: TeachPortOptions) {
    this.path = options.path;
    this.#options = options;
    this.#teaching = new Teaching({
      ...(options.start === undefined ? {} : { start: options.start }),
      ...(options.search === undefined ? {} : { search: options.search }),
      unit: options.unit ?? null,
    });
  }

  /** Why the port is not open; null when it is, or has not been tried. */
  get trouble(): string | null {
    return this.#trouble;
  }

  /** How long after its first opening the port first spoke, ms; null while it is quiet. */
  get firstAfterMs(): number | null {
    return this.#firstAfterMs;
  }

  view(): TeachView {
    return this.#teaching.view();
  }

  /** Resolves once the port was opened or has refused; it is then tried again. */
  start(): Promise<void> {
    return this.#follow();
  }

  async stop(): Promise<void> {
    this.#stopped = true;
    for (const timer of [this.#timer, this.#again]) if (timer !== null) clearTimeout(timer);
    await this.#turn;
    await this.#close();
  }

  byHand(change: Parameters<Teaching["byHand"]>[0]): Promise<void> {
    this.#teaching.byHand(change);
    this.#options.onChange();
    return this.#follow();
  }

  /** @throws PortError when the port is not open. */
  async ask(text: string): Promise<void> {
    if (this.#port === null) {
      throw new PortError("absent", this.path, this.#trouble ?? `Port ${this.path} is not open; nothing was sent.`);
    }
    await this.#port.write(text);
  }

  /** Opens the port as the teaching wants it, one change after the other. */
  #follow(): Promise<void> {
    this.#turn = this.#turn.then(async () => {
      const { setting } = this.#teaching;
      if (this.#stopped || (this.#port !== null && this.#open !== null && sameSetting(setting, this.#open))) return;
      await this.#close();
      await this.#openBy(setting);
      this.#time();
      this.#options.onChange();
    });
    return this.#turn;
  }

  async #openBy(setting: SerialSetting): Promise<void> {
    try {
      const port = this.#options.newPort(setting);
      await port.open({
        onBytes: (bytes) => {
          if (this.#port === port || this.#port === null) this.#hear(bytes);
        },
        onClose: ({ wanted, why }) => {
          if (this.#port !== port) return;
          this.#port = null;
          if (!wanted) this.#isLost(`Port ${this.path} went away (${why ?? "closed"}): plug it in again.`);
        },
      });
      this.#port = port;
      this.#open = setting;
      this.#trouble = null;
      const now = performance.now();
      this.#openedMs ??= now;
      this.#teaching.open(now);
    } catch (error) {
      this.#isLost(error instanceof Error ? error.message : String(error));
    }
  }

  #isLost(why: string): void {
    this.#trouble = why;
    this.#options.onChange();
    if (this.#stopped) return;
    if (this.#again !== null) clearTimeout(this.#again);
    this.#again = setTimeout(() => void this.#follow(), AGAIN_MS);
  }

  async #close(): Promise<void> {
    const port = this.#port;
    this.#port = null;
    await port?.close();
  }

  #hear(bytes: Uint8Array): void {
    const now = performance.now();
    this.#firstAfterMs ??= now - (this.#openedMs ?? now);
    this.#teaching.push(now, bytes);
    this.#after();
  }

  #after(): void {
    this.#time();
    this.#options.onChange();
    void this.#follow();
  }

  #time(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
    const due = this.#teaching.dueMs;
    if (due === null || this.#stopped || this.#port === null) return;
    this.#timer = setTimeout(
      () => {
        this.#teaching.pass(performance.now());
        this.#after();
      },
      Math.max(1, due - performance.now() + 1),
    );
  }
}
