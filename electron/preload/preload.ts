import { contextBridge, ipcRenderer } from "electron";
import type { Bridge, HostEvent } from "../../core/bridge/messages.ts";
import { CALL_CHANNEL, EVENT_CHANNEL } from "./channels.ts";

// The host speaks as soon as this script runs; the page listens a moment later and must not miss what was said.
let early: HostEvent[] = [];
const listeners = new Set<(event: HostEvent) => void>();

ipcRenderer.on(EVENT_CHANNEL, (_, event: HostEvent) => {
  if (listeners.size === 0) early.push(event);
  for (const listener of listeners) listener(event);
});

const bridge: Bridge = {
  call: (method, input) => ipcRenderer.invoke(CALL_CHANNEL, method, input),
  listen: (onEvent) => {
    // A listener of its own for each call, so that stopping one does not stop another with the same function.
    const listener = (event: HostEvent) => onEvent(event);
    listeners.add(listener);
    const missed = early;
    early = [];
    // Not before this has answered: who listens may stop at the first event, with what it was given here.
    queueMicrotask(() => {
      for (const event of missed) if (listeners.has(listener)) listener(event);
    });
    return () => {
      listeners.delete(listener);
    };
  },
};

contextBridge.exposeInMainWorld("borewright", bridge);
