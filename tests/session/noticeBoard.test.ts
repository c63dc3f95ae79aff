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

describe("NoticeBoard", () => {
  it("lists the first and the newest of what comes and goes all day, and counts the rest", () => {
    const board = new NoticeBoard();
    const where = { gauge: "bore" };
    for (let t = 0; t < 1000; t += 1) {
      expect(board.raise(t, "not-understood", `line ${t}`, where)).not.toBeNull();
      expect(board.cure(t, "not-understood")).toHaveLength(1);
    }
    board.raise(1000, "not-understood", "another gauge", { gauge: "mic" });
    board.raise(1000, "not-understood", "and once more", where);
    expect(board.all).toHaveLength(21);
    expect(board.all[0]?.text).toBe("line 0");
    expect(board.all.filter(({ unlisted }) => unlisted !== undefined)).toEqual([
      { tMs: 1000, code: "not-understood", text: "and once more", gauge: "bore", unlisted: 981 },
    ]);
    expect(board.stands("not-understood", where)).toBe(true);
  });

  it("counts none while there are few", () => {
    const board = new NoticeBoard();
    for (let t = 0; t < 20; t += 1) {
      board.raise(t, "too-quick", "slower");
      board.cure(t, "too-quick");
    }
    expect(board.all).toHaveLength(20);
    expect(board.all.every(({ unlisted }) => unlisted === undefined)).toBe(true);
  });
});
