import { describe, expect, test } from "vitest";
import { LAYOUTS, layoutById } from "../../core/block/layouts.ts";
import { planGeometry } from "../../core/report/planGeometry.ts";
import { describeBore } from "../../renderer/plan/describeBore.ts";
import { neighbour } from "../../renderer/plan/neighbour.ts";

const SIZES = [
  { width: 300, height: 600 },
  { width: 560, height: 600 },
];

describe("plan of the block", () => {
  for (const layout of LAYOUTS) {
    for (const size of SIZES) {
      for (const withFigures of [false, true]) {
        test(`${layout.id} at ${size.width}${withFigures ? " with figures" : ""}: everything inside, no rings touching`, () => {
          const plan = planGeometry(layout, size, false, withFigures);
          expect(plan.bores.map((bore) => bore.name).sort()).toEqual(layout.bores.map((bore) => bore.name).sort());
          for (const bore of plan.bores) {
            expect(bore.x - plan.ring).toBeGreaterThan(plan.outline.x);
            expect(bore.x + plan.ring).toBeLessThan(plan.outline.x + plan.outline.width);
            expect(bore.y - plan.ring).toBeGreaterThan(plan.outline.y);
            expect(bore.y + plan.ring).toBeLessThan(plan.outline.y + plan.outline.height);
            for (const other of plan.bores) {
              if (other === bore) continue;
              expect(Math.hypot(bore.x - other.x, bore.y - other.y)).toBeGreaterThan(2 * plan.ring);
            }
            for (const cylinder of plan.cylinders) {
              expect(Math.hypot(bore.x - cylinder.x, bore.y - cylinder.y)).toBeGreaterThan(
                plan.ring + plan.cylinderRadius,
              );
            }
          }
          for (const { x } of plan.cylinders) {
            expect(x - plan.cylinderRadius).toBeGreaterThanOrEqual(plan.outline.x);
            expect(x + plan.cylinderRadius).toBeLessThanOrEqual(plan.outline.x + plan.outline.width);
          }
        });
      }
    }
  }

  test("front at the top, cylinder 1 of a V8 at the front left, as seen from the flywheel end", () => {
    const plan = planGeometry(layoutById("v8-alternate"), { width: 400, height: 600 }, false);
    const one = plan.cylinders.find((cylinder) => cylinder.cylinder === 1);
    expect(one?.x).toBeLessThan(200);
    expect(one?.y).toBeLessThan(200);
    expect(plan.frontAtTop).toBe(true);
  });

  test("seen from the other end the picture is turned half round: a rotation, not a mirror image", () => {
    const layout = layoutById("v8-alternate");
    const size = { width: 400, height: 600 };
    const from = planGeometry(layout, size, false);
    const turned = planGeometry(layout, size, true);
    for (const bore of from.bores) {
      const other = turned.bores.find((one) => one.name === bore.name);
      expect(other?.x).toBeCloseTo(400 - bore.x, 9);
      expect(other?.y).toBeCloseTo(600 - bore.y, 9);
    }
    expect(turned.frontAtTop).toBe(false);
  });

  test("arrow keys walk along a bank and across to the other, and stop at the ends", () => {
    const plan = planGeometry(layoutById("v8-alternate"), { width: 400, height: 600 }, false);
    expect(neighbour(plan, "1E", "down")).toBe("1I");
    expect(neighbour(plan, "1E", "up")).toBeNull();
    expect(neighbour(plan, "1E", "right")).toBe("2E");
    expect(neighbour(plan, "2E", "left")).toBe("1E");
    expect(neighbour(plan, "2E", "right")).toBeNull();
  });
});

describe("a bore in words", () => {
  test("names the cylinder and valve, the verdict and the place", () => {
    expect(describeBore("5I", undefined, "here now")).toBe("Cylinder 5, intake: not measured, here now");
    expect(describeBore("8E", undefined, null)).toBe("Cylinder 8, exhaust: not measured");
  });
});
