import { createInterface } from "node:readline";
import { appName } from "../host/appName.ts";
import { COMPARE_HELP, compare } from "./compare.ts";
import { HANDOVER_HELP, handover } from "./handover.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { OPEN_HELP, open } from "./open.ts";
import { PAIR_HELP, pair } from "./pair.ts";
import { RECHECK_HELP, recheck } from "./recheck.ts";
import { REMEDY_HELP, remedy } from "./remedy.ts";
import { SCHEMA_HELP, schema } from "./schema.ts";
import { SIMULATE_HELP, simulate } from "./simulate.ts";
import { STUDY_HELP, study } from "./study.ts";
import { WALK_HELP, walk } from "./walk.ts";

interface Command {
  readonly run: (args: readonly string[], io: Io) => Promise<number>;
  readonly does: string;
  readonly help: string;
}

const COMMANDS: Readonly<Record<string, Command>> = {
  walk: { run: walk, does: "a walk round the block without a window", help: WALK_HELP },
  recheck: { run: recheck, does: "read a session again from its raw lines", help: RECHECK_HELP },
  pair: { run: pair, does: "which lifter goes into which bore", help: PAIR_HELP },
  remedy: { run: remedy, does: "what to do with each bore", help: REMEDY_HELP },
  compare: { run: compare, does: "a later session of a block laid over an earlier one", help: COMPARE_HELP },
  handover: { run: handover, does: "pack a session for the next builder into one file", help: HANDOVER_HELP },
  open: { run: open, does: "check a parcel and show what is in it", help: OPEN_HELP },
  study: { run: study, does: "repeatability and reproducibility of a gauge", help: STUDY_HELP },
  simulate: { run: simulate, does: "a bench that is not there, to try the tool with", help: SIMULATE_HELP },
  schema: { run: schema, does: "the JSON Schema of each format", help: SCHEMA_HELP },
};

const HELP = `borewright COMMAND ...

Proves that every lifter bore of an engine block fits its lifter.

${Object.entries(COMMANDS)
  .map(([name, { does }]) => `  ${name.padEnd(10)}${does}`)
  .join("\n")}

borewright COMMAND --help says more. Exit status: 0 done, 2 wrong use or a bad file;
each command's help names its others. Nothing is overwritten without --force.
`;

/** Runs one command and gives the program's exit status. Wrong use and bad files are said in one line. */
export async function runCommand(args: readonly string[], io: Io): Promise<number> {
  const [name, ...rest] = args;
  if (name === "--version") {
    io.out(`${appName}\n`);
    return EXIT.done;
  }
  if (name === "--help" || name === "-h" || name === "help") {
    io.out(HELP);
    return EXIT.done;
  }
  const command = name === undefined || !Object.hasOwn(COMMANDS, name) ? undefined : COMMANDS[name];
  if (command === undefined) {
    const found = name === undefined ? "no command" : `command "${name}"`;
    io.err(`borewright: found ${found}; expected one of ${Object.keys(COMMANDS).join(", ")} (or --help)\n`);
    return EXIT.wrongUse;
  }
  if (rest.includes("--help") || rest.includes("-h")) {
    io.out(command.help);
    return EXIT.done;
  }
  try {
    return await command.run(rest, io);
  } catch (error) {
    if (error instanceof WrongUse) {
      io.err(`borewright ${error.message.replace(/\s*\n\s*/g, " ")}\n`);
      return EXIT.wrongUse;
    }
    io.err(`borewright ${name}: ${error instanceof Error ? error.message : String(error)}\n`);
    return EXIT.failed;
  }
}

/** A command that was told to leave and does not is ended after this, ms. */
const LEAVE_MS = 3000;

/** Runs the command line of this process; ends when its output is written. */
export async function runProcess(): Promise<void> {
  const { stop, leave } = createSignals();
  // A reader that has seen enough (such as `head`) closes the pipe: there is nobody left to tell.
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(EXIT.failed);
    throw error;
  });
  const status = await runCommand(process.argv.slice(2), {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    typed: createTyped(),
    get stop() {
      return stop();
    },
    leave,
  });
  await new Promise<void>((done) => process.stdout.write("", () => done()));
  // Standard input may still be open; nothing more is wanted from it.
  process.exit(status);
}

/**
 * Ctrl-C: the first asks a command to stop, the second to leave at once, the third ends it. They are heard from when a
 * command looks at `stop`; one that never does is ended by the first, as the system does it.
 */
function createSignals(): { readonly stop: () => AbortSignal; readonly leave: AbortSignal } {
  const stop = new AbortController();
  const leave = new AbortController();
  const hear = () => {
    if (leave.signal.aborted) process.exit(EXIT.failed);
    if (!stop.signal.aborted) return stop.abort();
    leave.abort();
    setTimeout(() => process.exit(EXIT.failed), LEAVE_MS).unref();
  };
  let heard = false;
  return {
    stop: () => {
      if (!heard) for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, hear);
      heard = true;
      return stop.signal;
    },
    leave: leave.signal,
  };
}

// Standard input is touched only when a command asks for it, so that the others do not wait for it.
function createTyped(): AsyncIterable<string> {
  return {
    async *[Symbol.asyncIterator]() {
      yield* createInterface({ input: process.stdin });
    },
  };
}
