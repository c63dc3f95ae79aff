import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { launchDouble } from "../window/electronDouble/launchDouble.ts";
import { hasRuntime, launchRuntime } from "../window/launchRuntime.ts";
import { reportPdfSpecs } from "../window/reportPdfSpecs.ts";
import type { WindowShell } from "../window/windowShell.ts";
import { windowSpecs } from "../window/windowSpecs.ts";

const fixtures = fileURLToPath(new URL("../../fixtures/parcels", import.meta.url));
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

    test("a parcel opened from outside the window is checked at Handover", async () => {
      await shell.evaluate(
        ({ app }, path) => {
          app.emit("open-file", { preventDefault: () => {} }, path);
        },
        join(fixtures, "two-bores.bwparcel"),
      );
      await page.getByRole("heading", { name: "Handover", level: 1 }).waitFor();
      await page.getByText("Intact, and not signed").waitFor();
    });

    test("a file that cannot be taken is said to be so, and nothing else is read", async () => {
      await shell.evaluate(({ app }) => {
        app.emit("second-instance", {}, [], "/", { files: ["/etc/hostname", "/no/such.bwsession", 7] });
      }, 0);
      await page.getByText("/no/such.bwsession: there is no such file any more.").waitFor();
      expect(await page.getByText("hostname").count()).toBe(0);
      // The message lies over the help, which a spec before has opened.
      await page.getByRole("button", { name: "Dismiss" }).click();
    });

    for (const { name, run } of reportPdfSpecs) test(name, () => run(shell, page));

    test("a second start shows the window that is there and ends", async () => {
      // It may have ended before anyone could take hold of it.
      const second = await launch(main, folder).catch(() => null);
      const late = new Promise((resolve) => setTimeout(() => resolve(false), 10_000));
      const ended = second === null || (await Promise.race([second.ended.then(() => true), late]));
      await second?.close();
      expect(ended).toBe(true);
      expect(await shell.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows().length, 0)).toBe(1);
      expect(await page.title()).toMatch(/Borewright$/);
    });

    test("quitting closes the open session: its lock is gone and its file can be gone on with", async () => {
      const job = {
        title: "Bench example",
        layout: "v8-alternate",
        lifter: { style: "flat", nominal: "0.8420 in" },
        limits: { low: "0.0013 in", high: "0.0019 in" },
      };
      const opened = await page.evaluate(
        (given) =>
          window.borewright.call("session.new", {
            job: { format: "borewright/job", version: 1, ...given },
            simulate: true,
          }),
        job,
      );
      if (!opened.ok) throw new Error(opened.message);
      await page.evaluate(() =>
        window.borewright.call("session.act", { action: { type: "note", text: "the last word" } }),
      );
      const sessions = join(folder, "sessions");
      expect(readdirSync(sessions)).toEqual(expect.arrayContaining([expect.stringMatching(/\.lock$/)]));

      // Another session opened from outside meanwhile is taken in, and leaves the walk alone.
      const elsewhere = join(folder, "from elsewhere.bwsession");
      writeFileSync(elsewhere, readFileSync(join(sessions, opened.value.id), "utf8"));
      await shell.evaluate(
        ({ app }, files) => {
          app.emit("second-instance", {}, [], "/", { files });
        },
        [elsewhere],
      );
      await page.getByText("It was not opened, as a block is being measured.").waitFor();
      expect(readdirSync(sessions)).toContain("from elsewhere.bwsession");
      await shell.evaluate(({ app }) => app.quit(), 0);
      await shell.ended;
      // Sessions of the specs before may lie beside it, but no lock of any.
      const left = readdirSync(sessions).filter((name) => !name.startsWith("."));
      expect(left).toContain(opened.value.id);
      expect(left.filter((name) => !name.endsWith(".bwsession"))).toEqual([]);
      expect(readFileSync(join(sessions, opened.value.id), "utf8")).toMatch(/"the last word"[\s\S]*\}\n$/);
    });
  });
});
