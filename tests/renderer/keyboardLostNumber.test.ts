import { expect, test } from "vitest";
import { LostNumber } from "../../renderer/keyboard/lostNumber.ts";

/** What becomes of each key of `text`, typed 50 ms apart from `fromMs` on. */
const typed = (lost: LostNumber, text: string, fromMs: number, hasLine: boolean) =>
  [...text].map((key, index) => lost.hear(key, fromMs + 50 * index, hasLine));

test("the rest of a number that was begun without a line is taken by none, until it is over", () => {
  const lost = new LostNumber();
  expect(typed(lost, "0.0", 0, false)).toEqual(["lost", "lost", "lost"]);
  expect(typed(lost, "012", 150, true)).toEqual(["lost", "lost", "lost"]);
  expect(lost.hear("Enter", 300, true)).toBe("other");
  expect(typed(lost, "-.5", 350, true)).toEqual(["begins", "begins", "begins"]);
});

test("a pause of a second ends it as well, and less does not", () => {
  const lost = new LostNumber();
  lost.hear("0", 0, false);
  expect(lost.hear("5", 999, true)).toBe("lost");
  expect(lost.hear("5", 1_998, true)).toBe("lost");
  expect(lost.hear("5", 2_998, true)).toBe("begins");
});

test("other keys are nobody's business, and a number begun on its line is never cut", () => {
  const lost = new LostNumber();
  expect(typed(lost, "0,0012", 0, true)).toEqual(Array(6).fill("begins"));
  expect(lost.hear("a", 400, false)).toBe("other");
  expect(lost.hear("1", 450, true)).toBe("begins");
});
