import { type ChildProcessWithoutNullStreams, spawn } from "node:child_process";
import { stat } from "node:fs/promises";
import { checkParity, type Parity, sevenBitParity, withParity } from "../../core/gauge/sevenBits.ts";
import { listeningProcesses } from "./listeningProcesses.ts";

/** Thrown when a pseudo-terminal cannot be had; the message says what is missing. */
export class PseudoTerminalError extends Error {
  override readonly name = "PseudoTerminalError";
}

const MAKE_MS = 5_000;
const LOOK_MS = 250;

/**
 * The cable of a simulated gauge as a real device: a pseudo-terminal made by one `socat` process, whose other end is
 * this object. `path` is a link that stays the same when the cable is pulled and put back; the device behind it may
 * not.
 */
export class PseudoTerminal {
  readonly path: string;
  readonly #onHeard: (text: string) => void;
  readonly #parity: Parity | null;
  #socat: ChildProcessWithoutNullStreams | null = null;
  #ended: Promise<void> = Promise.resolve();
  #listened = false;
  #look: NodeJS.Timeout | null = null;
  #closed = false;

  /**
   * @param onHeard what a program wrote to the device.
   * @param framing such as "7E2"; a pseudo-terminal carries bytes, so a parity beside seven bits is their eighth.
   */
  constructor(path: string, onHeard: (text: string) => void, framing = "8N1") {
    this.path = path;
    this.#onHeard = onHeard;
    this.#parity = sevenBitParity(framing);
  }

  /** Whether a program had the device open a moment ago; always true where the system does not tell. */
  get listened(): boolean {
    return this.#listened;
  }

  /**
   * Makes the device, or puts the cable back after `pull`.
   * @throws PseudoTerminalError without socat, or if it makes no device within 5 s.
   */
  async plugIn(): Promise<void> {
    if (this.#socat !== null || this.#closed) return;
    const socat = spawn("socat", ["-", `PTY,link=${this.path},raw,echo=0`]);
    let trouble = "";
    socat.stderr.on("data", (bytes: Buffer) => {
      trouble += bytes.toString();
    });
    socat.on("error", (error: NodeJS.ErrnoException) => {
      trouble = error.code === "ENOENT" ? "socat is not installed; install the package socat" : error.message;
    });
    socat.stdin.on("error", () => {
      // The process has gone; its exit tells.
    });
    socat.stdout.on("data", (bytes: Buffer) => {
      const heard = this.#parity === null ? bytes : checkParity(bytes, this.#parity);
      this.#onHeard(Buffer.from(heard).toString("latin1"));
    });
    this.#socat = socat;
    this.#ended = new Promise((resolve) => {
      socat.once("close", () => {
        if (this.#socat === socat) this.#gone();
        resolve();
      });
    });
    for (const end = Date.now() + MAKE_MS; Date.now() < end && this.#socat === socat && socat.exitCode === null; ) {
      if ((await stat(this.path).catch(() => null)) !== null) {
        this.#lookForListeners();
        return;
      }
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    await this.pull();
    const why = trouble === "" ? "socat made none within 5 s" : trouble.trim().replace(/\s*\n\s*/g, "; ");
    throw new PseudoTerminalError(`no pseudo-terminal at ${this.path}: ${why}`);
  }

  /** Sends what a gauge says; lost while no program has the device open, as on a cable that nobody listens to. */
  send(text: string): void {
    const bytes = Buffer.from(text, "latin1");
    if (this.#listened) this.#socat?.stdin.write(this.#parity === null ? bytes : withParity(bytes, this.#parity));
  }

  /** The device vanishes as with a pulled cable. */
  async pull(): Promise<void> {
    this.#socat?.kill("SIGTERM");
    this.#gone();
    await this.#ended;
  }

  /** Pulls it for good. */
  async close(): Promise<void> {
    this.#closed = true;
    await this.pull();
  }

  #gone(): void {
    this.#socat = null;
    this.#listened = false;
    if (this.#look !== null) clearTimeout(this.#look);
    this.#look = null;
  }

  // What is sent to a device that nobody reads would wait there and come out later, all at once and out of its time.
  #lookForListeners(): void {
    const socat = this.#socat;
    if (socat?.pid === undefined) return;
    const own = socat.pid;
    listeningProcesses(this.path).then((processes) => {
      if (this.#socat !== socat) return;
      this.#listened = processes === null || processes.some((id) => id !== own);
      this.#look = setTimeout(() => this.#lookForListeners(), LOOK_MS);
    });
  }
}
