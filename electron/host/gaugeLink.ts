import { LineSplitter } from "../../core/gauge/lineSplitter.ts";
import type { LinkState } from "../../core/session/event.ts";
import type { GaugePort } from "./gaugePort.ts";

export interface GaugeLinkOptions {
  /** Makes a port for one opening; asked again for every attempt to reconnect. */
  readonly newPort: () => GaugePort;
  /** Nothing before this is trusted after an opening, ms: the gauge and its cable wake up. */
  readonly settleMs?: number;
  /** Time one line takes on the wire, ms: a line whose first bytes come sooner may have begun before the opening. */
  readonly lineMs?: number;
  /** Time between attempts to reconnect, ms. */
  readonly retryMs?: number;
  readonly onLine: (line: string) => void;
  /** `why` says in a sentence what happened to a lost link. */
  readonly onLink: (link: LinkState, why: string | null) => void;
}

/** After so long without a byte, a begun line is not coming to its end any more. */
const SILENCE_MS = 500;
const CR = 0x0d;
const LF = 0x0a;

/**
 * The cable to one gauge: opens its port, cuts its bytes into lines, and opens it again by itself when a pulled cable
 * comes back. Each opening has its own splitter, so half a line from before is never joined to what comes after; what
 * may be the rear half of a line begun before the opening is dropped.
 */
export class GaugeLink {
  readonly #options: GaugeLinkOptions;
  #port: GaugePort | null = null;
  #retry: NodeJS.Timeout | null = null;
  #silence: NodeJS.Timeout | null = null;
  #state: LinkState = "closed";
  #stopped = false;
  #lastLength = 0;

  constructor(options: GaugeLinkOptions) {
    this.#options = options;
  }

  get state(): LinkState {
    return this.#state;
  }

  /** Opens the port. @throws PortError when it cannot be opened; the link then stays closed and does not try again. */
  async connect(): Promise<void> {
    await this.#open();
  }

  /** Writes to the gauge. @throws PortError when the link is not open. */
  async write(text: string): Promise<void> {
    await this.#port?.write(text);
  }

  /** Closes the port and stops trying. */
  async disconnect(): Promise<void> {
    this.#stopped = true;
    if (this.#retry !== null) clearTimeout(this.#retry);
    this.#retry = null;
    const port = this.#port;
    if (port === null) this.#become("closed", null);
    else await port.close();
  }

  async #open(): Promise<void> {
    const port = this.#options.newPort();
    const opening = new Opening(this.#options.settleMs ?? 0, this.#options.lineMs ?? 0);
    await port.open({
      onBytes: (bytes) => this.#onBytes(opening, bytes),
      onClose: ({ wanted, why }) => this.#onClose(port, wanted, why),
    });
    if (this.#stopped) {
      await port.close();
      return;
    }
    this.#port = port;
    this.#become("open", null);
    opening.begin();
  }

  #onBytes(opening: Opening, bytes: Uint8Array): void {
    if (this.#silence !== null) clearTimeout(this.#silence);
    this.#silence = null;
    for (const line of opening.push(bytes)) {
      this.#lastLength = line.length;
      this.#options.onLine(line);
    }
    if (opening.pending > 0) this.#silence = setTimeout(() => this.#onSilence(opening), SILENCE_MS);
  }

  // A line that silence ends is believed only if it is as long as the one before: it lacks its end mark and nothing
  // else. A shorter one is what a cable pulled from the gauge leaves, and "2.54" of "2.5400" would be a wrong reading.
  #onSilence(opening: Opening): void {
    this.#silence = null;
    const line = opening.endBySilence();
    if (line === null) return;
    const believed = line.length === this.#lastLength;
    this.#lastLength = line.length;
    if (believed) this.#options.onLine(line);
    else opening.skipToLineEnd();
  }

  #onClose(port: GaugePort, wanted: boolean, why: string | null): void {
    if (this.#silence !== null) clearTimeout(this.#silence);
    this.#silence = null;
    if (this.#port === port) this.#port = null;
    if (wanted || this.#stopped) {
      this.#become("closed", null);
      return;
    }
    this.#become("lost", why);
    this.#tryAgain();
  }

  #tryAgain(): void {
    if (this.#stopped) return;
    this.#retry = setTimeout(() => {
      this.#retry = null;
      this.#open().catch(() => this.#tryAgain());
    }, this.#options.retryMs ?? 500);
  }

  #become(state: LinkState, why: string | null): void {
    if (this.#state === state) return;
    this.#state = state;
    this.#options.onLink(state, why);
  }
}

/** The bytes of one opening of a port. */
class Opening {
  readonly #splitter = new LineSplitter();
  readonly #settleMs: number;
  readonly #lineMs: number;
  #beganMs = performance.now();
  /** Settling: everything is dropped. Aligning: dropped up to the next line end. */
  #trust: "settling" | "aligning" | "trusted" = "settling";
  #sawLineEnd = false;
  #droppedInLine = false;

  constructor(settleMs: number, lineMs: number) {
    this.#settleMs = settleMs;
    this.#lineMs = lineMs;
  }

  get pending(): number {
    return this.#splitter.pending;
  }

  begin(): void {
    this.#beganMs = performance.now();
  }

  push(bytes: Uint8Array): string[] {
    if (this.#trust === "settling") {
      const age = performance.now() - this.#beganMs;
      if (age < this.#settleMs) {
        const last = bytes.at(-1);
        this.#droppedInLine = last !== undefined && last !== CR && last !== LF;
        return [];
      }
      this.#trust = this.#droppedInLine || age < this.#settleMs + this.#lineMs ? "aligning" : "trusted";
    }
    const end = bytes.findIndex((byte) => byte === CR || byte === LF);
    if (end !== -1) this.#sawLineEnd = true;
    if (this.#trust === "trusted") return this.#splitter.push(bytes);
    if (end === -1) return [];
    this.#trust = "trusted";
    return this.#splitter.push(bytes.subarray(end + 1));
  }

  endBySilence(): string | null {
    return this.#splitter.flush();
  }

  /** The rest of a line that stopped half-way is no line of its own. A gauge that sends no line ends has no rest. */
  skipToLineEnd(): void {
    if (this.#sawLineEnd) this.#trust = "aligning";
  }
}
