import { describe, expect, it } from "vitest";
import { NoticeBoard } from "../../core/session/noticeBoard.ts";

describe("the notices of a session", () => {
  it("stand in the order they were raised, once a place, and are cured where they stand", () => {
    const board = new NoticeBoard();
    board.raise(1, "frozen", "one", { gauge: "a" });
    board.raise(2, "too-quick", "two", { bore: "1E" });
    expect(board.raise(3, "frozen", "again", { gauge: "a" })).toBeNull();
    board.raise(4, "frozen", "three", { gauge: "b" });
    const before = board.all;
    expect(board.cure(5, "frozen", ({ gauge }) => gauge === "a").map(({ text }) => text)).toEqual(["one"]);
    expect(board.cure(6, "frozen", ({ gauge }) => gauge === "a")).toEqual([]);
    expect(board.stands("frozen", { gauge: "a" })).toBe(false);
    expect(board.stands("frozen", { gauge: "b" })).toBe(true);
    board.raise(7, "frozen", "four", { gauge: "a" });
    expect(board.all.map(({ text, curedMs }) => [text, curedMs])).toEqual([
      ["one", 5],
      ["two", undefined],
      ["three", undefined],
      ["four", undefined],
    ]);
    // A snapshot that was given out does not change under the screen that shows it.
    expect(before.map(({ curedMs }) => curedMs)).toEqual([undefined, undefined, undefined]);
  });
});
