import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import { expect } from "vitest";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import type { Result } from "../../core/report/result.ts";
import { Recording } from "../../core/session/recording.ts";
import { everyVerdict, sampleSession } from "../report/sampleSession.ts";
import type { WindowShell } from "./windowShell.ts";
import type { WindowSpec } from "./windowSpecs.ts";

const run = (command: string, args: readonly string[]) => spawnSync(command, args, { encoding: "utf8" });

const lacking = run("pdftotext", ["-v"]).error !== undefined;
if (lacking) console.warn("There is no pdftotext (poppler-utils): what stands in the report's PDF is not tested.");

type Answer<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly message: string };

async function call<T>(page: Page, method: string, input: unknown): Promise<T> {
  const answer = (await page.evaluate(([name, given]) => window.borewright.call(name as never, given as never), [
    method,
    input,
  ] as const)) as Answer<T>;
  if (!answer.ok) throw new Error(answer.message);
  return answer.value;
}

/** The file of a session of sixteen bores with every verdict, one of them felt by hand. */
function sessionText(): string {
  const { recording, inputs } = sampleSession({
    clearanceNm: everyVerdict,
    afterwards: (feed) => feed({ type: "feel", bore: "1I", found: "drags", oil: "engine oil" }),
  });
  const again = Recording.read(recording.headerText).recording;
  return again.headerText + inputs.map((input) => again.record(input).text).join("");
}

/** Opens that session, lets the person choose `path` (null: no place), and does the work; all is closed again after it. */
async function withReport(
  shell: WindowShell,
  page: Page,
  path: string | null,
  work: () => Promise<void>,
): Promise<void> {
  const { id } = await call<{ id: string }>(page, "session.adopt", {
    name: "report.bwsession",
    content: sessionText(),
  });
  await call(page, "session.open", { id, readOnly: true });
  await shell.evaluate(({ dialog }, filePath) => {
    const answer = { canceled: filePath === null, filePath: filePath ?? "" };
    (dialog as { showSaveDialog: unknown }).showSaveDialog = async () => answer;
  }, path);
  try {
    await work();
  } finally {
    await call(page, "session.close", {});
  }
}

async function inFolder(work: (folder: string) => Promise<void>): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "report-pdf-"));
  try {
    await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const pagesOf = (path: string): string[] => run("pdftotext", ["-layout", path, "-"]).stdout.split("\f").slice(0, -1);

/** Of both papers, points, as Chromium rounds them. */
const PAPERS = { A4: /595\.\d+ x 84[12]\.\d+ pts/, Letter: /612 x 792 pts/ } as const;

export const reportPdfSpecs: readonly WindowSpec[] = [
  {
    name: "the report is written as a PDF on the paper asked for, with every clearance, the seal and the page numbers",
    run: (shell, page) =>
      inFolder(async (folder) => {
        const path = join(folder, "report.pdf");
        await withReport(shell, page, path, async () => {
          const { content } = await call<{ content: string }>(page, "session.export", { kind: "result.json" });
          const result = JSON.parse(content) as Result;
          const session = await call<{ content: string }>(page, "session.export", { kind: "session" });
          const { seal } = JSON.parse(session.content.trimEnd().split("\n").at(-1) as string) as { seal: string };
          for (const paper of ["A4", "Letter"] as const) {
            expect(await call(page, "session.reportPdf", { paper, unitFirst: "in" })).toEqual({ path });
            // Nothing is left beside it.
            expect(readdirSync(folder)).toEqual(["report.pdf"]);
            expect(readFileSync(path).subarray(0, 5).toString()).toBe("%PDF-");
            if (lacking) continue;
            expect(run("pdfinfo", [path]).stdout).toMatch(PAPERS[paper]);
            const pages = pagesOf(path);
            expect(pages.length).toBeGreaterThan(3);
            for (const [index, text] of pages.entries()) {
              expect(text).toContain(`Page ${index + 1} of ${pages.length}`);
              expect(text).toContain(`Seal ${seal}`);
            }
            const all = pages.join("\n");
            const clearances = result.bores.flatMap(({ stations }) => stations.flatMap((one) => one.clearanceNm ?? []));
            expect(clearances.length).toBe(30);
            for (const nm of clearances) {
              expect(all).toContain(formatLength(toNm(nm), "in", 5));
              expect(all).toContain(formatLength(toNm(nm), "um", 1));
            }
            expect(all).toContain("Hand and gauge disagree");
          }
        });
      }),
  },
  {
    name: "the report is drawn out of sight, where no script runs and no bridge is, and nothing of that stays",
    run: (shell, page) =>
      inFolder((folder) =>
        withReport(shell, page, join(folder, "report.pdf"), async () => {
          await shell.evaluate(({ app }) => {
            const seen: unknown[] = [];
            Object.assign(globalThis, { seenContents: seen });
            app.on("web-contents-created", (_event, contents) => {
              seen.push((contents as unknown as { getLastWebPreferences(): unknown }).getLastWebPreferences());
            });
          }, 0);
          await call(page, "session.reportPdf", { paper: "A4" });
          const seen = (await shell.evaluate(
            () => JSON.parse(JSON.stringify((globalThis as { seenContents?: unknown }).seenContents)) as unknown,
            0,
          )) as Record<string, unknown>[];
          expect(seen).toHaveLength(1);
          expect(seen[0]).toMatchObject({
            javascript: false,
            sandbox: true,
            contextIsolation: true,
            nodeIntegration: false,
            webviewTag: false,
          });
          expect(seen[0]?.preload ?? null).toBeNull();
          const left = await shell.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows().length, 0);
          expect(left).toBe(1);
          await expect.poll(async () => (await shell.windows()).length, { timeout: 10_000 }).toBe(1);
        }),
      ),
  },
  {
    name: "where no place is chosen nothing is written, and a place that can not be written to is told of in a sentence",
    run: (shell, page) =>
      inFolder(async (folder) => {
        await withReport(shell, page, null, async () => {
          expect(await call(page, "session.reportPdf", { paper: "A4" })).toEqual({ path: null });
        });
        const nowhere = join(folder, "not there", "report.pdf");
        await withReport(shell, page, nowhere, async () => {
          await expect(call(page, "session.reportPdf", { paper: "A4" })).rejects.toThrow(/not there.*: .*\./);
        });
        // A name given without its ending gets one, and does not then overwrite what nobody was asked about.
        const kept = join(folder, "kept.pdf");
        writeFileSync(kept, "mine");
        await withReport(shell, page, join(folder, "kept"), async () => {
          await expect(call(page, "session.reportPdf", { paper: "A4" })).rejects.toThrow(/kept\.pdf is already there/);
        });
        expect(readFileSync(kept, "utf8")).toBe("mine");
        expect(readdirSync(folder)).toEqual(["kept.pdf"]);
      }),
  },
];
