import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { launchDouble } from "../window/electronDouble/launchDouble.ts";
import { hasRuntime, launchRuntime } from "../window/launchRuntime.ts";
import type { WindowShell } from "../window/windowShell.ts";
import { windowSpecs } from "../window/windowSpecs.ts";

const main = fileURLToPath(new URL("../../dist/window/main.cjs", import.meta.url));

const runs: readonly [
  kind: string,
  there: boolean,
  launch: (main: string, userData: string) => Promise<WindowShell>,
][] = [
  ["against a double of the electron module", true, launchDouble],
  ["on the Electron runtime", hasRuntime(), launchRuntime],
];

describe.each(runs)("the built window shell %s", (_kind, there, launch) => {
  describe.skipIf(!there)(there ? "" : "(skipped: there is no Electron runtime here)", () => {
    let folder: string;
    let shell: WindowShell;
    let page: Page;
    beforeAll(async () => {
      expect(existsSync(main), "dist/window/main.cjs: run `npm run build` first").toBe(true);
      folder = mkdtempSync(join(tmpdir(), "window-"));
      shell = await launch(main, folder);
      page = await shell.firstWindow();
    });
    afterAll(async () => {
      await shell?.close();
      rmSync(folder, { recursive: true, force: true });
    });

    for (const { name, run } of windowSpecs) test(name, () => run(shell, page));
  });
});
