import type { learnt } from "../../core/bridge/messages.ts";
import { learnLines } from "../../core/gauge/learnLines.ts";
import { suspectFraming } from "../../core/gauge/suspectFraming.ts";
import type { z } from "../../core/zod.ts";
import { GaugeLink } from "./gaugeLink.ts";
import type { GaugePort } from "./gaugePort.ts";

export type Learnt = z.infer<typeof learnt>;

/** Lines looked at; the newest count. */
const MOST_LINES = 60;
/** Bytes without a line end before their framing is doubted. */
const DOUBT_BYTES = 48;
const PICTURE_MS = 150;

/** Listens to a port outside a session and says after each line what was learnt about the gauge. */
export class LearnPort {
  readonly #link: GaugeLink;
  readonly #onLearnt: (learnt: Learnt) => void;
  readonly #lines: { readonly tMs: number; readonly line: string }[] = [];
  #unended = new Uint8Array(0);
  #timer: NodeJS.Timeout | null = null;

  constructor(newPort: () => GaugePort, lineMs: number, onLearnt: (learnt: Learnt) => void) {
    this.#onLearnt = onLearnt;
    this.#link = new GaugeLink({
      newPort: () => tapped(newPort(), (bytes) => this.#doubt(bytes)),
      lineMs,
      onLine: (line) => {
        this.#unended = new Uint8Array(0);
        this.#lines.push({ tMs: performance.now(), line });
        if (this.#lines.length > MOST_LINES) this.#lines.shift();
        this.#sayLater();
      },
      onLink: () => {},
    });
  }

  /** @throws PortError when the port cannot be opened. */
  async start(): Promise<void> {
    await this.#link.connect();
    this.#sayLater();
  }

  async stop(): Promise<void> {
    if (this.#timer !== null) clearTimeout(this.#timer);
    await this.#link.disconnect();
  }

  // Lines that never end are how wrong framing shows itself.
  #doubt(bytes: Uint8Array): void {
    const all = new Uint8Array([...this.#unended, ...bytes]);
    this.#unended = all.slice(-256);
    if (all.length >= DOUBT_BYTES) this.#sayLater();
  }

  #sayLater(): void {
    this.#timer ??= setTimeout(() => {
      this.#timer = null;
      const found = learnLines(this.#lines);
      const doubt = this.#unended.length >= DOUBT_BYTES ? suspectFraming(this.#unended) : null;
      this.#onLearnt({ ...found, lines: [...found.lines], text: doubt ?? found.text });
    }, PICTURE_MS);
  }
}

function tapped(port: GaugePort, onBytes: (bytes: Uint8Array) => void): GaugePort {
  return {
    open: (handlers) =>
      port.open({
        onBytes(bytes) {
          onBytes(bytes);
          handlers.onBytes(bytes);
        },
        onClose: (closed) => handlers.onClose(closed),
      }),
    write: (text) => port.write(text),
    close: () => port.close(),
  };
}
