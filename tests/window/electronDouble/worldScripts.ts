import { wireSource } from "./wire.ts";

export const PRELOAD_WORLD = "preload";
/** Bindings to this process; each script takes them at once and leaves nothing behind for the page to find. */
export const IPC_BINDING = "__doubleIpc";
export const PERMISSION_BINDING = "__doublePermission";
/** By which this process speaks to the preload's world. */
export const HEAR = "__doubleHear";

/**
 * Carries data, functions and promises between the page's world and the preload's, which share the document and no
 * object. The name of the events is known to these scripts only.
 */
const crossingSource = `
const crossing = (secret, mine, theirs, onMessage) => {
  const own = [];
  const pending = new Map();
  let promises = 0;
  let answer;
  const tell = (message) => document.dispatchEvent(new CustomEvent(secret + theirs, { detail: JSON.stringify(message) }));
  const pack = (value) => {
    if (typeof value === "function") return { f: own.push(value) - 1 };
    if (value instanceof Promise) {
      const p = mine + promises++;
      value.then(
        (inner) => tell({ kind: "settle", p, ok: true, value: pack(inner) }),
        (error) => tell({ kind: "settle", p, ok: false, value: { v: String(error && error.message || error) } }),
      );
      return { p };
    }
    if (Array.isArray(value)) return { a: value.map(pack) };
    if (typeof value === "object" && value !== null) return { o: Object.entries(value).map(([k, v]) => [k, pack(v)]) };
    if (value === undefined) return {};
    if (typeof value === "number" && !Number.isFinite(value)) return { n: String(value) };
    return { v: value };
  };
  const unpack = (packed) => {
    if ("f" in packed) return (...args) => {
      answer = undefined;
      tell({ kind: "call", f: packed.f, args: args.map(pack) });
      const got = answer;
      if (got === undefined) throw new Error("there is no other world");
      if ("error" in got) throw new Error(got.error);
      return unpack(got.value);
    };
    if ("p" in packed) return new Promise((resolve, reject) => pending.set(packed.p, { resolve, reject }));
    if ("a" in packed) return packed.a.map(unpack);
    if ("o" in packed) return Object.freeze(Object.fromEntries(packed.o.map(([k, v]) => [k, unpack(v)])));
    if ("n" in packed) return Number(packed.n);
    return packed.v;
  };
  document.addEventListener(secret + mine, (event) => {
    const message = JSON.parse(event.detail);
    if (message.kind === "call") {
      try {
        tell({ kind: "return", value: pack(own[message.f](...message.args.map(unpack))) });
      } catch (error) {
        tell({ kind: "return", error: String(error && error.message || error) });
      }
    } else if (message.kind === "return") answer = message;
    else if (message.kind === "settle") {
      const waiting = pending.get(message.p);
      pending.delete(message.p);
      waiting[message.ok ? "resolve" : "reject"](message.ok ? unpack(message.value) : new Error(message.value.v));
    } else onMessage(message, unpack);
  });
  return { tell, pack };
};
`;

const electronForPreload = `
const strict = (name, target) => new Proxy(target, { get: (from, property) => {
  if (typeof property === "symbol" || property in from) return from[property];
  throw new Error("electron." + name + "." + property + " is not doubled");
} });
const up = globalThis[${JSON.stringify(IPC_BINDING)}];
delete globalThis[${JSON.stringify(IPC_BINDING)}];
const calls = new Map();
const heard = new Map();
let lastCall = 0;
Object.defineProperty(globalThis, ${JSON.stringify(HEAR)}, { value: (text) => {
  const message = fromWire(text);
  if (message.kind === "answer") {
    const { resolve, reject } = calls.get(message.id);
    calls.delete(message.id);
    message.error === undefined ? resolve(message.value) : reject(new Error(message.error));
  } else for (const listener of [...(heard.get(message.channel) ?? [])]) listener({ senderId: 0 }, ...message.args);
} });
const ipcRenderer = strict("ipcRenderer", {
  invoke: (channel, ...args) => new Promise((resolve, reject) => {
    const id = ++lastCall;
    const text = toWire({ kind: "invoke", id, channel, args });
    calls.set(id, { resolve, reject });
    up(text);
  }),
  send: (channel, ...args) => up(toWire({ kind: "send", channel, args })),
  on: (channel, listener) => { heard.set(channel, [...(heard.get(channel) ?? []), listener]); },
  off: (channel, listener) => { heard.set(channel, (heard.get(channel) ?? []).filter((other) => other !== listener)); },
});
`;

export interface PreloadPreferences {
  readonly contextIsolation: boolean;
  readonly nodeIntegration: boolean;
  readonly sandbox: boolean;
}

/** Runs the preload file in its own world; or in the page's own, as Electron does where isolation is switched off. */
export function preloadScript(source: string, secret: string, preferences: PreloadPreferences): string {
  const { contextIsolation, nodeIntegration, sandbox } = preferences;
  const exposing = contextIsolation
    ? `
const exposed = [];
const { tell, pack } = crossing(${JSON.stringify(secret)}, "preload", "page", (message) => {
  if (message.kind === "ready") for (const one of exposed) tell(one);
});
const contextBridge = strict("contextBridge", { exposeInMainWorld: (name, api) => {
  const one = { kind: "expose", name, api: pack(api) };
  exposed.push(one);
  tell(one);
} });`
    : `
const contextBridge = strict("contextBridge", { exposeInMainWorld: () => {
  throw new Error("contextBridge API can only be used when contextIsolation is enabled");
} });`;
  const leak = !contextIsolation && nodeIntegration ? "Object.assign(globalThis, { require, process });" : "";
  return `(() => {
if (globalThis.self !== globalThis.top) return;
${wireSource}${crossingSource}${electronForPreload}${exposing}
const process = { sandboxed: ${sandbox}, contextIsolated: ${contextIsolation}, type: "renderer" };
const require = (name) => {
  if (name === "electron") return strict("(preload)", { contextBridge, ipcRenderer });
  throw new Error("module not found: " + name);
};
${leak}
((exports, require, module, process) => {
${source}
})({}, require, { exports: {} }, process);
})();`;
}

/** In the page's world: takes what the preload exposes, and asks this process about permissions. */
export function pageScript(secret: string): string {
  return `(() => {
const ask = globalThis[${JSON.stringify(PERMISSION_BINDING)}];
delete globalThis[${JSON.stringify(PERMISSION_BINDING)}];
delete globalThis[${JSON.stringify(IPC_BINDING)}];
const asked = new Map();
let last = 0;
Object.defineProperty(globalThis, ${JSON.stringify(PERMISSION_BINDING)}, { value: (id, granted) => asked.get(id)?.(granted) });
const permission = (kind, name) => new Promise((resolve) => {
  asked.set(++last, resolve);
  ask(JSON.stringify({ id: last, kind, name }));
});
if (globalThis.Notification) Notification.requestPermission = async () =>
  (await permission("request", "notifications")) ? "granted" : "denied";
if (navigator.permissions) navigator.permissions.query = async ({ name }) =>
  ({ name, state: (await permission("check", name)) ? "granted" : "denied" });
if (globalThis.self !== globalThis.top) return;
${crossingSource}
const { tell } = crossing(${JSON.stringify(secret)}, "page", "preload", (message, unpack) => {
  if (message.kind === "expose" && !(message.name in globalThis))
    Object.defineProperty(globalThis, message.name, { value: unpack(message.api), enumerable: true });
});
tell({ kind: "ready" });
})();`;
}
