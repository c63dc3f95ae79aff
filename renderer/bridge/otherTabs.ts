const CHANNEL = "borewright.tabs";
const PATIENCE_MS = 400;

/**
 * Asks the other tabs of this very address for the key, so that a second tab can be opened to look on. The browser
 * keeps such talk within one origin, port included.
 */
export function askOtherTabs(): Promise<string | null> {
  return new Promise((resolve) => {
    const channel = new BroadcastChannel(CHANNEL);
    const finish = (token: string | null) => {
      clearTimeout(patience);
      channel.close();
      resolve(token);
    };
    const patience = setTimeout(() => finish(null), PATIENCE_MS);
    channel.onmessage = ({ data }: MessageEvent<{ readonly token?: unknown }>) => {
      if (typeof data?.token === "string") finish(data.token);
    };
    channel.postMessage({ ask: "token" });
  });
}

/** Gives the key to other tabs that ask, for as long as this one is open. */
export function answerOtherTabs(token: string): void {
  const channel = new BroadcastChannel(CHANNEL);
  channel.onmessage = ({ data }: MessageEvent<{ readonly ask?: unknown }>) => {
    if (data?.ask === "token") channel.postMessage({ token });
  };
}
