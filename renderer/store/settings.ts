/** Unit in which small lengths (clearances, spreads, readings) are printed; `tenths` are 0.0001 in. */
export type ShownUnit = "in" | "tenths" | "mm" | "um";

/** What a control of the walk does. */
export type WalkKey = "take" | "strike" | "back" | "hold";

/** Choices that belong to this screen and not to the job; kept in the browser's local storage. */
export interface Settings {
  readonly theme: "system" | "light" | "dark";
  readonly unit: ShownUnit;
  /** Size of the figure of the walk. */
  readonly figure: "normal" | "large" | "largest";
  /** From which end the block is looked at; flips pictures, never names. */
  readonly seenFrom: "front" | "rear";
  /** What stands before the decimals in tables written for a spreadsheet. */
  readonly decimal: "point" | "comma";
  /** Paper of the report; null = the usual one of the region. */
  readonly paper: "A4" | "Letter" | null;
  readonly sound: boolean;
  readonly speech: boolean;
  /** `KeyboardEvent.code` of each control of the walk. */
  readonly keys: Readonly<Record<WalkKey, string>>;
  /** Gauge for which a keyboard-type cable types; null = the one that the step asks for. */
  readonly typingGauge: string | null;
}

export const DEFAULT_SETTINGS: Settings = {
  theme: "system",
  unit: "in",
  figure: "normal",
  seenFrom: "front",
  decimal: "point",
  paper: null,
  sound: true,
  speech: false,
  keys: { take: "Space", strike: "Backspace", back: "ArrowLeft", hold: "KeyH" },
  typingGauge: null,
};

const CHOICES: {
  readonly [K in "theme" | "unit" | "figure" | "seenFrom" | "decimal" | "paper"]: readonly Settings[K][];
} = {
  theme: ["system", "light", "dark"],
  unit: ["in", "tenths", "mm", "um"],
  figure: ["normal", "large", "largest"],
  seenFrom: ["front", "rear"],
  decimal: ["point", "comma"],
  paper: ["A4", "Letter", null],
};

/** The part of `Storage` that settings need. */
export interface SettingsStorage {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
}

const KEY = "borewright.settings";

/** Settings as kept; whatever is missing or makes no sense takes its default, one by one. Never throws. */
export function readSettings(storage: SettingsStorage): Settings {
  let kept: Record<string, unknown> = {};
  try {
    const parsed: unknown = JSON.parse(storage.getItem(KEY) ?? "{}");
    if (typeof parsed === "object" && parsed !== null) kept = parsed as Record<string, unknown>;
  } catch {
    // Unreadable settings are worth no message: the defaults are good and the next change overwrites them.
  }
  const choice = <K extends keyof typeof CHOICES>(name: K): Settings[K] => {
    const choices: readonly Settings[K][] = CHOICES[name];
    return choices.find((one) => one === kept[name]) ?? DEFAULT_SETTINGS[name];
  };
  const flag = (name: "sound" | "speech"): boolean =>
    typeof kept[name] === "boolean" ? (kept[name] as boolean) : DEFAULT_SETTINGS[name];
  const keptKeys = (typeof kept.keys === "object" && kept.keys !== null ? kept.keys : {}) as Record<string, unknown>;
  const key = (name: WalkKey): string => {
    const value = keptKeys[name];
    return typeof value === "string" && value !== "" ? value : DEFAULT_SETTINGS.keys[name];
  };
  return {
    theme: choice("theme"),
    unit: choice("unit"),
    figure: choice("figure"),
    seenFrom: choice("seenFrom"),
    decimal: choice("decimal"),
    paper: choice("paper"),
    sound: flag("sound"),
    speech: flag("speech"),
    keys: { take: key("take"), strike: key("strike"), back: key("back"), hold: key("hold") },
    typingGauge: typeof kept.typingGauge === "string" ? kept.typingGauge : null,
  };
}

/** Keeps the settings; a full or forbidden storage is tolerated, they then last as long as the window. */
export function keepSettings(storage: SettingsStorage, settings: Settings): void {
  try {
    storage.setItem(KEY, JSON.stringify(settings));
  } catch {
    // Nothing measured is lost by it.
  }
}
