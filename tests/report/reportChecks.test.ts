import { describe, expect, test } from "vitest";
import { elapsed } from "../../core/report/page/times.ts";
import { reportInputOf, reportOf } from "../../core/report/reportOf.ts";
import { reportPage } from "../../core/report/reportPage.ts";
import { resultOf } from "../../core/report/result.ts";
import { rowsUnder, textOf } from "./readMarkup.ts";
import { everyVerdict, sampleSession } from "./sampleSession.ts";

const input = reportInputOf(sampleSession({ job: { layout: "i4" } }));

/** Rows of the table with a caption. */
function rowsOf(html: string, caption: string): string[][] {
  return rowsUnder(html.slice(html.lastIndexOf("<table", html.indexOf(`<caption>${caption}`))), "<table");
}

describe("what the report says of the checks", () => {
  test("each zero and return check at its time, with whether it held", () => {
    const { recording } = sampleSession({
      job: { layout: "i4" },
      afterwards: (feed) => {
        feed({ type: "step", step: "return" });
        for (let sweep = 0; sweep < 3; sweep += 1) feed({ type: "line", gauge: "bore", line: "+0.00100" });
      },
    });
    const { zeros } = resultOf(recording, "intact");
    expect(zeros.map(({ held }) => held)).toEqual([true, true, false]);
    const rows = rowsOf(reportOf({ recording }), "Zero and return checks");
    expect(rows.map((row) => [row[0], row[1], row.at(-1)])).toEqual([
      [elapsed(zeros[0]?.t ?? 0), "zero", ""],
      [elapsed(zeros[1]?.t ?? 0), "return check", "held"],
      [elapsed(zeros[2]?.t ?? 0), "return check", "moved"],
    ]);
  });

  test("which notices stand, which are cured and when, and the same one counted on one row", () => {
    const text = "Rock slower.";
    const notices = [
      { t: 1_000, code: "frozen", text: "It repeats one value.", gauge: "bore" },
      { t: 61_000, code: "too-quick", text, bore: "1E", height: "upper", clock: "axial", curedT: 62_000 },
      { t: 71_000, code: "too-quick", text, bore: "1E", height: "upper", clock: "axial", curedT: 75_000 },
    ];
    const rows = rowsUnder(reportPage({ ...input, result: { ...input.result, notices } }), "  Notices<");
    expect(rows).toEqual([
      ["0:00:01", "gauge bore", "frozen", "It repeats one value.", "stands"],
      ["0:01:01 2 times", "1E upper axial", "too-quick", "Rock slower.", "cured at 0:01:15"],
    ]);
  });

  test("a whole record's seals hold, a changed one's do not", () => {
    expect(textOf(reportPage(input))).toContain(`${input.record.records} records; seals hold`);
    const broken = textOf(reportPage({ ...input, result: { ...input.result, seal: "broken" } }));
    expect(broken).toContain(`${input.record.records} records; SEAL BROKEN`);
    expect(broken).not.toContain("seals hold");
  });

  test("lifters one below the other, column after column", () => {
    const { recording } = sampleSession({ clearanceNm: everyVerdict });
    const names = recording.job.walk;
    const rows = rowsUnder(reportOf({ recording }), "  Lifters<");
    const columns = [0, 4, 8].flatMap((at) => rows.map((row) => row[at] ?? "").filter((name) => name !== ""));
    expect(columns).toEqual([...names]);
  });

  test("a time as hours, minutes and seconds", () => {
    expect([0, 999, 59_999, 60_000, 3_599_999, 3_600_000, 90_061_000].map(elapsed)).toEqual([
      "0:00:00",
      "0:00:00",
      "0:00:59",
      "0:01:00",
      "0:59:59",
      "1:00:00",
      "25:01:01",
    ]);
  });

  test("the gain in use, and what was measured of the temperatures", () => {
    const temperatures = [
      { tMs: 30_000, blockC: 20.5, lifterC: null },
      { tMs: 90_000, blockC: 21, lifterC: 20.8 },
    ];
    const text = textOf(reportPage({ ...input, gain: 1.0123, temperatures }));
    expect(text).toContain("up as the size grows; gain 1.0123");
    expect(text).toContain("0:00:30: block 20.5 °C, lifter not measured");
    expect(text).toContain("0:01:30: block 21.0 °C, lifter 20.8 °C");
  });
});
