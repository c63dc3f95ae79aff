import { describe, expect, test } from "vitest";
import { deviationsOf } from "../../core/report/page/deviations.ts";
import { reportInputOf, reportOf } from "../../core/report/reportOf.ts";
import { textOf } from "./readMarkup.ts";
import { type Sample, sampleSession } from "./sampleSession.ts";

const FOUR = { walk: ["1E", "1I", "2I", "2E"], layout: "i4" };

function found(sample: Sample): Map<string, string> {
  const { recording, inputs } = sampleSession({ ...sample, job: { ...FOUR, ...sample.job } });
  const list = deviationsOf(reportInputOf({ recording, inputs }));
  expect(new Set(list.map(({ what }) => what)).size).toBe(list.length);
  const text = textOf(reportOf({ recording, inputs }));
  for (const { what, lines } of list) {
    expect(text).toContain(what);
    for (const line of lines) expect(text).toContain(line.replace(/\u00a0/g, " "));
  }
  return new Map(list.map(({ what, lines }) => [what, lines.join(" ").replace(/\u00a0/g, " ")]));
}

describe("deviations from the method as planned", () => {
  test("none in a whole and clean walk, and the report says so", () => {
    expect([...found({})]).toEqual([]);
    const { recording } = sampleSession({ job: FOUR });
    expect(textOf(reportOf({ recording }))).toContain("None: every station was measured, the zero held");
  });

  test("bores not measured, bores measured in part, a walk that is not complete", () => {
    const list = found({
      clearanceNm: (bore, station) => (bore === 1 || (bore === 2 && station === 1) ? null : 40_640),
    });
    expect(list.get("Bores not measured")).toBe("1I.");
    expect(list.get("Bores measured in part")).toBe("2I: no clearance at lower axial.");
    expect(list.has("Walk not complete")).toBe(true);
  });

  test("a station that was taken back, each sweep with its reading, and what was set aside with its reason", () => {
    const list = found({
      afterwards: (feed) => {
        feed({ type: "go", bore: "1E", station: { height: "upper", clock: "axial" } });
        feed({ type: "line", gauge: "bore", line: "+0.00150" });
        feed({ type: "strike" });
      },
    });
    expect(list.get("Sweeps struck")).toMatch(
      /^4 sweeps struck by the operator; .* 1E upper axial: .*; 0\.00150 in \(38\.1 µm\) at 0:/,
    );
    const outlier = found({ scatter: [0, 1, 20, 0, 1, 0] });
    expect(outlier.get("Sweeps set aside")).toMatch(
      /^4 sweeps set aside by the program.* 2E upper axial: .*, outlier\./,
    );
  });

  test("a step check that was not made, and one that failed", () => {
    expect(found({ stepCheck: false }).get("Step check")).toMatch(/rest on its settings alone/);
    const input = reportInputOf(sampleSession({ job: FOUR }));
    const failed = { ...input.result, stepCheck: { state: "failed", openedNm: 25_400, answerNm: -25_400 } };
    const [one] = deviationsOf({ ...input, result: failed });
    expect(one?.lines.join(" ")).toMatch(/^FAILED\. The micrometer was opened by .*answered −0\.00100/);
  });

  test("temperatures that were not measured, wholly or in part", () => {
    expect(found({ temperatures: false }).get("Temperature not measured")).toMatch(/^Taken as 20 ± 3 °C/);
    const input = reportInputOf(sampleSession({ job: FOUR }));
    const [one] = deviationsOf({ ...input, temperatures: [{ tMs: 0, blockC: 21, lifterC: null }] });
    expect(one).toEqual({
      what: "Temperature not measured",
      lines: ["Only that of the block was; the other was taken as the same."],
    });
  });

  test("no return check, and a zero that moved", () => {
    expect(found({ returns: false }).get("No return check")).toMatch(/^None was made/);
    expect(found({ returns: false, job: { returnCheckEvery: 0 } }).get("No return check")).toMatch(/by the job/);
    const moved = found({
      afterwards: (feed) => {
        feed({ type: "step", step: "return" });
        for (let sweep = 0; sweep < 3; sweep += 1) feed({ type: "line", gauge: "bore", line: "+0.00100" });
      },
    });
    expect(moved.get("Zero moved")).toMatch(/differed by 0\.00120 in \(30\.5 µm\), more than the 0\.00010 in/);
  });

  test("lifters that were not measured, and lifters that go into other bores", () => {
    expect(found({ lifters: false }).get("Lifters not measured")).toMatch(/^Every clearance is against the lifter/);
    const paired = found({
      afterwards: (feed) =>
        feed({
          type: "pairing",
          assignments: [
            { bore: "1E", lifter: "1I" },
            { bore: "1I", lifter: "1E" },
          ],
        }),
    });
    expect(paired.get("Lifters in other bores")).toContain("lifter 1I in bore 1E");
  });

  test("what the operator corrected, wrote down and interrupted", () => {
    const list = found({
      afterwards: (feed) => {
        feed({ type: "note", text: "bore 2I has a scratch" });
        feed({ type: "correct", gauge: "bore", gain: 1.0123 });
        feed({ type: "resumed", app: "borewright 0.0.0" });
      },
    });
    expect(list.get("Notes of the operator")).toMatch(/^0:\d\d:\d\d: bore 2I has a scratch$/);
    expect(list.get("Gauge corrected during the work")).toContain("gauge bore: gain 1.0123.");
    expect(list.get("Work interrupted")).toMatch(/^Taken up again at 0:/);
  });

  test("a record that does not agree with its raw lines", () => {
    const { recording } = sampleSession({ job: FOUR });
    const list = deviationsOf(
      reportInputOf({ recording, differences: ["line 9: recorded station 1E 1 nm, now 2 nm"] }),
    );
    expect(list[0]).toEqual({
      what: "Record and raw lines differ",
      lines: ["line 9: recorded station 1E 1 nm, now 2 nm"],
    });
  });

  test("a list too long for a page may be broken, a short one is kept together", () => {
    const many = Array.from({ length: 40 }, (_, index) => `line ${index + 2}: differs`);
    const { recording } = sampleSession({ job: FOUR });
    const html = reportOf({ recording, differences: many });
    const table = /<h2>[^<]*Deviations[\s\S]*?<\/table>/.exec(html)?.[0] ?? "";
    expect(table.match(/<tr>/g)?.length).toBe(41);
    expect(table).not.toContain('class="whole"');
  });
});
