import type { App, BrowserWindow, Dialog } from "electron";
import type { CarriedHost } from "./carryBridge.ts";

/** How long leaving waits for the last records to reach the disk before it asks, ms. */
const CLOSING_MS = 10_000;

/** A host that can be closed; `close` throws when something could not be saved. */
export interface ClosingHost extends CarriedHost {
  close(): Promise<void>;
}

/**
 * Lets nobody leave before the session is closed and its last record is on the disk. Where that fails, the person is
 * told and chooses; the window stays until then, since what is not on the disk is only held here.
 */
export function closeBeforeLeaving(app: App, dialog: Dialog, host: ClosingHost, window: BrowserWindow): void {
  let state: "working" | "closing" | "closed" = "working";

  const close = async (): Promise<void> => {
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<never>((_, fail) => {
      timer = setTimeout(() => fail(new Error("The disk does not answer.")), CLOSING_MS);
    });
    try {
      await Promise.race([host.close(), late]);
      state = "closed";
    } catch (error) {
      const { response } = await dialog.showMessageBox(window, {
        type: "warning",
        title: "NOT SAVED",
        message: "The last records of this session are not on the disk.",
        detail: `${error instanceof Error ? error.message : String(error)} What was announced as kept is safe.`,
        buttons: ["Stay", "Leave without them"],
        defaultId: 0,
        cancelId: 0,
      });
      state = response === 1 ? "closed" : "working";
    } finally {
      clearTimeout(timer);
    }
    if (state === "closed") app.quit();
  };

  window.on("close", (event) => {
    if (state === "closed") return;
    event.preventDefault();
    app.quit();
  });
  app.on("before-quit", (event) => {
    if (state === "closed") return;
    event.preventDefault();
    if (state === "closing") return;
    state = "closing";
    void close();
  });
}
