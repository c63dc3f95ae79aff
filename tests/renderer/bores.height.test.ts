import { expect, test } from "vitest";
import { downTheBore } from "../../renderer/bores/HeightPicture.tsx";

test("a height is drawn where its word tells where it lies, from above down, and never guessed", () => {
  const down = (height: string) => downTheBore({ height, clock: "axial" });
  const order = ["top", "Upper", "middle", " lower", "bottom"].map(down);
  expect(order).toEqual([...order].sort((a, b) => (a ?? 2) - (b ?? 2)));
  expect(order).not.toContain(null);
  expect(down("just below the oil gallery")).toBeNull();
  expect(down("constructor")).toBeNull();
});
