import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { _electron } from "@playwright/test";
import type { WindowShell } from "./windowShell.ts";

/** Whether there is an Electron runtime to run on: one pointed to, or one that was fetched beside its package. */
export function hasRuntime(): boolean {
  const pointed = process.env.ELECTRON_OVERRIDE_DIST_PATH;
  if (pointed !== undefined && pointed !== "") return existsSync(pointed);
  try {
    return existsSync(join(dirname(createRequire(import.meta.url).resolve("electron")), "dist", "version"));
  } catch {
    return false;
  }
}

/** Runs a built main file on the Electron runtime. The folder takes the program's user data and its sessions. */
export async function launchRuntime(main: string, userData: string): Promise<WindowShell> {
  const root = process.getuid?.() === 0;
  const program = await _electron.launch({
    env: { ...(process.env as Record<string, string>), BOREWRIGHT_FOLDER: join(userData, "sessions") },
    args: [main, `--user-data-dir=${userData}`, ...(root ? ["--no-sandbox"] : [])],
  });
  const ended = new Promise<void>((resolve) => {
    program.once("close", () => resolve());
  });
  return {
    kind: "the Electron runtime",
    evaluate: (work, argument) => program.evaluate(work as never, argument) as never,
    firstWindow: async () => {
      const page = await program.firstWindow();
      await page.waitForLoadState("load");
      return page;
    },
    windows: async () => program.windows(),
    ended,
    close: async () => {
      await program.evaluate(({ app }) => app.quit()).catch(() => {});
      await Promise.race([ended, new Promise((resolve) => setTimeout(resolve, 12_000))]);
      await program.close();
    },
  };
}
