import { errorText } from "../length/shownText.ts";

/** Thrown for a job that makes no sense: `path` says where, the message what was found and what was expected. */
export class JobError extends Error {
  override readonly name = "JobError";
  readonly path: string;
  constructor(path: string, message: string) {
    super(errorText(path === "" ? message : `${errorText(path)}: ${message}`));
    this.path = path;
  }
}
