import type { Bridge } from "../../core/bridge/messages.ts";
import { LoopbackBridge } from "./loopbackBridge.ts";
import { answerOtherTabs, askOtherTabs } from "./otherTabs.ts";

declare global {
  interface Window {
    /** Put there by the window's preload; absent in a browser. */
    readonly borewright?: Bridge;
  }
}

const TOKEN_KEY = "borewright.token";
const AGAIN = "Open the address that Borewright printed when it was started, or start it again.";

/**
 * Finds the host: the window's own bridge, or the loopback one of a browser's tab.
 * @throws Error with a sentence when there is none for this page.
 */
export async function connect(): Promise<Bridge> {
  if (window.borewright !== undefined) return window.borewright;
  const token = (await exchangeCode()) ?? sessionStorage.getItem(TOKEN_KEY) ?? (await askOtherTabs());
  if (token === null) throw new Error(`This tab has no key. ${AGAIN}`);
  const bridge = new LoopbackBridge(token);
  try {
    await bridge.connect();
  } catch (error) {
    sessionStorage.removeItem(TOKEN_KEY);
    throw new Error(`${error instanceof Error ? error.message : String(error)} ${AGAIN}`);
  }
  sessionStorage.setItem(TOKEN_KEY, token);
  answerOtherTabs(token);
  return bridge;
}

// The address that was printed carries a code that is good once; here it comes into a tab that already has the page.
async function exchangeCode(): Promise<string | null> {
  const code = new URLSearchParams(location.hash.slice(1)).get("code");
  if (code === null) return null;
  history.replaceState(null, "", location.pathname);
  const answer = await fetch("./enter", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ code }),
  }).catch(() => null);
  if (answer === null || !answer.ok) return null;
  return ((await answer.json()) as { token: string }).token;
}
