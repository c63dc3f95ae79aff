/**
 * The house's rooms and the arrows between them: what each folder may import. The lint rules in `biome.json` say the
 * same in that tool's words; `layers.test.ts` holds the two against each other for every pair of rooms.
 */
export interface Room {
  /** Rooms it may import from, besides itself. */
  readonly rooms: readonly string[];
  /** Rooms of which it may import types only. */
  readonly typesOnly?: readonly string[];
  /** Packages it may import, with everything under them; "node:" stands for what Node brings along. */
  readonly packages: readonly string[];
}

/** The pure packages that the trade's own code may use. */
export const purePackages = ["zod", "canonicalize", "@noble/hashes", "@stdlib"] as const;

/** The leaf that everything takes zod from, made safe for a strict content policy. */
const zod = "core/zod.ts";

const length: readonly string[] = ["core/length", zod];
const gauge = [...length, "core/gauge"];
const sweep = [...gauge, "core/sweep"];
const zero = [...sweep, "core/zero"];
const block = [...length, "core/block"];
const fit = [...new Set([...zero, ...block]), "core/fit"];
const session = [...fit, "core/pairing", "core/remedy", "core/session"];
const core = [...session, "core/report", "core/bridge"];

/** An arrow chain ends in the room itself, which needs no arrow. */
const before = (rooms: readonly string[]): readonly string[] => rooms.slice(0, -1);

const pure = (rooms: readonly string[]): Room => ({ rooms, packages: purePackages });

/** Every room of the house by its folder (or, for the leaf, its file). */
export const house: Readonly<Record<string, Room>> = {
  [zod]: { rooms: [], packages: ["zod"] },
  "core/length": pure([zod]),
  "core/gauge": pure(before(gauge)),
  "core/sweep": pure(before(sweep)),
  "core/zero": pure(before(zero)),
  "core/block": pure(before([...length, "core/block"])),
  "core/fit": pure(before(fit)),
  "core/pairing": pure(fit),
  // The plan for a whole block pairs and hones together.
  "core/remedy": pure([...fit, "core/pairing"]),
  "core/session": pure(before(session)),
  // The browser build of the table writer is the one without Node in it.
  "core/report": { rooms: session, packages: [...purePackages, "csv-stringify/browser", "xmlbuilder2"] },
  "core/bridge": pure(session),
  "electron/host": {
    rooms: core,
    packages: ["node:", "serialport", "csv-stringify", "yazl"],
  },
  "electron/simulator": { rooms: [...core, "electron/host"], packages: ["node:", "serialport"] },
  // The shells put simulated gauges on the host; the host itself knows only what such a bench can do.
  "electron/window": {
    rooms: [...core, "electron/host", "electron/simulator", "electron/preload"],
    packages: ["node:", "electron"],
  },
  "electron/preload": { rooms: [], typesOnly: ["core/bridge"], packages: ["electron"] },
  "electron/loopback": { rooms: [...core, "electron/host", "electron/simulator"], packages: ["node:"] },
  "electron/cli": { rooms: [...core, "electron/host", "electron/simulator", "electron/loopback"], packages: ["node:"] },
  renderer: {
    rooms: ["core/length", "core/gauge", "core/block", "core/fit", "core/session", "core/report", "core/bridge", zod],
    // What those rooms compute comes over the bridge; the page only knows its shape.
    typesOnly: ["core/sweep", "core/zero", "core/pairing", "core/remedy"],
    packages: ["react", "react-dom", "react-aria-components", "uplot", "zustand"],
  },
};

/** The room a file (path from the top of the checkout) belongs to; null outside the house (tests, scripts, top level). */
export function roomOf(path: string): string | null {
  for (const name of Object.keys(house)) if (path === name || path.startsWith(`${name}/`)) return name;
  return null;
}

/** True when `name` is `list`'s package or something under it. */
export function isPackageIn(list: readonly string[], name: string): boolean {
  return list.some((entry) =>
    entry.endsWith(":") ? name.startsWith(entry) : name === entry || name.startsWith(`${entry}/`),
  );
}
