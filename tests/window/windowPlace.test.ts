import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { FIRST_PLACE, keepPlace, onScreen, readPlace, SMALLEST } from "../../electron/window/windowPlace.ts";

const folder = mkdtempSync(join(tmpdir(), "place-"));
const file = join(folder, "window-place.json");
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const place = { x: 200, y: 100, width: 1600, height: 900, maximized: true, fullScreen: false };

test("a kept place comes back", () => {
  keepPlace(file, place);
  expect(readPlace(file)).toEqual(place);
});

test.each([
  ["nothing", null],
  ["half a file", '{"x": 2'],
  ["no object", "7"],
  ["no size", '{"x": 1, "y": 2}'],
  ["a size that is text", '{"width": "9", "height": 700}'],
])("%s gives the first-use place", (_name, text) => {
  const path = join(folder, "other.json");
  rmSync(path, { force: true });
  if (text !== null) writeFileSync(path, text);
  expect(readPlace(path)).toEqual(FIRST_PLACE);
});

test("a window too small to work in is made large enough, and half a corner is none", () => {
  writeFileSync(file, JSON.stringify({ x: 5, width: 10, height: 10 }));
  expect(readPlace(file)).toEqual({ ...SMALLEST, maximized: false, fullScreen: false });
});

test("a folder that cannot be written costs nothing", () => {
  expect(() => keepPlace(join(folder, "absent/deeper.json"), place)).not.toThrow();
});

test("a corner on a screen that has gone is forgotten, the size is not", () => {
  const left = { x: 0, y: 0, width: 1920, height: 1080 };
  const right = { x: 1920, y: 0, width: 1920, height: 1080 };
  expect(onScreen({ ...place, x: 2000 }, [left, right])).toEqual({ ...place, x: 2000 });
  const { x: _x, y: _y, ...size } = place;
  expect(onScreen({ ...place, x: 2000 }, [left])).toEqual(size);
});
