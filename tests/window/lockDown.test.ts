import { EventEmitter } from "node:events";
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Session } from "electron";
import { expect, test } from "vitest";
import { lockSession } from "../../electron/window/lockDown.ts";

/** A session that remembers who decides what. */
class DecidingSession extends EventEmitter {
  readonly deciders = new Map<string, (...args: unknown[]) => unknown>();
  setPermissionRequestHandler = (decide: (...args: unknown[]) => unknown) => this.deciders.set("request", decide);
  setPermissionCheckHandler = (decide: (...args: unknown[]) => unknown) => this.deciders.set("check", decide);
  setDevicePermissionHandler = (decide: (...args: unknown[]) => unknown) => this.deciders.set("device", decide);
}

test("no permission is given, looked at or asked for, and no device", () => {
  const session = new DecidingSession();
  lockSession(session as unknown as Session);
  for (const permission of [
    "serial",
    "usb",
    "hid",
    "media",
    "geolocation",
    "notifications",
    "openExternal",
    "fileSystem",
  ]) {
    const answers: unknown[] = [];
    session.deciders.get("request")?.({}, permission, (granted: unknown) => answers.push(granted));
    answers.push(session.deciders.get("check")?.({}, permission), session.deciders.get("device")?.({}));
    expect(answers, permission).toEqual([false, false, false]);
  }
});

test("only what the page made itself may be kept as a file", () => {
  const session = new DecidingSession();
  lockSession(session as unknown as Session);
  const kept = (address: string) => {
    let prevented = false;
    session.emit("will-download", { preventDefault: () => (prevented = true) }, { getURL: () => address });
    return !prevented;
  };
  expect(["blob:app://borewright/1", "data:text/csv,a"].map(kept)).toEqual([true, true]);
  const outside = ["https://outside.example/a.exe", "file:///etc/passwd", "app://borewright/index.html", "xblob:a", ""];
  expect(outside.filter(kept)).toEqual([]);
});

test("the window's code takes nothing of Electron that opens things outside", () => {
  const folder = fileURLToPath(new URL("../../electron/window/", import.meta.url));
  const texts = readdirSync(folder)
    .filter((name) => name.endsWith(".ts"))
    .map((name) => readFileSync(folder + name, "utf8"));
  const taken = texts.flatMap((text) =>
    [...text.matchAll(/import (?!type\b)\{([^}]+)\} from "electron"/g)].flatMap(([, names]) =>
      (names ?? "").split(",").map((name) => name.trim().replace(/^type .*/, "")),
    ),
  );
  expect(taken).toContain("BrowserWindow");
  expect(
    taken.filter((name) => ["shell", "webFrame", "desktopCapturer", "BrowserView", "remote"].includes(name)),
  ).toEqual([]);
  expect(texts.filter((text) => /openExternal|openPath|executeJavaScript/.test(text))).toEqual([]);
});
