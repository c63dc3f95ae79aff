import { existsSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";

/** Where the sessions are: `BOREWRIGHT_FOLDER`, or the folder "Borewright" in the user's documents (or home). */
export function hostFolder(environment: NodeJS.ProcessEnv = process.env): string {
  const own = environment.BOREWRIGHT_FOLDER;
  if (own !== undefined && own !== "") return own;
  const documents = join(homedir(), "Documents");
  return join(existsSync(documents) ? documents : homedir(), "Borewright");
}
