import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { findBores } from "../../core/fit/findBores.ts";
import { toNm } from "../../core/length/nm.ts";
import { exampleInput } from "./exampleInput.ts";

const page = readFileSync(new URL("../../core/fit/UNCERTAINTY.md", import.meta.url), "utf8");

/** The example of the page: two lifters measured, nothing known of the temperature; the second bore has its own lifter. */
function exampleStation(lifter: "1E" | "1I" = "1E") {
  const lifters = new Map([
    ["1I", toNm(21_386_800)],
    ["1E", toNm(21_387_300)],
  ]);
  const station = findBores(exampleInput({ lifters, fitted: new Map([["1E", lifter]]) }))[1]?.stations[0];
  if (station === undefined) throw new Error("the example has a second bore");
  return station;
}

test("the page's worked example is what the program computes", () => {
  const station = exampleStation();
  const rows = station.budget.map((line) => {
    const freedom = Number.isFinite(line.degreesOfFreedom) ? String(Math.round(line.degreesOfFreedom)) : "∞";
    const contribution = (line.contributionNm / 1000).toFixed(3);
    const share = `${(line.share * 100).toFixed(1)} %`;
    return [line.name, line.distribution, freedom, contribution, share];
  });
  const written = page
    .slice(page.indexOf("## Worked example"))
    .split("\n")
    .filter((row) => row.startsWith("|"))
    .slice(2)
    .map((row) =>
      row
        .split("|")
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );
  expect(written).toEqual(rows);
  const says = (text: string) => expect(page.replace(/\s+/g, " ")).toContain(text);
  says(`clearance ${((station.clearanceNm ?? 0) / 1000).toFixed(2)} µm`);
  says(`combined ${(station.standardUncertaintyNm / 1000).toFixed(3)} µm`);
  says(`${station.degreesOfFreedom.toFixed(0)} effective degrees of freedom`);
  says(`U falls to ${((exampleStation("1I").uncertaintyNm ?? 0) / 1000).toFixed(2)} µm`);
  says(`U = ${((station.uncertaintyNm ?? 0) / 1000).toFixed(2)} µm`);
});
