import { EventEmitter } from "node:events";
import type { App, BrowserWindow, Dialog } from "electron";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { type ClosingHost, closeBeforeLeaving } from "../../electron/window/leaving.ts";

/** A program as Electron would run it: quitting asks, closes the window and ends, unless someone prevents it. */
function program(close: () => Promise<void>, answers: number[] = []) {
  const app = new EventEmitter();
  const window = new EventEmitter();
  const seen: { ended: boolean; closes: number; boxes: { detail: string }[] } = { ended: false, closes: 0, boxes: [] };
  const ask = (emitter: EventEmitter, name: string) => {
    let prevented = false;
    emitter.emit(name, { preventDefault: () => (prevented = true) });
    return !prevented;
  };
  const quit = () => {
    if (ask(app, "before-quit") && ask(window, "close")) seen.ended = true;
  };
  const closeWindow = () => {
    if (ask(window, "close")) seen.ended = true;
  };
  const dialog = {
    showMessageBox: async (_window: unknown, box: { detail: string }) => {
      seen.boxes.push(box);
      return { response: answers.shift() ?? 0 };
    },
  };
  const host = {
    close: () => {
      seen.closes += 1;
      return close();
    },
  } as ClosingHost;
  closeBeforeLeaving(
    Object.assign(app, { quit }) as unknown as App,
    dialog as unknown as Dialog,
    host,
    window as unknown as BrowserWindow,
  );
  return { quit, closeWindow, seen };
}

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

test("quitting ends only after the host has closed", async () => {
  let saved: () => void = () => {};
  const { quit, seen } = program(() => new Promise((resolve) => (saved = resolve)));
  quit();
  quit();
  await vi.advanceTimersByTimeAsync(100);
  expect(seen).toEqual({ ended: false, closes: 1, boxes: [] });
  saved();
  await vi.advanceTimersByTimeAsync(0);
  expect(seen.ended).toBe(true);
});

test("closing the window does the same", async () => {
  const { closeWindow, seen } = program(async () => {});
  closeWindow();
  expect(seen.ended).toBe(false);
  await vi.advanceTimersByTimeAsync(0);
  expect(seen).toEqual({ ended: true, closes: 1, boxes: [] });
});

test("what cannot be saved is said, and staying stays: leaving later tries again", async () => {
  let full = true;
  const { quit, seen } = program(async () => {
    if (full) throw new Error("The disk is full.");
  });
  quit();
  await vi.advanceTimersByTimeAsync(0);
  expect(seen.ended).toBe(false);
  expect(seen.boxes.map(({ detail }) => detail)).toEqual(["The disk is full. What was announced as kept is safe."]);
  full = false;
  quit();
  await vi.advanceTimersByTimeAsync(0);
  expect(seen).toMatchObject({ ended: true, closes: 2 });
});

test("leaving without them leaves", async () => {
  const { quit, seen } = program(() => Promise.reject(new Error("The disk is full.")), [1]);
  quit();
  await vi.advanceTimersByTimeAsync(0);
  expect(seen).toMatchObject({ ended: true, closes: 1 });
});

test("a disk that does not answer is not waited for longer than ten seconds", async () => {
  const { quit, seen } = program(() => new Promise(() => {}), [1]);
  quit();
  await vi.advanceTimersByTimeAsync(9_900);
  expect(seen.boxes).toEqual([]);
  await vi.advanceTimersByTimeAsync(200);
  expect(seen.boxes.map(({ detail }) => detail)).toEqual([
    "The disk does not answer. What was announced as kept is safe.",
  ]);
  expect(seen.ended).toBe(true);
});
