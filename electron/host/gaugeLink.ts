import { LineSplitter } from "../../core/gauge/lineSplitter.ts";
import { CUT_OFF } from "../../core/gauge/shownByte.ts";
import type { LinkState } from "../../core/session/event.ts";
import { type GaugePort, PortError } from "./gaugePort.ts";

export interface GaugeLinkOptions {
  /** Makes a port for one opening; asked again for every attempt to reconnect. */
  readonly newPort: () => GaugePort;
  /** Nothing before this is trusted after an opening, ms: the gauge and its cable wake up. */
  readonly settleMs?: number;
  /** Time one line takes on the wire, ms: a line whose first bytes come sooner may have begun before the opening. */
  readonly lineMs?: number;
  /** Time between attempts to reconnect, ms. */
  readonly retryMs?: number;
  /** A line; one that broke off within carries the mark of a line cut off, and is no reading to any reader. */
  readonly onLine: (line: string) => void;
  /** `lost` says of a lost link what happened; told again when it becomes something else. */
  readonly onLink: (link: LinkState, lost: LinkLoss | null) => void;
}

export interface LinkLoss {
  /** What the system said. */
  readonly why: string;
  /** Sentences for the person, where it is more than a cable to be plugged in again; else null. */
  readonly say: string | null;
}

/** No gauge sends so many lines in a second. */
const MOST_LINES = 2000;
/** Nor so many while the program does one thing; a program that is flooded no longer sees how short a second is. */
const MOST_AT_ONCE = 1000;
/** A port that floods is left alone for so long, ms. */
const FLOOD_PAUSE_MS = 10_000;

/** After so long without a byte, a begun line is not coming to its end any more. */
const SILENCE_MS = 500;
/** A line may be longer than the one before it by a digit and a blank or two, characters. Our choice. */
const MOST_LONGER = 3;
const CR = 0x0d;
const LF = 0x0a;

/**
 * The cable to one gauge: opens its port, cuts its bytes into lines, and opens it again by itself when a pulled cable
 * comes back. Each opening has its own splitter, so half a line from before is never joined to what comes after; what
 * may be the rear half of a line begun before the opening is dropped. A line that broke off is handed over as one cut
 * off, so that the record shows it.
 */
export class GaugeLink {
  readonly #options: GaugeLinkOptions;
  #port: GaugePort | null = null;
  #opening: Opening | null = null;
  #retry: NodeJS.Timeout | null = null;
  #silence: NodeJS.Timeout | null = null;
  #state: LinkState = "closed";
  #say: string | null = null;
  #stopped = false;
  #lastLength = 0;
  /** Length of the last line that came whole, characters; 0 before the first. */
  #usual = 0;
  #secondMs = Number.NEGATIVE_INFINITY;
  #linesInSecond = 0;

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
    if (this.#port === null) throw new PortError("absent", "", "The gauge is not connected; it was not asked.");
    await this.#port.write(text);
  }

