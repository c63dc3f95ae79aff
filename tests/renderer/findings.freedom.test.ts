import { expect, test } from "vitest";
import type { SessionView } from "../../core/session/view.ts";
import { freedomText } from "../../renderer/findings/freedomText.ts";
import { BoresBench, inventedClearance } from "./boresBench.ts";

function measuredView(): SessionView {
  const bench = new BoresBench({});
  bench.zero();
  bench.act({ type: "step", step: "bores" });
  bench.walk(4, inventedClearance);
  return bench.run.view();
}

/** Names of every field, at any depth, that JSON can not hold. */
function notInJson(value: unknown, name: string): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [name];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, entry]) => notInJson(entry, Array.isArray(value) ? name : key));
}

const freedoms = (view: SessionView) =>
  view.bores.flatMap(({ stations }) =>
    stations.flatMap((station) =>
      [station, ...station.budget].map(({ degreesOfFreedom }) => freedomText(degreesOfFreedom)),
    ),
  );

test("a budget reads the same whether it came as JSON or as a clone, infinite degrees of freedom included", () => {
  const view = measuredView();
  const cloned = freedoms(structuredClone(view));
  expect(cloned).toContain("∞");
  expect(cloned.some((text) => text !== "∞")).toBe(true);
  expect(freedoms(JSON.parse(JSON.stringify(view)) as SessionView)).toEqual(cloned);
});

test("nothing else in a view is lost in JSON", () => {
  expect(new Set(notInJson(measuredView(), "view"))).toEqual(new Set(["degreesOfFreedom"]));
});
