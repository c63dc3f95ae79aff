import { open } from "node:fs/promises";
import { isInputType, parseSessionInput } from "../../core/session/eventSchema.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";

const LOOK_MS = 20;

/**
 * Listens to a tool at work by the session file it writes, as it grows: what is on disk is what the tool has said.
 * Each event is read by the same reducer that the tool uses, and what it brings about is passed on. The file may come
 * later, or grow from what is there already.
 */
export class SessionEar {
  readonly #path: string;
  readonly #onOutcome: (outcome: Outcome) => void;
  #run: SessionRun | null = null;
  /** End of the last whole line heard; a torn one behind it may be set aside and the file grow from here again. */
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
      const fresh = buffer.subarray(0, bytesRead);
      let start = 0;
      for (let end = fresh.indexOf(0x0a); end >= 0 && !this.#closed; end = fresh.indexOf(0x0a, start)) {
        const line = fresh.subarray(start, end).toString("utf8");
        start = end + 1;
        this.#hear(JSON.parse(line) as Record<string, unknown>);
      }
      this.#offset += start;
    } finally {
      await file.close();
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