  /**
   * Closes the port and opens it anew: what waited in it is dropped, and its first line is not trusted. Does nothing
   * while the port is not open.
   */
  renew(say: string): void {
    this.#abandon({ why: say, say }, 0);
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
      onBytes: (bytes) => {
        if (!opening.over) this.#onBytes(opening, bytes);
      },
      onClose: ({ wanted, why }) => {
        if (!opening.over) this.#onClose(port, wanted, why);
      },
    });
    if (this.#stopped) {
      await port.close();
      return;
    }
    this.#port = port;
    this.#opening = opening;
    this.#become("open", null);
    opening.begin();
  }

  #onBytes(opening: Opening, bytes: Uint8Array): void {
    this.#endSilence();
    const lines = opening.push(bytes);
    if (this.#floods(lines.length)) return;
    for (const line of lines) {
      this.#lastLength = line.length;
      this.#usual = line.length;
      this.#options.onLine(line);
      if (opening.over) return;
    }
    if (opening.pending > 0) this.#silence = setTimeout(() => this.#onSilence(opening), SILENCE_MS);
  }

  #floods(lines: number): boolean {
    const now = performance.now();
    if (now - this.#secondMs >= 1000) {
      this.#secondMs = now;
      this.#linesInSecond = 0;
    }
    this.#linesInSecond += lines;
    if (this.#linesInSecond <= MOST_LINES && lines <= MOST_AT_ONCE) return false;
    const seconds = FLOOD_PAUSE_MS / 1000;
    const say = `It sends thousands of lines a second, as no gauge does, and its port was closed: check its cable and its speed (baud). It is tried again every ${seconds} s.`;
    this.#abandon({ why: "it floods", say }, FLOOD_PAUSE_MS);
    return true;
  }

  /** Lets the open port go, hears nothing more of it, and tries for a new one after a while. */
  #abandon(loss: LinkLoss, pauseMs: number): void {
    const port = this.#port;
    if (port === null) return;
    this.#port = null;
    this.#endSilence();
    this.#opening?.end();
    this.#become("lost", loss);
    void port
      .close()
      .catch(() => {})
      .then(() => this.#tryAgain(pauseMs));
  }

  #endSilence(): void {
    if (this.#silence !== null) clearTimeout(this.#silence);
    this.#silence = null;
  }

  // A line that silence ends is believed only if it is as long as the one before: it lacks its end mark and nothing
  // else. A shorter one is what a cable pulled from the gauge leaves, and "2.54" of "2.5400" would be a wrong reading;
  // a longer one may be whole with a damaged end. Either is handed over, marked so that no reader takes it.
  #onSilence(opening: Opening): void {
    this.#silence = null;
    const awaitsRest = opening.awaitsRest;
    const line = opening.endBySilence();
    if (line === null) return;
    const believed = !awaitsRest && line.length === this.#lastLength;
    this.#lastLength = line.length;
    if (believed) {
      this.#usual = line.length;
      this.#options.onLine(line);
      return;
    }
    this.#options.onLine(line + CUT_OFF);
    opening.awaitRest(line, this.#usual);
  }

  #onClose(port: GaugePort, wanted: boolean, why: string | null): void {
    this.#endSilence();
    if (this.#port === port) this.#port = null;
    if (wanted || this.#stopped) {
      this.#become("closed", null);
      return;
    }
    this.#become("lost", { why: why ?? "the port was closed", say: null });
    this.#tryAgain();
  }

  #tryAgain(pauseMs = this.#options.retryMs ?? 500): void {
    if (this.#stopped) return;
    this.#retry = setTimeout(() => {
      this.#retry = null;
      this.#open().catch((error: unknown) => {
        if (!this.#stopped) this.#become("lost", lossOf(error));
        this.#tryAgain();
      });
    }, pauseMs);
  }

  #become(state: LinkState, lost: LinkLoss | null): void {
    const say = lost?.say ?? null;
    if (this.#state === state && this.#say === say) return;
    this.#state = state;
    this.#say = say;
    this.#options.onLink(state, lost);
  }
}

/** Why a port would not open again; that it is not there says no more than that its cable is out. */
function lossOf(error: unknown): LinkLoss {
  const why = error instanceof Error ? error.message : String(error);
  return { why, say: error instanceof PortError && error.code === "absent" ? null : why };
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
  #over = false;
  /** A line that silence broke off, and how long a whole one usually is; null while none was. */
  #broken: { readonly text: string; readonly usual: number } | null = null;

  constructor(settleMs: number, lineMs: number) {
    this.#settleMs = settleMs;
    this.#lineMs = lineMs;
  }

  get pending(): number {
    return this.#splitter.pending;
  }

  /** What comes next may be the rest of a line that silence broke off. */
  get awaitsRest(): boolean {
    return this.#broken !== null;
  }

  /** Nothing of it is heard any more. */
  get over(): boolean {
    return this.#over;
  }

  end(): void {
    this.#over = true;
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
    if (this.#trust === "trusted") return this.#withoutRest(bytes);
    if (end === -1) return [];
    this.#trust = "trusted";
    return this.#splitter.push(bytes.subarray(end + 1));
  }

  endBySilence(): string | null {
    return this.#splitter.flush();
  }

  /** The rest of a line that broke off is no line of its own. A gauge that sends no line ends has no rest. */
  awaitRest(text: string, usual: number): void {
    if (this.#sawLineEnd) this.#broken = { text, usual };
  }

  #withoutRest(bytes: Uint8Array): string[] {
    // The late end of the broken line itself: nothing of it is still to come.
    if (this.#splitter.pending === 0 && (bytes[0] === CR || bytes[0] === LF)) this.#broken = null;
    const lines = this.#splitter.push(bytes);
    const broken = this.#broken;
    const [first, ...others] = lines;
    if (broken === null || first === undefined) return lines;
    this.#broken = null;
    return isWhole(first, broken) ? lines : others;
  }
}

/**
 * Whether what follows a broken line is a line of its own and not its rest: it is as long as a whole one, and either
 * nothing of a number was in the broken one or both together are longer than any line. Else "0.0015" of "10.0015"
 * would be a wrong reading.
 */
function isWhole(line: string, broken: { readonly text: string; readonly usual: number }): boolean {
  const { text, usual } = broken;
  if (usual === 0 || line.length < usual) return false;
  return !/[\d+.-]/.test(text) || text.length + line.length > usual + MOST_LONGER;
}
