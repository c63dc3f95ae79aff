import { readFileSync, renameSync, writeFileSync } from "node:fs";

/** Where the window was and how large, in the desktop's points. */
export interface WindowPlace {
  readonly x?: number;
  readonly y?: number;
  readonly width: number;
  readonly height: number;
  readonly maximized: boolean;
  readonly fullScreen: boolean;
}

interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export const SMALLEST = { width: 1024, height: 700 };
export const FIRST_PLACE: WindowPlace = { width: 1280, height: 800, maximized: false, fullScreen: false };

const whole = (value: unknown): value is number => typeof value === "number" && Number.isInteger(value);

/** The place kept at `path`; the first-use place where there is none or it makes no sense. Never throws. */
export function readPlace(path: string): WindowPlace {
  try {
    const kept: unknown = JSON.parse(readFileSync(path, "utf8"));
    if (typeof kept !== "object" || kept === null) return FIRST_PLACE;
    const { x, y, width, height, maximized, fullScreen } = kept as Record<string, unknown>;
    if (!whole(width) || !whole(height)) return FIRST_PLACE;
    return {
      ...(whole(x) && whole(y) ? { x, y } : {}),
      width: Math.max(width, SMALLEST.width),
      height: Math.max(height, SMALLEST.height),
      maximized: maximized === true,
      fullScreen: fullScreen === true,
    };
  } catch {
    return FIRST_PLACE;
  }
}

/** Keeps the place at `path`. A place that cannot be kept costs nobody a reading, so it is let go. */
export function keepPlace(path: string, place: WindowPlace): void {
  try {
    const before = `${path}.new`;
    writeFileSync(before, JSON.stringify(place));
    renameSync(before, path);
  } catch {
    // The window then opens at its first-use place.
  }
}

/** The place, without its corner if that lies on no screen that is there now (a monitor was taken away). */
export function onScreen(place: WindowPlace, screens: readonly Area[]): WindowPlace {
  const { x, y, ...size } = place;
  if (x === undefined || y === undefined) return size;
  const seen = screens.some(
    (area) => x + 100 > area.x && x + 100 < area.x + area.width && y >= area.y && y + 40 < area.y + area.height,
  );
  return seen ? place : size;
}
