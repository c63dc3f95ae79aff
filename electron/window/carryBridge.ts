import type { BrowserWindow, IpcMain } from "electron";
import type { Envelope, HostEvent } from "../../core/bridge/messages.ts";
import { CALL_CHANNEL, EVENT_CHANNEL } from "../preload/channels.ts";
import { isOwnPage } from "./isOwnPage.ts";

/** What the shell needs of the host: the bridge, before its methods have types. */
export interface CarriedHost {
  call(method: string, input: unknown, from: { readonly mayAct: boolean }): Promise<Envelope<unknown>>;
  listen(onEvent: (event: HostEvent) => void): () => void;
}

const refuse = (code: string, message: string): Envelope<never> => ({ ok: false, code, message });

/** Carries calls of the window's own page to the host; anyone else gets an envelope that says no. */
export function carryCalls(ipc: IpcMain, host: CarriedHost, window: () => BrowserWindow | null): void {
  ipc.handle(CALL_CHANNEL, (event, method: unknown, input: unknown) => {
    if (!isOwnPage(event, window()?.webContents ?? null))
      return refuse("not-allowed", "This page is not the program's own, so nothing was done.");
    if (typeof method !== "string") return refuse("bad-call", "A call needs the name of a method as text.");
    return host.call(method, input, { mayAct: true });
  });
}

/** Tells the window's page what the host says, from the start again whenever the page is loaded anew. */
export function carryEvents(host: CarriedHost, window: BrowserWindow): void {
  let stop = () => {};
  window.webContents.on("dom-ready", () => {
    stop();
    stop = host.listen((event) => {
      if (!window.isDestroyed()) window.webContents.send(EVENT_CHANNEL, event);
    });
  });
  window.on("closed", () => stop());
}
