import type { Envelope } from "../../core/bridge/messages.ts";
import { DeriveError } from "../../core/session/derive.ts";
import { JobError } from "../../core/session/jobError.ts";
import { SessionError } from "../../core/session/recording.ts";
import { diskSentence } from "./diskSentence.ts";
import { PortError } from "./gaugePort.ts";
import { LockedError } from "./lockFile.ts";
import { FileExistsError } from "./safeFiles.ts";
import { NoSuchSession } from "./sessionFolder.ts";

/** Thrown by the host for what it will not do; becomes an envelope with this code and sentence. */
export class Refusal extends Error {
  override readonly name = "Refusal";
  readonly code: string;
  constructor(code: string, message: string) {
    super(message);
    this.code = code;
  }
}

/** An error as the envelope that crosses the bridge: a code to test, a sentence to show. */
export function refusalOf(error: unknown): Envelope<never> {
  const no = (code: string, message: string): Envelope<never> => ({ ok: false, code, message });
  if (error instanceof Refusal) return no(error.code, error.message);
  if (error instanceof JobError) return no("job", error.message);
  if (error instanceof DeriveError) return no("derive", `Nothing was derived: ${error.message}.`);
  if (error instanceof SessionError) return no("session", `line ${error.line}: ${error.message}`);
  if (error instanceof PortError) return no(`port-${error.code}`, error.message);
  if (error instanceof LockedError) return no("locked", error.message);
  if (error instanceof NoSuchSession) return no("no-such-session", error.message);
  if (error instanceof FileExistsError) return no("exists", error.message);
  const path = (error as NodeJS.ErrnoException | null)?.path;
  if (typeof (error as NodeJS.ErrnoException | null)?.code === "string") {
    return no("disk", `${path ?? "The folder of the sessions"}: ${diskSentence(error)}.`);
  }
  return no("failed", error instanceof Error ? error.message : String(error));
}
