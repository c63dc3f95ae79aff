import type { App, Session, WebContents } from "electron";
import { isPageAddress } from "./pageAddress.ts";

/** Refuses the page every permission, device and picture of the screen, and every file that it did not make itself. */
export function lockSession(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  session.on("will-download", (event, item) => {
    // Tables and sealed sessions are made by the page itself; Electron then asks the person where to keep them.
    if (!item.getURL().startsWith("blob:") && !item.getURL().startsWith("data:")) event.preventDefault();
  });
}

/** Keeps contents on the page they were made for: no other address, no second window, nothing embedded. */
function lockContents(contents: WebContents): void {
  const stay = (event: { preventDefault(): void; readonly url: string }) => {
    if (!isPageAddress(event.url)) event.preventDefault();
  };
  contents.on("will-navigate", stay);
  contents.on("will-frame-navigate", stay);
  contents.on("will-redirect", stay);
  contents.on("will-attach-webview", (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: "deny" }));
}

/** Locks whatever contents the program ever makes, so that none can be forgotten. */
export function lockAllContents(app: App): void {
  app.on("web-contents-created", (_event, contents) => lockContents(contents));
}
