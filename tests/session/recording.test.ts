import { describe, expect, it } from "vitest";
import { resultOf } from "../../core/report/result.ts";
import { Recording, SessionError } from "../../core/session/recording.ts";
import { pureHash, sealRecord } from "../../core/session/seal.ts";
import { Bench, jobFile } from "./bench.ts";

/** A whole short session with a struck sweep, a jump, a torn line's worth of everything. */
function wholeSession(): Bench {
  const bench = new Bench(jobFile({ title: "Prüfblock ✓", returnCheckEvery: 4 }));
  bench.step("lifters");
  bench.mic(21.4, 21.398, 21.401, 21.4);
  bench.step("zero", { lifter: "1E", blockC: 20.5, lifterC: 20.5 });
  bench.press(0, 1, 0);
  bench.step("bores");
  bench.press(40, 60, 900, 40, 40);
  bench.press(...Array(21).fill(41));
  bench.step("return");
  bench.press(0, 0, 1);
  return bench;
}

describe("a recording", () => {
  it("read again gives the same result, and agrees with what was recorded", () => {
    const bench = wholeSession();
    expect(bench.recording.run.complete).toBe(true);
    const read = Recording.read(bench.text);
    expect(read.broken).toEqual([]);
    expect(read.torn).toBeNull();
    expect(read.differences).toEqual([]);
    expect(resultOf(read.recording, "intact")).toEqual(resultOf(bench.recording, "intact"));
  });

  it("cut at every byte gives the good prefix and says what was torn", () => {
    const bytes = new TextEncoder().encode(wholeSession().text);
    const headerEnd = bytes.indexOf(0x0a);
    const decoder = new TextDecoder();
    let records = 0;
    for (let cut = 0; cut <= bytes.length; cut += 1) {
      const text = decoder.decode(bytes.subarray(0, cut));
      if (cut <= headerEnd) {
        expect(() => Recording.read(text)).toThrow(SessionError);
        continue;
      }
      const read = Recording.read(text);
      const whole = bytes.subarray(0, cut).lastIndexOf(0x0a) + 1;
      expect(read.broken).toEqual([]);
      expect(read.differences).toEqual([]);
      expect(read.torn?.wholeBytes ?? cut).toBe(whole);
      expect(read.torn === null).toBe(whole === cut);
      expect(read.recording.n).toBeGreaterThanOrEqual(records);
      records = read.recording.n;
    }
    expect(records).toBeGreaterThan(50);
  });

  it("goes on after a cut as if nothing had happened, and writes what it still owed", () => {
    const bench = wholeSession();
    const lines = bench.text.trimEnd().split("\n");
    // Cut between the raw line that closed a station and the computed record of it.
    const kept = lines.findIndex((line) => line.includes('"what":"station"'));
    const read = Recording.read(`${lines.slice(0, kept).join("\n")}\n`);
    const { text } = read.recording.record({ type: "resumed", t: read.recording.tMs + 10, app: "test 0" });
    expect(text.split("\n")[0]).toContain('"what":"station"');
    const again = Recording.read(`${lines.slice(0, kept).join("\n")}\n${text}`);
    expect(again.broken).toEqual([]);
    expect(again.differences).toEqual([]);
  });

  it("reports a changed byte with its line and still opens", () => {
    const bench = wholeSession();
    const lines = bench.text.trimEnd().split("\n");
    const at = lines.findIndex((line) => line.includes("+0.041"));
    lines[at] = (lines[at] as string).replace("+0.041", "+0.042");
    const read = Recording.read(`${lines.join("\n")}\n`);
    expect(read.broken).toEqual([{ line: at + 1, why: "the record does not match its seal" }]);
    expect(read.recording.run.findings().length).toBe(4);
  });

  it("finds any single changed character of any record", () => {
    const { text } = wholeSession();
    const lines = text.trimEnd().split("\n");
    for (let at = 1; at < lines.length; at += 7) {
      const line = lines[at] as string;
      for (let position = 0; position < line.length; position += 3) {
        const changed = line.slice(0, position) + (line[position] === "1" ? "2" : "1") + line.slice(position + 1);
        const read = Recording.read(`${[...lines.slice(0, at), changed, ...lines.slice(at + 1)].join("\n")}\n`);
        const last = at === lines.length - 1;
        expect(read.broken.length > 0 || (last && read.torn !== null)).toBe(true);
      }
    }
  });

  it("finds a removed and an exchanged record", () => {
    const lines = wholeSession().text.trimEnd().split("\n");
    const without = [...lines.slice(0, 9), ...lines.slice(10)].join("\n");
    expect(Recording.read(`${without}\n`).broken[0]?.line).toBe(10);
    const exchanged = [...lines.slice(0, 9), lines[10], lines[9], ...lines.slice(11)].join("\n");
    expect(Recording.read(`${exchanged}\n`).broken[0]?.line).toBe(10);
  });

  it("is judged by its content: other blanks and another order of fields keep the seal", () => {
    const lines = wholeSession().text.trimEnd().split("\n");
    const loose = lines.map((line) => {
      const record = JSON.parse(line) as Record<string, unknown>;
      return JSON.stringify(Object.fromEntries(Object.entries(record).reverse()), null, 1).replaceAll("\n", " ");
    });
    expect(Recording.read(`${loose.join("\n")}\n`).broken).toEqual([]);
  });

  it("says where a recorded figure differs from what its lines give", () => {
    const lines = wholeSession().text.trimEnd().split("\n");
    const at = lines.findIndex((line) => line.includes('"what":"station"'));
    let seal = "";
    const forged = lines.map((line, index) => {
      const { seal: _seal, ...record } = JSON.parse(line);
      if (index === at) record.valueNm += 1;
      const sealed = sealRecord(seal, record, pureHash);
      seal = sealed.seal;
      return sealed.line;
    });
    const read = Recording.read(`${forged.join("\n")}\n`);
    expect(read.broken).toEqual([]);
    expect(read.differences).toEqual([
      `line ${at + 1}: recorded station 1E upper axial 40001 nm, now station 1E upper axial 40000 nm`,
    ]);
  });

  it("refuses what is no session, with what was found", () => {
    expect(() => Recording.read('{"format":"something"}\n')).toThrow(/found format "something"/);
    expect(() => Recording.read("")).toThrow(/header is incomplete/);
    expect(() => Recording.read("hello\n")).toThrow(/not JSON/);
  });
});
