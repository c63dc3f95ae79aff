import { randomUUID } from "node:crypto";
import { extname } from "node:path";
import type { BrowserWindow as AppWindow, BrowserWindowConstructorOptions, Dialog } from "electron";
import type { ReportToWrite, WriteReportPdf } from "../host/hostService.ts";
import { Refusal } from "../host/refusal.ts";
import { writeWhole } from "../host/safeFiles.ts";
import { PAGE_SCHEME } from "./pageAddress.ts";

/** What the printer needs of Electron; a class, so that it can be told which. */
interface Shell {
  readonly BrowserWindow: new (options: BrowserWindowConstructorOptions) => AppWindow;
  readonly dialog: Pick<Dialog, "showSaveDialog">;
  /** The window the person looks at; the question where to keep the file belongs to it. */
  readonly window: () => AppWindow | null;
}

/** Addresses of reports lie beside the program's page and are no part of it: what is shown there has no bridge. */
const REPORTS = `${PAGE_SCHEME}://report/`;
/** Drawing may take so long, ms. Our choice: a long report on a slow machine takes a few seconds. */
const DRAWING_MS = 120_000;

/** The report needs its own styles and nothing else, wherever it is shown. */
const HEADERS = {
  "content-type": "text/html; charset=utf-8",
  "content-security-policy": "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'",
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cache-control": "no-store",
};

/**
 * Writes a report as a PDF: drawn in a window that nobody sees, in which no script runs and which has no bridge, on the
 * paper asked for, and kept where the person chooses, whole or not at all. The page's own margins hold the session's
 * seal and "Page x of y".
 */
export class ReportPrinter {
  readonly #shell: Shell;
  /** Reports being drawn, by address. */
  readonly #reports = new Map<string, string>();

  constructor(shell: Shell) {
    this.#shell = shell;
  }

  /** Answers a request for a report that is being drawn; null for every other address, which is not the printer's. */
  answer(request: Request): Response | null {
    if (!request.url.startsWith(REPORTS)) return null;
    const html = this.#reports.get(request.url);
    if (html === undefined || request.method !== "GET") return new Response(null, { status: 404, headers: HEADERS });
    return new Response(html, { headers: HEADERS });
  }

  /** Where the file is now; null if the person chose no place. @throws Refusal with a sentence when it failed. */
  readonly write: WriteReportPdf = async (report) => {
    const path = await this.#choosePlace(report.name);
    if (path === null) return null;
    const bytes = await this.#draw(report);
    const asChosen = extname(path) !== "";
    const file = asChosen ? path : `${path}.pdf`;
    // The person was asked about overwriting the name as chosen, not about one made from it.
    await writeWhole(file, bytes, asChosen);
    return file;
  };

  async #choosePlace(name: string): Promise<string | null> {
    const { dialog, window } = this.#shell;
    const options = {
      title: "Keep the report",
      defaultPath: name,
      filters: [{ name: "PDF", extensions: ["pdf"] }],
      properties: ["createDirectory" as const, "showOverwriteConfirmation" as const],
    };
    const owner = window();
    const answer = await (owner === null ? dialog.showSaveDialog(options) : dialog.showSaveDialog(owner, options));
    return answer.canceled || answer.filePath === "" ? null : answer.filePath;
  }

  async #draw({ html, paper }: ReportToWrite): Promise<Uint8Array> {
    const address = `${REPORTS}${randomUUID()}`;
    this.#reports.set(address, html);
    const window = new this.#shell.BrowserWindow({
      show: false,
      webPreferences: {
        contextIsolation: true,
        sandbox: true,
        nodeIntegration: false,
        javascript: false,
        webSecurity: true,
        webviewTag: false,
        devTools: false,
        spellcheck: false,
      },
    });
    let timer: NodeJS.Timeout | undefined;
    const failed = new Promise<never>((_, fail) => {
      const no = (why: string) => fail(new Refusal("not-printed", `The report was not written as a PDF: ${why}.`));
      window.webContents.on("render-process-gone", () => no("the window that draws it fell over. Try it once more"));
      timer = setTimeout(() => no("drawing it took too long. Try again when the machine has less to do"), DRAWING_MS);
    });
    try {
      const drawn = window.loadURL(address).then(() =>
        window.webContents.printToPDF({
          pageSize: paper,
          printBackground: true,
          generateTaggedPDF: true,
          // The page has its own margins, with the seal and the page numbers in them.
          margins: { top: 0, bottom: 0, left: 0, right: 0 },
        }),
      );
      return await Promise.race([drawn, failed]);
    } catch (error) {
      if (error instanceof Refusal) throw error;
      const why = error instanceof Error ? error.message : String(error);
      throw new Refusal("not-printed", `The report was not written as a PDF: it could not be drawn (${why}).`);
    } finally {
      clearTimeout(timer);
      this.#reports.delete(address);
      if (!window.isDestroyed()) window.destroy();
    }
  }
}
