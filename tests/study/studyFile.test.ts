import { describe, expect, it } from "vitest";
import { parseStudyFile, StudyFileError } from "../../core/report/studyFile.ts";
import { publishedStudy } from "./publishedStudy.ts";

const spoilt = (spoil: (file: Record<string, unknown> & typeof publishedStudy) => void) => {
  const file = structuredClone(publishedStudy) as Record<string, unknown> & typeof publishedStudy;
  spoil(file);
  return file;
};

describe("a study file", () => {
  it("takes lengths with their unit and whole nanometres alike", () => {
    const inText = parseStudyFile({ ...publishedStudy, band: "6 mm" });
    const inNm = parseStudyFile({
      ...publishedStudy,
      bandNm: 6_000_000,
      readings: publishedStudy.readings.map(({ values, ...cell }) => ({
        ...cell,
        valuesNm: values.map((value) => Math.round(Number.parseFloat(value) * 1_000_000)),
      })),
    });
    expect(inNm).toEqual(inText);
    expect(inText).toMatchObject({ repeats: 3, bandNm: 6_000_000, people: ["A", "B", "C"] });
    expect(inText.cells[0]).toEqual({ person: "A", bore: "1", valuesNm: [290_000, 410_000, 640_000] });
  });

  it.each<[string, Parameters<typeof spoilt>[0], string, string]>([
    ["an unknown field", (file) => Object.assign(file, { persons: [] }), "persons", "unknown field"],
    ["another version", (file) => Object.assign(file, { version: 2 }), "version", "found 2"],
    [
      "somebody unknown",
      (file) => Object.assign(file.readings[3] ?? {}, { person: "D" }),
      "readings[3].person",
      "A, B, C",
    ],
    [
      "an unknown bore",
      (file) => Object.assign(file.readings[3] ?? {}, { bore: "11" }),
      "readings[3].bore",
      "expected one of",
    ],
    ["a bore twice", (file) => file.bores.push("1"), "bores[10]", "twice"],
    [
      "a list twice",
      (file) => file.readings.splice(5, 1, file.readings[4] as never),
      "readings[5]",
      "readings[4] already",
    ],
    ["a list missing", (file) => file.readings.splice(5, 1), "readings", "none of 6 by A"],
    ["a repeat missing", (file) => file.readings[7]?.values.pop(), "readings[7].values", "found 2 readings"],
    [
      "a length without a unit",
      (file) => file.readings[7]?.values.splice(1, 1, "0.5"),
      "readings[7].values[1]",
      "unit is missing",
    ],
    [
      "a number for a length",
      (file) => file.readings[7]?.values.splice(1, 1, 5 as never),
      "readings[7].values[1]",
      "found 5",
    ],
    [
      "no values",
      (file) => Object.assign(file.readings[7] ?? {}, { values: undefined }),
      "readings[7].values",
      "expected array",
    ],
    ["a band of nothing", (file) => Object.assign(file, { band: "0 mm" }), "band", "above zero"],
    ["two bands", (file) => Object.assign(file, { band: "6 mm", bandNm: 6 }), "bandNm", "twice"],
  ])("refuses %s", (_, spoil, path, says) => {
    let refused: unknown = null;
    try {
      parseStudyFile(spoilt(spoil));
    } catch (error) {
      refused = error;
    }
    expect(refused).toBeInstanceOf(StudyFileError);
    expect((refused as StudyFileError).path).toBe(path);
    expect((refused as StudyFileError).message).toContain(says);
  });
});
