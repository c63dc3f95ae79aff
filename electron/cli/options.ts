import { parseArgs } from "node:util";
import { WrongUse } from "./io.ts";

/** Options of a command by name: a flag, a text, or a text that may be given several times. */
type Options = Readonly<Record<string, "flag" | "text" | "texts">>;

type Values<O extends Options> = {
  readonly [K in keyof O]: O[K] extends "flag" ? boolean : O[K] extends "text" ? string | undefined : readonly string[];
};

/**
 * Reads a command's options and up to `files` names beside them; unknown ones and missing values are refused.
 * @throws WrongUse
 */
export function readOptions<O extends Options>(
  command: string,
  args: readonly string[],
  options: O,
  files: number,
): { readonly values: Values<O>; readonly files: readonly string[] } {
  const config = Object.fromEntries(
    Object.entries(options).map(([name, kind]) => [
      name,
      { type: kind === "flag" ? ("boolean" as const) : ("string" as const), multiple: kind === "texts" },
    ]),
  );
  let parsed: { values: Record<string, unknown>; positionals: string[] };
  try {
    parsed = parseArgs({ args: [...args], options: config, strict: true, allowPositionals: true });
  } catch (error) {
    const says = error instanceof Error ? (error.message.split(/\. |\n/)[0] ?? "") : String(error);
    throw new WrongUse(`${command}: ${says}; see borewright ${command} --help`);
  }
  const extra = parsed.positionals[files];
  if (extra !== undefined) throw new WrongUse(`${command}: found "${extra}"; expected nothing more there`);
  const values = Object.fromEntries(
    Object.entries(options).map(([name, kind]) => [
      name,
      kind === "flag"
        ? parsed.values[name] === true
        : kind === "texts"
          ? (parsed.values[name] ?? [])
          : parsed.values[name],
    ]),
  );
  return { values: values as Values<O>, files: parsed.positionals };
}

/** The value of an option that must be there. @throws WrongUse */
export function need(command: string, name: string, value: string | undefined): string {
  if (value !== undefined && value !== "") return value;
  throw new WrongUse(`${command}: ${name} is missing; see borewright ${command} --help`);
}
