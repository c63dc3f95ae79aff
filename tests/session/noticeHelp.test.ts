import { describe, expect, test } from "vitest";
import { NOTICE_CODES } from "../../core/session/notice.ts";
import { NOTICE_HELP, noticeSays } from "../../core/session/noticeHelp.ts";

describe("the help of every notice", () => {
  test("there is one for every code, and none for a code that does not exist", () => {
    expect(Object.keys(NOTICE_HELP).toSorted()).toEqual([...NOTICE_CODES].toSorted());
    expect(new Set(NOTICE_CODES).size).toBe(NOTICE_CODES.length);
  });

  test.each(NOTICE_CODES)(
    "%s: what it says, what it means, how to find the cause, what to do, when it is over",
    (code) => {
      const help = NOTICE_HELP[code];
      const said = noticeSays(code);
      expect(said.length).toBeGreaterThan(0);
      for (const text of [...said, help.means, ...help.causes, ...help.remedy, help.over]) {
        expect(text).toMatch(/^[A-Z0-9].*[.?]$/s);
        expect(text).not.toMatch(/undefined|NaN|\[object/);
      }
      expect(help.causes.length).toBeGreaterThan(0);
      expect(help.remedy.length).toBeGreaterThan(0);
      expect(help.title).toMatch(/^[A-Z].*[^.]$/);
    },
  );

  test("no two share a title or an explanation", () => {
    const all = Object.values(NOTICE_HELP);
    expect(new Set(all.map(({ title }) => title)).size).toBe(all.length);
    expect(new Set(all.map(({ means }) => means)).size).toBe(all.length);
  });

  test("the example of a gauge too coarse is one", () => {
    expect(noticeSays("coarse-gauge")[0]).toContain("cannot decide");
  });
});
