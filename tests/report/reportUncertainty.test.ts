import { describe, expect, test } from "vitest";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import { reportOf } from "../../core/report/reportOf.ts";
import { resultOf } from "../../core/report/result.ts";
import { rowsUnder, textOf } from "./readMarkup.ts";
import { everyVerdict, sampleSession } from "./sampleSession.ts";

const hundredths = (nm: number) => formatLength(toNm(nm), "um", 2);
const inches = (nm: number) => formatLength(toNm(nm), "in", 5);
const micrometres = (nm: number) => formatLength(toNm(nm), "um", 1);

describe("the uncertainty in the report", () => {
  const { recording } = sampleSession({ clearanceNm: everyVerdict });
  const { bores, limits } = resultOf(recording, "intact");
  const html = reportOf({ recording });
  const stations = bores.flatMap((bore) => bore.stations.map((station) => ({ bore: bore.name, ...station })));
  const middle = (limits.lowNm + limits.highNm) / 2;
  const far = ({ clearanceNm: c }: (typeof stations)[number]) => (c === null ? -1 : Math.abs(c - middle));
  const [worst] = [...stations].sort((a, b) => far(b) - far(a));
  if (worst === undefined) throw new Error("nothing measured");

  test("is laid open line by line at the station farthest from the middle of the limits", () => {
    expect(textOf(html)).toContain(
      `Bore ${worst.bore}, ${worst.height}, ${worst.clock}: ${inches(worst.clearanceNm ?? 0)} in`,
    );
    const rows = rowsUnder(html, "  Uncertainty<");
    expect(rows.length).toBe(worst.budget.length + 2);
    for (const [index, line] of worst.budget.entries()) {
      const [name, input = "", , contribution, share = ""] = rows[index] ?? [];
      expect(name).toBe(line.name);
      expect(input.endsWith(`, ${line.distribution}`)).toBe(true);
      if (line.unit === "nm") expect(input).toContain(`${hundredths(line.u)} µm`);
      expect(contribution).toBe(hundredths(line.contributionNm));
      expect(share).toBe(`${(line.share * 100).toFixed(0)} %`);
    }
    const [combined, expanded] = rows.slice(-2);
    const sum = Math.hypot(...worst.budget.map((line) => line.contributionNm));
    expect(combined?.[2]).toBe(hundredths(sum));
    expect(expanded?.[2]).toBe(hundredths(worst.uncertaintyNm ?? 0));
  });

  test("goes from the smallest to the largest U of all stations", () => {
    const all = stations.flatMap(({ uncertaintyNm: u }) => (u === null ? [] : [u]));
    const [least, most] = [Math.min(...all), Math.max(...all)];
    expect(least).toBeLessThan(most);
    expect(textOf(html)).toContain(
      `U goes from ${inches(least)} to ${inches(most)} in (${micrometres(least)} to ${micrometres(most)} µm)`,
    );
  });

  test("says so where there is none", () => {
    const { recording: empty } = sampleSession({ clearanceNm: () => null });
    expect(textOf(reportOf({ recording: empty }))).toContain("No clearance was measured, so there is no budget.");
  });
});
