import { describe, expect, it } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording } from "../../core/session/recording.ts";
import { sealRecord } from "../../core/session/seal.ts";
import { sha256 } from "../../electron/host/sha256.ts";
import { asLine, Bench, jobFile } from "./bench.ts";

const sentence = (bench: Bench) => bench.recording.view().guide.sentence;
const standing = (bench: Bench, code: string) =>
  bench.recording.view().notices.filter((notice) => notice.code === code && notice.curedMs === undefined);
const gauges = (sends: "press" | "held" | "stream", mic: "press" | "stream" = "press") => [
  { id: "bore", role: "bore", sends, unit: "mm", resolution: "0.001 mm" },
  { id: "mic", role: "micrometer", sends: mic, unit: "mm", resolution: "0.001 mm" },
];

describe("a new zero", () => {
  it.each([-500, 1_270])("is taken wherever the indicator was set to meanwhile (%i µm)", (preset) => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero(0);
    bench.step("bores");
    bench.press(40, 40, 40);
    bench.zero(preset);
    const { references } = bench.recording.view();
    expect(references.map(({ valueNm, kind }) => [kind, valueNm])).toEqual([
      ["zero", 0],
      ["zero", preset * 1000],
    ]);
    expect(bench.codes()).toEqual([]);
    expect(bench.outcomes.some(({ type }) => type === "struck")).toBe(false);
    bench.step("bores");
    bench.press(preset + 41, preset + 41, preset + 41);
    expect(bench.outcomes.findLast(({ type }) => type === "station")).toMatchObject({ clearanceNm: 41_000 });
  });

  it("still lets a press in the air strike the sweep before it", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero(0);
    bench.step("zero", { lifter: "1E" });
    bench.press(500, 2_000);
    expect(bench.outcomes.findLast(({ type }) => type === "struck")).toMatchObject({ what: "sweep" });
  });
});

describe("a correction that was accepted", () => {
  it.each(["zero", "step-check", "bores"])("leads on to a new zero, wherever it was accepted (%s)", (step) => {
    const bench = new Bench();
    bench.zero(0);
    bench.step(step, step === "zero" ? { lifter: "1E" } : step === "step-check" ? { openedNm: 20_000 } : {});
    bench.press(-20);
    bench.feed({ type: "correct", gauge: "bore", polarity: "-" });
    expect(bench.recording.view()).toMatchObject({ step: "zero", references: [], referenceSweeps: [] });
    expect(sentence(bench)).toMatch(/^Set the micrometer to the lifter/);
    bench.press(0, 0, 0);
    expect(bench.recording.view().references).toMatchObject([{ lifter: "1E", valueNm: 0 }]);
    bench.step("step-check", { openedNm: 20_000 });
    bench.press(-20);
    expect(bench.recording.view().stepCheck.state).toBe("passed");
  });

  it("keeps the lifter that the micrometer was said to be set to, in the first zero too", () => {
    const bench = new Bench();
    bench.step("zero", { lifter: "1I" });
    bench.feed({ type: "line", gauge: "bore", line: "+0.00015" });
    bench.feed({ type: "correct", gauge: "bore", unit: "in" });
    for (let press = 0; press < 3; press += 1) bench.feed({ type: "line", gauge: "bore", line: "+0.00015" });
    expect(bench.recording.view().references).toMatchObject([{ kind: "zero", lifter: "1I" }]);
  });

  it("voids the diameters that a micrometer read in the other unit", () => {
    const bench = new Bench();
    bench.step("lifters");
    bench.mic(21.4);
    bench.feed({ type: "correct", gauge: "mic", unit: "in" });
    expect(bench.recording.view()).toMatchObject({ nextLifter: "1E" });
    expect(bench.recording.view().lifters.every(({ readings }) => readings.length === 0)).toBe(true);
  });

  it("of polarity and unit is what the record says the gauge was read by", () => {
    const bench = new Bench();
    bench.zero(0);
    bench.feed({ type: "correct", gauge: "bore", polarity: "-", unit: "in" });
    expect(bench.recording.run.gaugesAsRead).toMatchObject([{ id: "bore", polarity: -1, unit: "in" }, { id: "mic" }]);
  });
});

describe("a sentence that has become another", () => {
  it("is told anew: a step check that fails in another way", () => {
    const bench = new Bench();
    bench.zero(0);
    bench.step("step-check", { openedNm: 20_000 });
    bench.press(-20);
    const [before] = standing(bench, "step-failed");
    bench.step("step-check", { openedNm: 20_000 });
    expect(standing(bench, "step-failed")).toEqual([]);
    bench.press(90);
    const [between] = standing(bench, "step-failed");
    expect(between?.text).not.toBe(before?.text);
    bench.press(-20);
    expect(standing(bench, "step-failed").map(({ text }) => text)).toEqual([before?.text]);
  });

  it("is told anew: temperatures that differ more than before", () => {
    const bench = new Bench();
    bench.feed({ type: "temperature", blockC: 25, lifterC: 20 });
    bench.feed({ type: "temperature", blockC: 35 });
    expect(standing(bench, "temperature").map(({ text }) => text)).toEqual([expect.stringContaining("Block 35 °C")]);
    bench.feed({ type: "temperature", blockC: 21 });
    expect(standing(bench, "temperature")).toEqual([]);
  });

  it("is told anew: a second return that is off by more", () => {
    const bench = new Bench();
    bench.zero(0);
    bench.step("bores");
    bench.press(40, 40, 40);
    bench.step("return");
    bench.press(8, 8, 8);
    expect(standing(bench, "zero-moved").map(({ text }) => text)).toEqual([expect.stringContaining("0.0080 mm")]);
    bench.step("return");
    bench.press(30, 30, 30);
    expect(standing(bench, "zero-moved").map(({ text }) => text)).toEqual([expect.stringContaining("0.0220 mm")]);
  });

  it("goes once a lifter is struck: not every one is measured any more", () => {
    const bench = new Bench(jobFile({ walk: ["1E"] }));
    bench.step("lifters");
    bench.mic(21.4, 21.4);
    expect(bench.codes()).toEqual(["order-of-work"]);
    bench.feed({ type: "strike" });
    expect(bench.recording.view().nextLifter).toBe("1E");
    expect(bench.codes()).toEqual([]);
  });
});

