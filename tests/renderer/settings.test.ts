import { describe, expect, test } from "vitest";
import {
  DEFAULT_SETTINGS,
  parseSettingsFile,
  type Settings,
  SettingsError,
  settingsFile,
  settingsFrom,
} from "../../renderer/store/settings.ts";

const OWN: Settings = {
  ...DEFAULT_SETTINGS,
  theme: "dark",
  unit: "tenths",
  loudness: 0.8,
  tones: { ...DEFAULT_SETTINGS.tones, sweep: false },
  keys: { ...DEFAULT_SETTINGS.keys, take: "F13" },
  footSwitch: {
    port: { path: "/dev/pedal", baud: 1200, framing: "7E2", dtr: true, rts: false, settleMs: 0 },
    lines: { take: "P1", strike: "P2", back: null, hold: null },
  },
};

describe("settings as kept", () => {
  test("come back as they were", () => {
    expect(settingsFrom(JSON.parse(JSON.stringify(OWN)))).toEqual(OWN);
  });

  test("what is missing or makes no sense takes its default, one by one", () => {
    for (const nothing of [null, 3, "x", [], {}]) expect(settingsFrom(nothing)).toEqual(DEFAULT_SETTINGS);
    const kept = {
      theme: "dark",
      unit: "furlongs",
      loudness: 7,
      keys: { take: "F13" },
      tones: { sweep: false, gone: true },
    };
    expect(settingsFrom(kept)).toEqual({
      ...DEFAULT_SETTINGS,
      theme: "dark",
      keys: { ...DEFAULT_SETTINGS.keys, take: "F13" },
    });
    expect(settingsFrom({ tones: { sweep: false } }).tones).toEqual({ ...DEFAULT_SETTINGS.tones, sweep: false });
  });
});

describe("a settings file", () => {
  test("makes another bench like this one", () => {
    expect(parseSettingsFile(settingsFile(OWN), DEFAULT_SETTINGS)).toEqual(OWN);
  });

  test("leaves what it does not name", () => {
    const text = JSON.stringify({ format: "borewright/settings", version: 1, theme: "light" });
    expect(parseSettingsFile(text, OWN)).toEqual({ ...OWN, theme: "light" });
  });

  test.each([
    ["", "not JSON"],
    ["0.0013 in", "not JSON"],
    ["[]", 'format: found nothing; expected "borewright/settings"'],
    [{ format: "borewright/job" }, 'found "borewright/job"'],
    [{ version: 2 }, "version: found 2; expected 1"],
    [{ unit: "furlongs" }, 'unit: found "furlongs"'],
    [{ loudness: 7 }, "loudness: found 7"],
    [{ keys: { ...OWN.keys, hold: "" } }, 'keys.hold: found ""'],
    [{ keys: { take: "F13" } }, "keys.strike: found nothing"],
    [{ colour: "red" }, 'colour: found "red"; no setting of that name'],
    [{ tones: { ...OWN.tones, bell: true } }, "tones.bell: found true; no setting of that name"],
    [{ footSwitch: { ...OWN.footSwitch, port: { path: "" } } }, 'footSwitch.port.path: found ""'],
  ])("%j is refused with what is wrong and where", (file, says) => {
    const text =
      typeof file === "string" ? file : JSON.stringify({ format: "borewright/settings", version: 1, ...file });
    expect(() => parseSettingsFile(text, OWN)).toThrow(SettingsError);
    expect(() => parseSettingsFile(text, OWN)).toThrow(says);
  });
});
