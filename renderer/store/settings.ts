import { portSettings } from "../../core/bridge/messages.ts";
import { z } from "../../core/zod.ts";
import { TONES, type ToneName } from "../sound/score.ts";

/** What a control of the walk does. */
export const WALK_KEYS = ["take", "strike", "back", "hold"] as const;
export type WalkKey = (typeof WALK_KEYS)[number];

const every = <K extends string, T extends z.ZodType>(names: readonly K[], type: T) =>
  z.strictObject(Object.fromEntries(names.map((name) => [name, type])) as Record<K, T>);

/** Every setting with what it may be; a settings file holds the same, and may leave out what it does not change. */
const FIELDS = {
  theme: z.enum(["system", "light", "dark"]),
  /** Unit in which small lengths (clearances, spreads, readings) are printed; `tenths` are 0.0001 in. */
  unit: z.enum(["in", "tenths", "mm", "um"]),
  /** Size of the figure of the walk. */
  figure: z.enum(["normal", "large", "largest"]),
  /** From which end the block is looked at; flips pictures, never names. */
  seenFrom: z.enum(["front", "rear"]),
  /** What stands before the decimals in tables written for a spreadsheet. */
  decimal: z.enum(["point", "comma"]),
  /** Paper of the report; null = the usual one of the region. */
  paper: z.enum(["A4", "Letter"]).nullable(),
  /** Off: no tone sounds; their lights stay. */
  sound: z.boolean(),
  /** 0 … 1, the largest amplitude of the tones. */
  loudness: z.number().min(0).max(1),
  /** Each tone on or off. */
  tones: every(TONES, z.boolean()),
  speech: z.boolean(),
  /** `KeyboardEvent.code` of each control of the walk. */
  keys: every(WALK_KEYS, z.string().min(1).max(40)),
  /** A foot switch on a serial line: its port, and the text that each pedal sends; null where there is none. */
  footSwitch: z.strictObject({
    port: portSettings.nullable(),
    lines: every(WALK_KEYS, z.string().min(1).max(200).nullable()),
  }),
  /** Gauge for which a keyboard-type cable types; null = the one that the step asks for. */
  typingGauge: z.string().min(1).max(200).nullable(),
} as const;

/** Choices that belong to this bench and its screen and not to the job; they change no measurement and no record. */
export type Settings = { readonly [K in keyof typeof FIELDS]: Readonly<z.infer<(typeof FIELDS)[K]>> };
export type ShownUnit = Settings["unit"];

export const DEFAULT_SETTINGS: Settings = {
  theme: "system",
  unit: "in",
  figure: "normal",
  seenFrom: "front",
  decimal: "point",
  paper: null,
  sound: true,
  loudness: 0.5,
  tones: Object.fromEntries(TONES.map((tone) => [tone, true])) as Record<ToneName, boolean>,
  speech: false,
  keys: { take: "Space", strike: "Backspace", back: "ArrowLeft", hold: "KeyH" },
  footSwitch: { port: null, lines: { take: null, strike: null, back: null, hold: null } },
  typingGauge: null,
};

const NAMES = Object.keys(FIELDS) as (keyof Settings)[];

/** Settings from what was kept; whatever is missing or makes no sense takes its default, one by one. Never throws. */
export function settingsFrom(kept: unknown): Settings {
  const fields = isRecord(kept) ? kept : {};
  const read = NAMES.map((name) => {
    const standard = DEFAULT_SETTINGS[name];
    const value = fields[name];
    // A group that lacks an entry, as one that came later, keeps the others.
    const parsed = FIELDS[name].safeParse(isRecord(standard) && isRecord(value) ? { ...standard, ...value } : value);
    return [name, parsed.success ? parsed.data : standard];
  });
  return Object.fromEntries(read) as Settings;
}

/** Thrown for a settings file that makes no sense; the message says what was found, where, and what was expected. */
export class SettingsError extends Error {
  override readonly name = "SettingsError";
}

const FORMAT = "borewright/settings";

/** A settings file: everything, so that another bench becomes like this one. */
export function settingsFile(settings: Settings): string {
  return `${JSON.stringify({ format: FORMAT, version: 1, ...settings }, null, 2)}\n`;
}

/**
 * Reads a settings file onto the settings there are; what it does not name stays.
 * @throws SettingsError for anything that is not known or makes no sense; nothing of the file is then taken.
 */
export function parseSettingsFile(text: string, before: Settings): Settings {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    throw new SettingsError(`It is not JSON: it begins with ${JSON.stringify(text.slice(0, 40))}.`);
  }
  if (!isRecord(json) || json.format !== FORMAT) {
    const found = isRecord(json) && json.format !== undefined ? JSON.stringify(json.format) : "nothing";
    throw new SettingsError(`format: found ${found}; expected "${FORMAT}".`);
  }
  const { format: _, version, ...fields } = json;
  if (version !== 1) throw new SettingsError(`version: found ${JSON.stringify(version)}; expected 1.`);
  const parsed = z.strictObject(FIELDS).partial().safeParse(fields);
  if (parsed.success) return { ...before, ...parsed.data } as Settings;
  const issue = parsed.error.issues[0];
  const unknown = issue?.code === "unrecognized_keys" ? issue.keys[0] : undefined;
  const path = [...(issue?.path ?? []), ...(unknown === undefined ? [] : [unknown])];
  const found = path.reduce<unknown>((value, key) => (isRecord(value) ? value[String(key)] : undefined), fields);
  const expected = unknown === undefined ? (issue?.message ?? "something else") : "no setting of that name";
  throw new SettingsError(`${path.map(String).join(".")}: found ${JSON.stringify(found) ?? "nothing"}; ${expected}.`);
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The part of `Storage` that settings need. */
export interface SettingsStorage {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
}

const KEY = "borewright.settings";

/** Settings as the browser kept them; see `settingsFrom`. Never throws. */
export function readSettings(storage: SettingsStorage): Settings {
  try {
    return settingsFrom(JSON.parse(storage.getItem(KEY) ?? "{}"));
  } catch {
    // Unreadable settings are worth no message: the defaults are good and the next change overwrites them.
    return DEFAULT_SETTINGS;
  }
}

/** Keeps the settings; a full or forbidden storage is tolerated, they then last as long as the window. */
export function keepSettings(storage: SettingsStorage, settings: Settings): void {
  try {
    storage.setItem(KEY, JSON.stringify(settings));
  } catch {
    // Nothing measured is lost by it.
  }
}
