import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { PictureTimer } from "../../electron/host/pictureTimer.ts";

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

it("draws the first at once and the next when their time has come, however often they are asked for", () => {
  let drawn = 0;
  const timer = new PictureTimer(() => {
    drawn += 1;
  });
  expect(timer.due(20)).toBe(true);
  for (let asked = 0; asked < 5; asked += 1) expect(timer.due(20)).toBe(false);
  vi.advanceTimersByTime(19);
  expect(drawn).toBe(0);
  vi.advanceTimersByTime(1);
  expect(drawn).toBe(1);
  vi.advanceTimersByTime(20);
  expect([drawn, timer.due(20)]).toEqual([1, true]);
});

it("lets the more urgent of two go first and then owes nothing, and draws what may not wait at once", () => {
  let drawn = 0;
  const timer = new PictureTimer(() => {
    drawn += 1;
  });
  timer.due(0);
  expect(timer.due(100)).toBe(false);
  expect(timer.due(20)).toBe(false);
  expect(timer.due(100)).toBe(false);
  vi.advanceTimersByTime(20);
  expect(drawn).toBe(1);
  expect(timer.due(100)).toBe(false);
  expect(timer.due(0)).toBe(true);
  vi.advanceTimersByTime(1000);
  expect(drawn).toBe(1);
});

it("draws nothing once it is stopped", () => {
  let drawn = 0;
  const timer = new PictureTimer(() => {
    drawn += 1;
  });
  timer.due(0);
  timer.due(20);
  timer.stop();
  vi.advanceTimersByTime(1000);
  expect(drawn).toBe(0);
});
