import { open } from "node:fs/promises";
import { isInputType, parseSessionInput } from "../../core/session/eventSchema.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";

const LOOK_MS = 100;

/**
 * Listens to a tool at work by the session file it writes, as it grows: what is on disk is what the tool has said.
 * Each event is read by the same reducer that the tool uses, and what it brings about is passed on. The file may come
 * later, or grow from what is there already.
 */
export class SessionEar {
  readonly #path: string;
  readonly #onOutcome: (outcome: Outcome) => void;
  #run: SessionRun | null = null;
  #rest = Buffer.alloc(0);
  #offset = 0;
  #timer: NodeJS.Timeout | null = null;
  #closed = false;

  /** @param onTrouble a line that is no record of a session; it is told once, and nothing more is heard. */
  constructor(path: string, onOutcome: (outcome: Outcome) => void, onTrouble: (why: string) => void) {
    this.#path = path;
    this.#onOutcome = onOutcome;
    const look = async () => {
      try {
        await this.#readOn();
      } catch (error) {
        onTrouble(`session ${path}: ${error instanceof Error ? error.message : String(error)}`);
        return;
      }
      if (!this.#closed) this.#timer = setTimeout(() => void look(), LOOK_MS);
    };
    void look();
  }

  close(): void {
    this.#closed = true;
    if (this.#timer !== null) clearTimeout(this.#timer);
  }

  async #readOn(): Promise<void> {
    const file = await open(this.#path, "r").catch((error: NodeJS.ErrnoException) => {
      if (error.code === "ENOENT") return null;
      throw error;
    });
    if (file === null) return;
    try {
      const { size } = await file.stat();
      if (size <= this.#offset) return;
      const { bytesRead, buffer } = await file.read(Buffer.alloc(size - this.#offset), 0, null, this.#offset);
      this.#offset += bytesRead;
      this.#rest = Buffer.concat([this.#rest, buffer.subarray(0, bytesRead)]);
    } finally {
      await file.close();
    }
    for (let end = this.#rest.indexOf(0x0a); end >= 0 && !this.#closed; end = this.#rest.indexOf(0x0a)) {
      const line = this.#rest.subarray(0, end).toString("utf8");
      this.#rest = this.#rest.subarray(end + 1);
      this.#hear(JSON.parse(line) as Record<string, unknown>);
    }
  }

  #hear(record: Record<string, unknown>): void {
    if (this.#run === null) {
      if (record.format !== "borewright/session") throw new Error('expected a first line with "borewright/session"');
      this.#run = new SessionRun(parseJob(record.job));
      return;
    }
    if (!isInputType(record.type)) return;
    for (const outcome of this.#run.apply(parseSessionInput(record))) this.#onOutcome(outcome);
  }
}
