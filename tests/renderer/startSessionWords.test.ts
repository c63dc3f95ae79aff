import { describe, expect, test } from "vitest";
import { found, outcome, progress } from "../../renderer/start/sessionWords.ts";
import type { SessionEntry } from "../../renderer/store/store.ts";

const entry = (part: Partial<SessionEntry>): SessionEntry => ({
  id: "2031-03-02-demonstration.bwsession",
  title: "Demonstration block",
  block: "bench example",
  created: "2031-03-02T08:00:00Z",
  modified: "2031-03-02T09:30:00Z",
  bores: 16,
  measured: 16,
  complete: true,
  verdicts: { fits: 13, "too tight": 0, "too loose": 2, undecided: 1, "not measured": 0 },
  simulated: false,
  trouble: null,
  ...part,
});

const good = entry({
  title: "Spring rebuild",
  verdicts: { fits: 16, "too tight": 0, "too loose": 0, undecided: 0, "not measured": 0 },
});
const unread = entry({ id: "x.bwsession", title: "Old one", verdicts: null, measured: 0, complete: false });

describe("the list of sessions", () => {
  test("says in words what was found and how far the work is", () => {
    expect(outcome(entry({}))).toBe("13 fit, 2 too loose, 1 undecided");
    expect(outcome(unread)).toBe("");
    expect(progress(entry({}))).toBe("complete, 16 bores");
    expect(progress(entry({ complete: false, measured: 7 }))).toBe("7 of 16 bores");
    expect(progress(unread)).toBe("16 bores; being read");
  });

  test("is searched by job, block, day and outcome, all words at once, whatever the capitals", () => {
    const all = [entry({}), good, unread];
    expect(found(all, "")).toEqual(all);
    expect(found(all, "SPRING")).toEqual([good]);
    expect(found(all, "too loose")).toEqual([all[0]]);
    expect(found(all, "bench loose")).toEqual([all[0]]);
    expect(found(all, "2 Mar 2031")).toEqual(all);
    expect(found(all, "2031-03")).toEqual(all);
    expect(found(all, "nothing of the kind")).toEqual([]);
  });
});
