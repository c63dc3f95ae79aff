import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import type { Bridge } from "../core/bridge/messages.ts";
import { App } from "./App.tsx";
import { listenForControls } from "./controls/listenForControls.ts";
import { listenForTyping } from "./keyboard/listenForTyping.ts";
import { listenForTones } from "./sound/listenForTones.ts";
import { listenForGiven } from "./start/listenForGiven.ts";
import type { SettingsStorage } from "./store/settings.ts";
import { attach, setNoHost } from "./store/store.ts";
import "./theme/tokens.css";
import "./theme/base.css";
import "./theme/print.css";

/** Draws the window and connects it to its host. */
export function mountApp(connect: () => Promise<Bridge>): void {
  const root = document.getElementById("root");
  if (root === null) throw new Error("the page has no element with the id root");
  createRoot(root).render(
    <StrictMode>
      <App />
    </StrictMode>,
  );
  listenForTyping(window);
  listenForControls(window);
  // For as long as the window is there: a lifter or a zero is kept without the walk being on screen.
  listenForTones();
  listenForGiven();
  connect().then(
    (bridge) => attach(bridge, settingsStorage()),
    (error: unknown) => setNoHost(error instanceof Error ? error.message : String(error)),
  );
}

/** The browser's local storage, or one that forgets where that is forbidden. */
function settingsStorage(): SettingsStorage {
  try {
    return window.localStorage;
  } catch {
    return { getItem: () => null, setItem: () => undefined };
  }
}
