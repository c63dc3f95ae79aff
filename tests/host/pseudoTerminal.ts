import { type ChildProcessWithoutNullStreams, spawn } from "node:child_process";
import { mkdtemp, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** A pseudo-terminal made by socat: `path` is the computer's end, this object the gauge's. */
export class PseudoTerminal {
  readonly path: string;
  received = "";
  readonly #folder: string;
  readonly #socat: ChildProcessWithoutNullStreams;
  readonly #ended: Promise<unknown>;

  private constructor(path: string, folder: string, socat: ChildProcessWithoutNullStreams) {
    this.path = path;
    this.#folder = folder;
    this.#socat = socat;
    this.#ended = new Promise((resolve) => socat.once("exit", resolve));
    socat.stdout.on("data", (bytes: Buffer) => {
      this.received += bytes.toString("latin1");
    });
  }

  /** @param path where its link is to be; a new place when left out */
  static async make(path?: string): Promise<PseudoTerminal> {
    const folder = await mkdtemp(join(tmpdir(), "borewright-pty-"));
    const link = path ?? join(folder, "gauge");
    const socat = spawn("socat", ["-", `PTY,link=${link},raw,echo=0,wait-slave`]);
    for (let turn = 0; turn < 500; turn += 1) {
      if ((await stat(link).catch(() => null)) !== null) return new PseudoTerminal(link, folder, socat);
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    socat.kill();
    throw new Error("socat made no pseudo-terminal within 5 s");
  }

  send(text: string): Promise<void> {
    return new Promise((resolve, reject) => {
      this.#socat.stdin.write(text, "latin1", (error) => (error == null ? resolve() : reject(error)));
    });
  }

  /** The device goes away as with a pulled cable. */
  async pull(): Promise<void> {
    this.#socat.kill("SIGTERM");
    await this.#ended;
  }

  async cleanUp(): Promise<void> {
    await this.pull();
    await rm(this.#folder, { recursive: true, force: true });
  }
}
