import { runCommand } from "../../electron/cli/borewright.ts";

/** Runs the command line's own code in this process, with nothing typed at it. */
export async function runHere(
  ...args: readonly string[]
): Promise<{ readonly status: number; readonly out: string; readonly err: string }> {
  let out = "";
  let err = "";
  const status = await runCommand(args, {
    out(text) {
      out += text;
    },
    err(text) {
      err += text;
    },
    typed: (async function* () {})(),
    stop: new AbortController().signal,
    leave: new AbortController().signal,
  });
  return { status, out, err };
}
