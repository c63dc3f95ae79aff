import { stat } from "node:fs/promises";
import type { Job } from "../../core/session/job.ts";
import { FileExistsError, writeWhole } from "../host/safeFiles.ts";
import { BLUNDERS, BlunderError } from "../simulator/blunders.ts";
import { simulateFeed } from "../simulator/feed.ts";
import { PseudoTerminalError } from "../simulator/pseudoTerminal.ts";
import { openPseudoTerminals, type PseudoTerminalBench } from "../simulator/pseudoTerminals.ts";
import { SessionEar } from "../simulator/sessionEar.ts";
import type { Truth } from "../simulator/truth.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { need, readOptions } from "./options.ts";
import { fileTrouble, readJobFile } from "./readFiles.ts";

export const SIMULATE_HELP = `borewright simulate --job FILE (--feed FILE | --pty) [--seed N] [--blunder NAME ...]

A bench that is not there: gauges, block and a person who works with them.
  --job         the job file
  --feed        write what the bench saw to a feed file, and the truth beside it as FILE.truth.json
  --pty         put the gauges on pseudo-terminals (needs socat); prints one JSON line a gauge with its path,
                then works until done, until standard input ends, or until it is stopped
  --seed        a whole number from 0; the same seed is the same bench (default 1)
  --blunder     something that goes wrong, by name; may be given several times
  --rate        readings a second of a streaming bore gauge, 1 to 1000 (default 20)
  --step-check  yes or no: whether the person makes the step check (default yes with --feed, no with --pty)
  --hear        with --pty: the person listens to the session file that the tool is writing, and works by what
                it says; otherwise by a plan, from when every gauge is listened to
  --speed       with --pty and a gauge with a data button: how much faster than a person, up to 100 (default 1)
  --truth       with --pty: write the truth to this file
  --force       write over files that are there
With --pty a line typed is what happens to a cable: pull GAUGE, plug GAUGE.
Blunders:
${BLUNDERS.map(({ name, sentence }) => `  ${name.padEnd(18)}${sentence}`).join("\n")}
Exit status: 0 done.
`;

/** So long after the last line the devices stay, so that a tool can read it, ms. */
const LINGER_MS = 3_000;
/** Standard input that ends before this, as with nothing connected to it, says nothing about stopping, ms. */
const NO_INPUT_MS = 500;

interface Wanted {
  readonly job: Job;
  readonly seed: number;
  readonly blunders: readonly string[];
  readonly readingsPerSecond: number;
  readonly stepCheck: boolean | null;
  readonly force: boolean;
}

/** `borewright simulate`. */
export async function simulate(args: readonly string[], io: Io): Promise<number> {
  const { values } = readOptions(
    "simulate",
    args,
    {
      job: "text",
      feed: "text",
      pty: "flag",
      seed: "text",
      blunder: "texts",
      rate: "text",
      "step-check": "text",
      hear: "text",
      speed: "text",
      truth: "text",
      force: "flag",
    },
    0,
  );
  const jobPath = need("simulate", "--job FILE", values.job);
  if ((values.feed === undefined) === !values.pty) {
    throw new WrongUse("simulate: expected either --feed FILE or --pty; see borewright simulate --help");
  }
  for (const name of ["hear", "speed", "truth"] as const) {
    if (values[name] !== undefined && !values.pty) throw new WrongUse(`simulate: --${name} goes with --pty only`);
  }
  const seed = numberOption("seed", values.seed, 1, 0, 4_294_967_295);
  if (!Number.isInteger(seed)) throw new WrongUse(`simulate: --seed ${values.seed}: expected a whole number from 0`);
  const wanted: Wanted = {
    job: (await readJobFile(jobPath)).job,
    seed,
    blunders: values.blunder,
    readingsPerSecond: numberOption("rate", values.rate, 20, 1, 1000),
    stepCheck: yesOrNo("step-check", values["step-check"]),
    force: values.force,
  };
  const speed = numberOption("speed", values.speed, 1, 0.1, 100);
  if (speed !== 1 && wanted.job.gauges.some((gauge) => gauge.role === "bore" && gauge.sends === "stream")) {
    throw new WrongUse("simulate: --speed needs a bore gauge that sends press or held; a stream has its own time");
  }
  try {
    if (values.feed !== undefined) return await writeFeed(values.feed, wanted);
    return await workOnTerminals(wanted, speed, values.hear ?? null, values.truth ?? null, io);
  } catch (error) {
    if (error instanceof BlunderError || error instanceof PseudoTerminalError) {
      throw new WrongUse(`simulate: ${error.message}`);
    }
    throw error;
  }
}

