import { describe, expect, test } from "vitest";
import { layoutById } from "../../core/block/layouts.ts";
import { planGeometry } from "../../core/report/planGeometry.ts";
import { wayPath } from "../../renderer/plan/LifterWays.tsx";

describe("the ways of lifters on the plan", () => {
  const geometry = planGeometry(layoutById("v8-alternate"), { width: 420, height: 600 }, false, true);
  const numbers = (path: string) => [...path.matchAll(/-?\d+(\.\d+)?/g)].map(([text]) => Number(text));

  test("begin and end at the two rings, inside the drawing, whichever bores they join", () => {
    for (const from of geometry.bores) {
      for (const to of geometry.bores) {
        if (from === to) continue;
        const { line, tip } = wayPath(from, to, geometry.ring, geometry.crankX);
        const [x, y] = numbers(line) as [number, number];
        expect(Math.hypot(x - from.x, y - from.y)).toBeCloseTo(geometry.ring * 1.05, 0);
        const [tipX, tipY] = numbers(tip) as [number, number];
        expect(Math.hypot(tipX - to.x, tipY - to.y)).toBeCloseTo(geometry.ring * 1.12, 0);
        for (const value of [...numbers(line), ...numbers(tip)]) {
          expect(Number.isFinite(value)).toBe(true);
          expect(value).toBeGreaterThan(0);
          expect(value).toBeLessThan(600);
        }
      }
    }
  });
});
