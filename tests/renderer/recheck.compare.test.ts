import { expect, test } from "vitest";
import type { Result } from "../../core/report/result.ts";
import { compareBores } from "../../renderer/recheck/compareBores.ts";
import { BoresBench, inventedClearance } from "./boresBench.ts";

test("recorded and rechecked bores stand side by side, none is left out and another verdict is marked", () => {
  const bench = new BoresBench({});
  bench.zero();
  bench.act({ type: "step", step: "bores" });
  bench.walk(4, inventedClearance);
  const recorded = bench.run.view().bores;
  const rechecked = recorded
    .filter((bore) => bore.name !== "8E")
    .map((bore) => (bore.name === "1E" ? { ...bore, verdict: "undecided" } : bore)) as unknown as Result["bores"];
  const compared = compareBores(recorded, rechecked);
  expect(compared.map(({ name }) => name)).toEqual(recorded.map(({ name }) => name));
  expect(compared.filter(({ changed }) => changed).map(({ name }) => name)).toEqual(["1E", "8E"]);
  expect(compared.find(({ name }) => name === "8E")?.after).toBeNull();
});
