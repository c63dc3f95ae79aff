import { expect, test } from "vitest";
import type { FeelView } from "../../core/session/feel.ts";
import { lastOil, nextToFeel } from "../../renderer/findings/feelOrder.ts";

const entry = (bore: string, tMs: number, oil: string, outdated: FeelView["outdated"] = null): FeelView => ({
  bore,
  tMs,
  found: "free",
  lifter: bore,
  oil,
  note: "",
  outdated,
});

test("the oil offered is that of the newest entry which names one", () => {
  expect(lastOil([])).toBe("");
  expect(lastOil([entry("1E", 30, "20W-50"), entry("1I", 50, ""), entry("3I", 10, "10W-40")])).toBe("20W-50");
});

test("the next bore is the next without an entry that stands, round the end", () => {
  const bores = ["1E", "1I", "3I", "3E"];
  expect(nextToFeel(bores, [], "3E")).toBe("1E");
  expect(nextToFeel(bores, [entry("1I", 1, "")], "1E")).toBe("3I");
  expect(nextToFeel(bores, [entry("1I", 1, "", "other lifter")], "1E")).toBe("1I");
  expect(
    nextToFeel(
      bores,
      bores.map((bore) => entry(bore, 1, "")),
      "1E",
    ),
  ).toBeNull();
  expect(nextToFeel(["1E"], [], "1E")).toBeNull();
});