async function writeFeed(path: string, wanted: Wanted): Promise<number> {
  const truthPath = `${path}.truth.json`;
  // Both or neither: a feed beside another feed's truth would mislead.
  if (!wanted.force) await refuseExisting(path, truthPath);
  const { lines, truth } = simulateFeed(wanted.job, {
    seed: wanted.seed,
    blunders: wanted.blunders,
    readingsPerSecond: wanted.readingsPerSecond,
    ...(wanted.stepCheck === null ? {} : { stepCheck: wanted.stepCheck }),
  });
  await writeFile("feed", path, `${lines.join("\n")}\n`, wanted.force);
  await writeFile("truth", truthPath, textOf(truth), wanted.force);
  return EXIT.done;
}

async function workOnTerminals(
  wanted: Wanted,
  speed: number,
  hearPath: string | null,
  truthPath: string | null,
  io: Io,
): Promise<number> {
  let end = () => {};
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  let ear: SessionEar | null = null;
  const bench = await openPseudoTerminals({
    job: wanted.job,
    seed: wanted.seed,
    readingsPerSecond: wanted.readingsPerSecond,
    blunders: wanted.blunders,
    speed,
    byEar: hearPath !== null,
    stepCheck: wanted.stepCheck ?? false,
    onDone: () => setTimeout(end, LINGER_MS),
  });
  try {
    if (truthPath !== null) await writeFile("truth", truthPath, textOf(bench.truth), wanted.force);
    for (const [gauge, path] of bench.paths) io.out(`${JSON.stringify({ gauge, path })}\n`);
    if (hearPath !== null) {
      ear = new SessionEar(
        hearPath,
        (outcome) => bench.hear(outcome),
        (why) => io.err(`borewright simulate: ${why}\n`),
      );
    }
    io.stop.addEventListener("abort", end);
    if (io.stop.aborted) end();
    void obeyTyped(bench, io).then((inputEnded) => {
      if (inputEnded) end();
    });
    await ended;
  } finally {
    ear?.close();
    await bench.close();
  }
  return EXIT.done;
}

/** Pulls and plugs cables as typed. Answers whether standard input was there and has ended. */
async function obeyTyped(bench: PseudoTerminalBench, io: Io): Promise<boolean> {
  const startMs = performance.now();
  for await (const line of io.typed) {
    const [word = "", gauge = ""] = line.trim().split(/\s+/);
    if (word === "") continue;
    try {
      if (word === "pull") await bench.pull(gauge);
      else if (word === "plug") await bench.putBack(gauge);
      else io.err(`borewright simulate: found "${word}"; expected pull GAUGE or plug GAUGE\n`);
    } catch (error) {
      io.err(`borewright simulate: ${error instanceof Error ? error.message : String(error)}\n`);
    }
  }
  return performance.now() - startMs > NO_INPUT_MS;
}

function textOf(truth: Truth): string {
  return `${JSON.stringify(truth, null, 2)}\n`;
}

async function refuseExisting(...paths: string[]): Promise<void> {
  for (const path of paths) {
    if ((await stat(path).catch(() => null)) !== null) {
      throw new WrongUse(`simulate: ${path} is already there; expected a new file, or --force to write over it`);
    }
  }
}

async function writeFile(what: string, path: string, content: string, overwrite: boolean): Promise<void> {
  try {
    await writeWhole(path, content, overwrite);
  } catch (error) {
    if (error instanceof FileExistsError) {
      throw new WrongUse(`simulate: ${path} is already there; expected a new file, or --force to write over it`);
    }
    throw new WrongUse(`simulate: ${what} ${path}: ${fileTrouble(error)}`);
  }
}

function numberOption(name: string, text: string | undefined, otherwise: number, low: number, high: number): number {
  if (text === undefined) return otherwise;
  const value = text.trim() === "" ? Number.NaN : Number(text);
  if (value >= low && value <= high) return value;
  throw new WrongUse(`simulate: --${name} ${text}: expected a number from ${low} to ${high}`);
}

function yesOrNo(name: string, text: string | undefined): boolean | null {
  if (text === undefined) return null;
  if (text === "yes" || text === "no") return text === "yes";
  throw new WrongUse(`simulate: --${name} ${text}: expected yes or no`);
}
