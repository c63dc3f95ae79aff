import { describe, expect, it } from "vitest";
import { reportOf } from "../../core/report/reportOf.ts";
import { resultOf, resultSchema } from "../../core/report/result.ts";
import { boresTable } from "../../core/report/tables.ts";
import { type FeelView, feelSentence, handDisagrees } from "../../core/session/feel.ts";
import { Recording } from "../../core/session/recording.ts";
import { csvOf } from "../../electron/host/csv.ts";
import { sampleSession } from "../report/sampleSession.ts";
import { Bench } from "./bench.ts";

/** Lifters, zero and both stations of every bore, 40 µm each. */
function measured(): Bench {
  const bench = new Bench();
  bench.step("lifters");
  bench.mic(21.4, 21.4, 21.4, 21.4);
  bench.zero();
  bench.step("bores");
  for (const bore of bench.recording.job.walk) {
    bench.feed({ type: "go", bore });
    bench.press(40, 40, 40, 40, 40, 40);
  }
  return bench;
}

const feel = (bench: Bench, bore: string, found: string | null, more: Record<string, unknown> = {}) =>
  bench.feed({ type: "feel", bore, found, ...more });

describe("what a hand finds in a bore, with oil", () => {
  it("stands bore by bore in walk order; the last entry counts, and it can be withdrawn", () => {
    const bench = measured();
    feel(bench, "2I", "binds", { oil: "assembly oil", note: "at the mouth" });
    feel(bench, "1E", "free");
    feel(bench, "2I", "drags", { oil: "engine oil" });
    expect(bench.recording.view().feel).toEqual([
      { bore: "1E", tMs: bench.t - 500, found: "free", lifter: "1E", oil: "", note: "", outdated: null },
      { bore: "2I", tMs: bench.t, found: "drags", lifter: "2I", oil: "engine oil", note: "", outdated: null },
    ]);
    feel(bench, "2I", null);
    expect(bench.recording.view().feel.map(({ bore }) => bore)).toEqual(["1E"]);
    feel(bench, "8E", "free");
    expect(bench.recording.view().feel.map(({ bore }) => bore)).toEqual(["1E"]);
  });

  it("changes no finding, no notice and no outcome of the walk", () => {
    const bench = measured();
    const before = bench.recording.view();
    expect(before.bores.map(({ verdict }) => verdict)).toEqual(["fits", "fits", "fits", "fits"]);
    const outcomes = before.bores.flatMap(({ name }) => [...feel(bench, name, "binds")]);
    const after = bench.recording.view();
    expect(outcomes).toEqual([]);
    expect({ ...after, n: before.n, tMs: before.tMs, feel: [] }).toEqual(before);
  });

  it("is read back from the file as it was entered, sealed with the rest", () => {
    const bench = measured();
    feel(bench, "1I", "drags", { note: "„schwer“, at the top" });
    const read = Recording.read(bench.text);
    expect(read.broken).toEqual([]);
    expect(read.differences).toEqual([]);
    expect(read.recording.view().feel).toEqual(bench.recording.view().feel);
    const line = bench.text.split("\n").findIndex((one) => one.includes('"drags"'));
    const changed = Recording.read(bench.text.replace('"drags"', '"free"'));
    expect(changed.broken).toEqual([{ line: line + 1, why: "the record does not match its seal" }]);
  });

  it("is outdated once another lifter goes in, or the bore was measured again", () => {
    const bench = measured();
    feel(bench, "1I", "free");
    feel(bench, "1E", "free");
    feel(bench, "2I", "free");
    bench.feed({
      type: "pairing",
      assignments: [
        { bore: "1E", lifter: "1I" },
        { bore: "1I", lifter: "1E" },
      ],
    });
    bench.feed({ type: "go", bore: "2I" });
    bench.press(40, 40, 40, 40, 40, 40);
    const standing = () => bench.recording.view().feel.map(({ bore, outdated }) => [bore, outdated]);
    expect(standing()).toEqual([
      ["1E", "other lifter"],
      ["1I", "other lifter"],
      ["2I", "measured again"],
    ]);
    feel(bench, "1I", "free");
    expect(bench.recording.view().feel[1]).toMatchObject({ lifter: "1E", outdated: null });
    bench.feed({ type: "pairing", assignments: [] });
    expect(standing()[0]).toEqual(["1E", null]);
  });

  it("is worth a sentence where hand and gauge do not say the same", () => {
    const entry: FeelView = { bore: "1I", tMs: 0, found: "drags", lifter: "1I", oil: "", note: "", outdated: null };
    const free: FeelView = { ...entry, found: "free" };
    const says = feelSentence(entry, "fits");
    for (const word of ["disagree", "fits", "drags", "burr", "edge", "dirt", "warm", "no source"])
      expect(says).toContain(word);
    expect(feelSentence(entry, "too loose")).toContain("too loose");
    expect(feelSentence(entry, "too tight")).toBeNull();
    expect(feelSentence(free, "fits")).toBeNull();
    expect(feelSentence(free, "too loose")).toBeNull();
    expect(feelSentence(free, "too tight")).toContain("does not make it fit");
    expect(feelSentence({ ...entry, outdated: "other lifter" }, "fits")).toBe(
      "Felt with lifter 1I, which is not the one that goes in now: feel it again.",
    );
    expect(
      [entry, free, { ...entry, outdated: "measured again" as const }].map((one) => handDisagrees(one, "fits")),
    ).toEqual([true, false, false]);
    expect(handDisagrees(entry, "too tight")).toBe(false);
  });
});

describe("on paper and in files", () => {
  const session = (entries: readonly Record<string, unknown>[]) =>
    sampleSession({
      afterwards: (feed) => {
        for (const entry of entries) feed({ type: "feel", ...entry });
      },
    }).recording;

  it("nothing of it is there where nothing was entered", () => {
    const result = resultOf(session([]), "intact");
    expect(result.bores.every((bore) => !("feel" in bore))).toBe(true);
    expect(boresTable(result).columns).not.toContain("by hand");
    const html = reportOf({ recording: session([]) });
    expect(html).toContain("not in the record");
    expect(html).toContain("Slides freely, whole travel");
  });

  it("the result, the table and the report hold what was entered, and no formula runs", () => {
    const recording = session([
      { bore: "1I", found: "drags", oil: "engine oil", note: "=HYPERLINK(1)" },
      { bore: "3E", found: "free" },
    ]);
    const result = resultSchema.parse(resultOf(recording, "intact"));
    const bore = result.bores.find(({ name }) => name === "1I");
    expect(bore).toMatchObject({ verdict: "fits", feel: { found: "drags", lifter: "1I", outdated: null } });
    expect(bore?.feel?.says).toContain("Hand and gauge disagree");
    const csv = csvOf(boresTable(result), "comma");
    expect(csv.split("\r\n")[0]).toMatch(/;by hand;oil;note by hand$/);
    expect(csv).toContain("drags;engine oil;'=HYPERLINK(1)");
    const html = reportOf({ recording });
    expect(html).toContain("falls and turns freely");
    expect(html).toContain("=HYPERLINK(1)");
    expect(html).toContain("Hand and gauge disagree");
    expect(html).not.toContain("not in the record:");
  });
});
