import type { TeachingNow } from "../../core/bridge/messages.ts";
import { Refusal } from "./refusal.ts";
import { TeachPort, type TeachPortOptions } from "./teachPort.ts";

/** A port that speaks sooner after its opening talks by itself: nobody was asked to press yet, ms. */
const BY_ITSELF_MS = 1_000;
const PICTURE_MS = 120;

export interface TeachDeskOptions extends Omit<TeachPortOptions, "path" | "newPort" | "onChange"> {
  readonly ports: readonly {
    readonly path: string;
    readonly label: string;
    readonly newPort: TeachPortOptions["newPort"];
  }[];
  readonly tell: (teaching: TeachingNow) => void;
}

/**
 * Teaches a gauge. With several ports all of them are opened and whichever speaks is it: so two adapters that look alike
 * are told apart by a press. One that talks by itself from the opening on is only named, since it may be another gauge
 * that streams.
 */
export class TeachDesk {
  readonly #tell: TeachDeskOptions["tell"];
  readonly #labels: ReadonlyMap<string, string>;
  #ports: TeachPort[];
  #chosen: string | null = null;
  #timer: NodeJS.Timeout | null = null;
  #letGo: Promise<unknown> = Promise.resolve();
  #stopped = false;

  constructor({ ports, tell, ...rest }: TeachDeskOptions) {
    this.#tell = tell;
    this.#labels = new Map(ports.map(({ path, label }) => [path, label]));
    this.#ports = ports.map(
      ({ path, newPort }) => new TeachPort({ ...rest, path, newPort, onChange: () => this.#onChange() }),
    );
    if (this.#ports.length === 1) this.#chosen = this.#ports[0]?.path ?? null;
  }

  async start(): Promise<void> {
    await Promise.all(this.#ports.map((port) => port.start()));
    this.#tellLater();
  }

  async stop(): Promise<void> {
    this.#stopped = true;
    if (this.#timer !== null) clearTimeout(this.#timer);
    await Promise.all([this.#letGo, ...this.#ports.map((port) => port.stop())]);
  }

  /** @throws Refusal when the port is not among those listened to. */
  take(path: string): void {
    const taken = this.#ports.find((port) => port.path === path);
    if (taken === undefined) throw new Refusal("no-such-port", `Port ${path} is not being listened to.`);
    this.#chosen = path;
    const others = this.#ports.filter((port) => port !== taken);
    this.#ports = [taken];
    this.#letGo = Promise.all([this.#letGo, ...others.map((port) => port.stop())]);
    this.#tellLater();
  }

  /** @throws Refusal while no port is chosen. */
  byHand(change: Parameters<TeachPort["byHand"]>[0]): Promise<void> {
    return this.#own().byHand(change);
  }

  /** @throws Refusal while no port is chosen. @throws PortError when it is not open. */
  ask(text: string): Promise<void> {
    return this.#own().ask(text);
  }

  #own(): TeachPort {
    const own = this.#ports.find(({ path }) => path === this.#chosen);
    if (own === undefined) throw new Refusal("no-port-chosen", "The gauge's port is not known yet: press its button.");
    return own;
  }

  #onChange(): void {
    if (this.#chosen === null && !this.#stopped) {
      const spoke = this.#ports.find(({ firstAfterMs }) => firstAfterMs !== null && firstAfterMs >= BY_ITSELF_MS);
      if (spoke !== undefined) this.take(spoke.path);
    }
    this.#tellLater();
  }

  #tellLater(): void {
    if (this.#stopped) return;
    this.#timer ??= setTimeout(() => {
      this.#timer = null;
      if (!this.#stopped) this.#tell(this.#now());
    }, PICTURE_MS);
  }

  #now(): TeachingNow {
    const own = this.#ports.find(({ path }) => path === this.#chosen);
    return {
      ports: this.#ports.map(({ path, trouble, firstAfterMs }) => ({
        path,
        label: this.#labels.get(path) ?? path,
        state: trouble !== null ? "trouble" : firstAfterMs !== null ? "talks" : "quiet",
        why: trouble,
      })),
      chosen: this.#chosen,
      teach: own?.view() ?? null,
    };
  }
}
