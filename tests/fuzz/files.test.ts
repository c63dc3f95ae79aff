import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { methods } from "../../core/bridge/messages.ts";
import { parseStudyFile, StudyFileError } from "../../core/report/studyFile.ts";
import { FeedError, parseFeedLine } from "../../core/session/feed.ts";
import { JobError } from "../../core/session/jobError.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording, SessionError } from "../../core/session/recording.ts";
import { pureHash, sealRecord } from "../../core/session/seal.ts";
import { differencesOf, differenceText } from "../../electron/host/parcel/compareRecorded.ts";
import { heldJob } from "../host/benchFiles.ts";
import { Bench } from "../session/bench.ts";
import { mutations, trials } from "./trials.ts";

const SEED = 20_261_128;
const RUNS = 60;

describe("mutated files: the reader's own error or the truth, never a crash and never another value", () => {
  for (const trial of trials) {
    it(`${trial.name}, ${RUNS} of them (seed ${SEED}; npm run long -- fuzz-files for many)`, async () => {
      await fc.assert(
        fc.asyncProperty(mutations, async (mutation) => {
          await trial.read(trial.make(mutation), mutation);
        }),
        { seed: SEED, numRuns: RUNS },
      );
    }, 120_000);
  }
});

const said = (work: () => unknown, kind: new (...args: never[]) => Error): string => {
  try {
    work();
  } catch (error) {
    expect(error).toBeInstanceOf(kind);
    return (error as Error).message;
  }
  throw new Error("nothing was refused");
};

const deep = JSON.parse("[".repeat(20_000) + "]".repeat(20_000)) as unknown;

/** A session of some presses whose last lines are these records, sealed. */
function sessionWith(records: readonly object[]): string {
  const bench = new Bench();
  bench.zero();
  let text = bench.text;
  let seal = bench.recording.seal;
  let n = bench.recording.n;
  for (const record of records) {
    n += 1;
    const made = sealRecord(seal, { n, t: 60_000, ...record }, pureHash);
    seal = made.seal;
    text += `${made.line}\n`;
  }
  return text;
}

