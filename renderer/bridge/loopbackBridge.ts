import type { Bridge, Envelope, HostEvent, MethodInput, MethodName, MethodOutput } from "../../core/bridge/messages.ts";
import { EventReader } from "./eventReader.ts";

const TAB_KEY = "borewright.tab";
/** Longest quiet of the stream, ms; its heartbeat is shorter. */
const QUIET_MS = 25_000;
const AGAIN_MS = 1000;

const NO_PROGRAM =
  "NOT SAVED: the program behind this page does not answer. Nothing that happens now is kept. Start Borewright again.";

/** The bridge over this computer's own network: calls by POST, events by a stream that connects again by itself. */
export class LoopbackBridge implements Bridge {
  readonly #token: string;
  readonly #listeners = new Set<(event: HostEvent) => void>();
  #tab: string | null = null;
  #mayAct: boolean | null = null;
  #early: HostEvent[] = [];

  constructor(token: string) {
    this.#token = token;
  }

  /** Connects and stays connected. @throws Error when the program does not know the token. */
  async connect(): Promise<void> {
    await new Promise<void>((resolve, reject) => {
      void this.#stayConnected(resolve, reject);
    });
  }

  async call<M extends MethodName>(method: M, input: MethodInput<M>): Promise<Envelope<MethodOutput<M>>> {
    const answer = await fetch(`./call/${method}`, {
      method: "POST",
      headers: { ...this.#headers(), "content-type": "application/json" },
      body: JSON.stringify(input),
    });
    if (answer.status === 413) {
      return { ok: false, code: "too-large", message: "That is too large to be taken in." } as const;
    }
    if (!answer.ok) throw new Error(`the program refused the call (${answer.status})`);
    return (await answer.json()) as Envelope<MethodOutput<M>>;
  }

  listen(onEvent: (event: HostEvent) => void): () => void {
    const listener = (event: HostEvent) => onEvent(event);
    this.#listeners.add(listener);
    const missed = this.#early;
    this.#early = [];
    queueMicrotask(() => {
      for (const event of missed) if (this.#listeners.has(listener)) listener(event);
    });
    return () => this.#listeners.delete(listener);
  }

  async #stayConnected(onFirst: () => void, onRefused: (error: Error) => void): Promise<void> {
    for (;;) {
      const refused = await this.#readStream(onFirst).catch(() => false);
      if (refused) {
        onRefused(new Error("This tab's key is no longer good."));
        this.#tell({ type: "saved", pending: 0, trouble: NO_PROGRAM });
        return;
      }
      this.#tell({ type: "saved", pending: 0, trouble: NO_PROGRAM });
      await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
    }
  }

  /** Reads until the stream ends; true when the program refuses the token. */
  async #readStream(onFirst: () => void): Promise<boolean> {
    const given = new AbortController();
    const answer = await fetch("./events", { headers: this.#headers(), signal: given.signal, cache: "no-store" });
    if (answer.status === 401 || answer.status === 403) return true;
    if (!answer.ok || answer.body === null) return false;
    const events = new EventReader((name, data) => this.#onEvent(name, data, onFirst));
    const decoder = new TextDecoder();
    const reader = answer.body.getReader();
    let quiet = setTimeout(() => given.abort(), QUIET_MS);
    try {
      for (;;) {
        const { done, value } = await reader.read();
        if (done) return false;
        clearTimeout(quiet);
        quiet = setTimeout(() => given.abort(), QUIET_MS);
        events.push(decoder.decode(value, { stream: true }));
      }
    } finally {
      clearTimeout(quiet);
    }
  }

  #onEvent(name: string, data: string, onFirst: () => void): void {
    const value: unknown = JSON.parse(data);
    if (name === "tab") {
      const { id, mayAct } = value as { id: string; mayAct: boolean };
      this.#tab = id;
      keepTab(id);
      if (this.#mayAct !== null && this.#mayAct !== mayAct) location.reload();
      this.#mayAct = mayAct;
      onFirst();
    } else if (name === "charge") {
      // The tab in charge is gone and this one takes over; it had nothing of its own to lose.
      location.reload();
    } else if (name === "host") {
      this.#tell(value as HostEvent);
    }
  }

  #tell(event: HostEvent): void {
    if (this.#listeners.size === 0) this.#early.push(event);
    for (const listener of this.#listeners) listener(event);
  }

  #headers(): Record<string, string> {
    const tab = this.#tab ?? formerTab();
    return { authorization: `Bearer ${this.#token}`, ...(tab === null ? {} : { "x-borewright-tab": tab }) };
  }
}

// A reloaded tab is the same tab to the program.
function formerTab(): string | null {
  return sessionStorage.getItem(TAB_KEY);
}

function keepTab(id: string): void {
  sessionStorage.setItem(TAB_KEY, id);
}
