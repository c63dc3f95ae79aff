import type { IpcMainInvokeEvent, WebContents } from "electron";
import { isPageAddress } from "./pageAddress.ts";

/**
 * Whether a message comes from the page of the window it should come from: the window's own contents, its outermost
 * frame, showing the page's own address. A frame that has gone meanwhile (null) is nobody.
 */
export function isOwnPage(
  event: Pick<IpcMainInvokeEvent, "sender" | "senderFrame">,
  contents: Pick<WebContents, "id"> | null,
): boolean {
  const frame = event.senderFrame;
  return (
    contents !== null &&
    frame !== null &&
    event.sender.id === contents.id &&
    frame.parent === null &&
    isPageAddress(frame.url)
  );
}