describe("what was found by mutating, and mended", () => {
  it("a material by the name of something in the language is no material", () => {
    for (const name of ["constructor", "toString", "__proto__", "hasOwnProperty"]) {
      expect(said(() => parseJob({ ...heldJob, materials: { block: name } }), JobError)).toContain(
        `materials.block: found "${name}"; expected one of`,
      );
    }
    const own = { block: { name: "constructor", alpha: 12 } };
    expect(parseJob({ ...heldJob, materials: own }).materials.block).toMatchObject({ id: "constructor", alpha: 12 });
  });

  it("a limit larger than any clearance is refused, not computed with", () => {
    const limits = { low: "0.0013 in", high: "9007199254 mm", source: "test" };
    expect(said(() => parseJob({ ...heldJob, limits }), JobError)).toBe(
      'limits.high: found "9007199254 mm"; expected a clearance of at most 10 mm',
    );
  });

  it("what is nested without end is told of in a few words", () => {
    expect(said(() => parseJob({ ...heldJob, title: deep }), JobError)).toContain("title: found");
    expect(said(() => parseStudyFile({ format: "borewright/study", version: deep }), StudyFileError)).toContain(
      "version: found",
    );
    const line = `{"t": 0, "gauge": "bore", "line": ${"[".repeat(20_000)}${"]".repeat(20_000)}}`;
    expect(said(() => parseFeedLine(line, 1, 0, parseJob(heldJob)), FeedError)).toContain("line: found");
    expect(
      said(() => Recording.read(`{"format":${"[".repeat(20_000)}${"]".repeat(20_000)}}\n`), SessionError),
    ).toContain("found format");
  });

  it("a monstrous or a steering text is shown shortened and plain", () => {
    const long = said(() => parseJob({ ...heldJob, layout: "x".repeat(1_000_000) }), JobError);
    expect(long.length).toBeLessThan(700);
    const steering = said(() => parseJob({ ...heldJob, rule: "a\u001b[2J\nb\u202e" }), JobError);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what it looks for
    expect(steering).not.toMatch(/[\u0000-\u001f\u202e]/);
    expect(said(() => parseJob({ ...heldJob, lifters: { ["k".repeat(5_000)]: {} } }), JobError).length).toBeLessThan(
      700,
    );
  });

  it("half a sign, which no seal can hold, is refused where it is read and not when it is written", () => {
    const half = "\ud800";
    const gauges = [{ ...heldJob.gauges[0], request: half }];
    expect(said(() => parseJob({ ...heldJob, gauges }), JobError)).toBe("gauges[0].request: expected well-formed text");
    const layout = {
      title: half,
      firingOrder: [1],
      banks: [{ name: "only", cylinders: [1], bores: ["I", "E"] }],
    };
    expect(said(() => parseJob({ ...heldJob, layout, walk: "bank" }), JobError)).toContain("expected well-formed text");
    const line = JSON.stringify({ t: 0, gauge: "bore", line: half });
    expect(said(() => parseFeedLine(line, 1, 0, parseJob(heldJob)), FeedError)).toContain("line: found");
    const noted = methods["session.act"].in.safeParse({ action: { type: "note", text: half } });
    expect(noted.success).toBe(false);
  });

  it("an event that no seal can hold is told with its line, and what is computed after it is read on", () => {
    const bench = new Bench();
    bench.zero();
    const lines = bench.text.trimEnd().split("\n");
    const at = lines.findIndex((line) => line.includes('"step":"zero"'));
    lines[at] = (lines[at] as string).replace('"lifter":"1E"', '"lifter":"\\ud800"');
    const read = Recording.read(`${lines.join("\n")}\n`);
    expect(read.broken.map(({ line }) => line)).toContain(at + 1);
    expect(read.inputs.some((input) => input.type === "line")).toBe(true);
  });

  it("a number of a record that is none does not stop the reading", () => {
    const bench = new Bench();
    bench.zero();
    const lines = bench.text.trimEnd().split("\n");
    const at = lines.findIndex((line) => line.includes('"+0.000"'));
    lines[at] = (lines[at] as string).replace(/"n":\d+/, '"n":1e999');
    const read = Recording.read(`${lines.join("\n")}\n`);
    expect(read.broken[0]).toEqual({ line: at + 1, why: "the record does not match its seal" });
    expect(read.recording.view().references).toHaveLength(1);
  });

  it("a field of a parcel's findings named like something in the language is told as one too many", () => {
    expect(differencesOf({ constructor: 1 }, {}).map(differenceText)).toEqual([
      "constructor: 1 there, nothing by the raw lines",
    ]);
    expect(differencesOf({}, { toString: 1 }).map(differenceText)).toEqual([
      "toString: nothing there, 1 by the raw lines",
    ]);
  });

  it("a header without its time is no session's header", () => {
    const { line } = sealRecord(
      "",
      { format: "borewright/session", version: 1, app: "test 0", created: 5, job: heldJob },
      pureHash,
    );
    expect(said(() => Recording.read(`${line}\n`), SessionError)).toBe(
      "created: found 5; expected a text in the session's header",
    );
  });

  it.each([
    ["a time of many thousand years", { type: "line", gauge: "bore", line: "+0.000", t: 1e300 }, /^t: /],
    ["a gain that no indicator has", { type: "correct", gauge: "bore", gain: 1e-300 }, /^gain: /],
  ])("%s in a session is told with its line and changes nothing", (_what, record, why) => {
    const read = Recording.read(sessionWith([record, { type: "note", text: "after" }]));
    expect(read.broken).toHaveLength(1);
    expect(read.broken[0]?.why).toMatch(why);
    expect(read.inputs.at(-1)).toMatchObject({ type: "note" });
    expect(read.recording.view().references).toHaveLength(1);
  });

  it("a computed record that holds what JSON can hold and a record can not is a difference, not the end", () => {
    const [head = ""] = sessionWith([{ type: "kept", what: "zero" }]).split(/(?<=\n)(?=[^\n]*\n$)/);
    for (const value of ['"\\ud800"', '{"toString":1}', "1e999"]) {
      const read = Recording.read(
        `${head}{"n":99,"seal":"00","t":60000,"type":"kept","what":"zero","valueNm":${value}}\n`,
      );
      expect(read.broken).toHaveLength(1);
      expect(read.differences).toHaveLength(1);
    }
  });
});