describe("taking a streaming micrometer's reading", () => {
  const begun = () => {
    const bench = new Bench(jobFile({ gauges: gauges("press", "stream") }));
    bench.step("lifters");
    bench.mic(21.4);
    return bench;
  };
  const measured = (bench: Bench) =>
    bench.recording.view().lifters.flatMap(({ name, diameterNm }) => (diameterNm === null ? [] : [name]));

  it("takes the one of now, once", () => {
    const bench = begun();
    bench.feed({ type: "take" });
    bench.feed({ type: "take" }, 100);
    expect(measured(bench)).toEqual(["1E"]);
    bench.mic(21.401);
    bench.feed({ type: "take" });
    expect(measured(bench)).toEqual(["1E", "1I"]);
  });

  it("takes none that is old, and none on hold", () => {
    const old = begun();
    old.feed({ type: "take" }, 1_500);
    expect(measured(old)).toEqual([]);
    const held = begun();
    held.feed({ type: "hold", on: true }, 100);
    held.feed({ type: "take" }, 100);
    expect(measured(held)).toEqual([]);
  });
});

describe("going back in a step check", () => {
  it("takes back one station, as in a zero", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero(0);
    bench.step("bores");
    bench.press(40, 40, 40, 41, 41);
    bench.step("step-check", { openedNm: 20_000 });
    bench.feed({ type: "back" });
    expect(bench.outcomes.filter(({ type }) => type === "struck")).toHaveLength(1);
  });
});

describe("a zero that is struck afterwards", () => {
  it("leaves no return check that is compared with a zero on another lifter", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero(0);
    bench.step("return");
    bench.press(0, 0, 0);
    bench.step("zero", { lifter: "1I" });
    bench.press(2, 2, 2);
    const [sweep] = bench.recording.view().references[2]?.sweeps ?? [];
    bench.step("return", { lifter: "1I" });
    bench.press(2, 2, 2);
    expect(bench.recording.view().references.map(({ kind }) => kind)).toEqual(["zero", "return", "zero", "return"]);
    bench.feed({ type: "reconsider", sweepMs: sweep?.tMs, use: "struck" });
    expect(bench.recording.view().references.map(({ kind, lifter }) => `${kind} ${lifter}`)).toEqual([
      "zero 1E",
      "return 1E",
      "zero 1I",
    ]);
  });
});

describe("a record of which a computed line is missing", () => {
  /** The file without the one line that `drops` names, sealed again as if it had never stood there. */
  function resealedWithout(text: string, drops: (record: Record<string, unknown>) => boolean): string {
    let before = "";
    let n = 0;
    let out = "";
    for (const row of text.trimEnd().split("\n")) {
      const { seal: _, ...record } = JSON.parse(row) as Record<string, unknown>;
      if (drops(record)) continue;
      const { seal, line } = sealRecord(before, record.n === undefined ? record : { ...record, n: ++n }, sha256);
      before = seal;
      out += `${line}\n`;
    }
    return out;
  }

  it("differs from what its raw lines give", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero(0);
    bench.step("bores");
    bench.press(40, 40, 40, 41, 41, 41);
    bench.feed({ type: "note", text: "so far" });
    expect(Recording.read(bench.text).differences).toEqual([]);
    let stations = 0;
    const cut = resealedWithout(bench.text, ({ type, what }) => {
      if (type === "kept" && what === "station") stations += 1;
      return type === "kept" && what === "station" && stations === 1;
    });
    const read = Recording.read(cut);
    expect(read.broken).toEqual([]);
    expect(read.differences).toEqual([
      expect.stringMatching(/^line \d+: its raw lines give station 1E upper axial 40000 nm before it/),
    ]);
  });
});

describe("an event that makes no sense", () => {
  it("loses nothing of what is owed to the file", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero(0);
    // As after a power cut: the raw line is on file, what was computed from it is not.
    const rows = bench.text.trimEnd().split("\n");
    expect(rows.at(-1)).toContain('"type":"kept"');
    const cut = `${rows.slice(0, -1).join("\n")}\n`;
    const { recording } = Recording.read(cut);
    expect(() => recording.record({ type: "line", t: 0, gauge: "bore", line: asLine(1) })).toThrow(RangeError);
    const { text } = recording.record({ type: "note", t: recording.tMs, text: "going on" });
    expect(Recording.read(cut + text)).toMatchObject({ broken: [], differences: [] });
    expect(text).toContain('"what":"zero"');
  });
});

describe("a job whose spare lifters name one partner twice", () => {
  it("is refused", () => {
    const spare = { spare: true };
    const paired = { ...spare, pairedWith: "S3" };
    const file = (lifters: object) => jobFile({ lifters });
    expect(parseJob(file({ S1: paired, S2: spare, S3: spare })).lifters.S3).toMatchObject({ pairedWith: "S1" });
    expect(() => parseJob(file({ S1: paired, S2: paired, S3: spare }))).toThrow('"S3" is paired with "S1" already');
  });
});
