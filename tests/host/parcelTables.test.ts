import { describe, expect, it } from "vitest";
import { csvOf } from "../../electron/host/csv.ts";

const cell = (value: string | number | boolean | null, decimal: "point" | "comma" = "point") =>
  csvOf({ columns: ["a", "b"], rows: [[value, 1]] }, decimal)
    .replace(/^\uFEFF/, "")
    .split("\r\n")
    .slice(1, -1)
    .join("\r\n");

describe("a table as CSV", () => {
  it.each(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "＝1", "＋1", "－1", "＠x"])(
    "lets no spreadsheet run a text as a formula: %j",
    (text) => {
      expect(cell(text).replace(/^"/, "")).toMatch(/^'/);
      expect(cell(text, "comma").replace(/^"/, "")).toMatch(/^'/);
    },
  );

  it("leaves numbers numbers, also negative ones", () => {
    expect(cell(-1.5)).toBe("-1.5,1");
    expect(cell(-1.5, "comma")).toBe("-1,5;1");
    expect(cell(0.0000001)).toBe("0.0000001,1");
    expect(cell(-0.00000012, "comma")).toBe("-0,00000012;1");
    expect(cell(1234567.25, "comma")).toBe("1234567,25;1");
  });

  it("keeps a text that looks like a number with a comma a text", () => {
    expect(cell("1,5")).toBe('"1,5",1');
    expect(cell("1;5", "comma")).toBe('"1;5";1');
    expect(cell("1,5", "comma")).toBe("1,5;1");
  });

  it("keeps quotes, line ends, long texts and other alphabets whole", () => {
    expect(cell('6" bore')).toBe('"6"" bore",1');
    expect(cell("two\nlines")).toBe('"two\nlines",1');
    expect(cell("two\rlines")).toBe('"two\rlines",1');
    const long = "длинный текст ".repeat(5_000);
    expect(cell(long)).toBe(`${long},1`);
    expect(cell("مُحَرِّك")).toBe("مُحَرِّك,1");
    expect(cell("a\u202Eb")).toBe("a\u202Eb,1");
    expect(cell(null)).toBe(",1");
    expect(cell(true)).toBe("yes,1");
  });

  it("begins with a byte order mark when there is other than ASCII in it, and only then", () => {
    expect(csvOf({ columns: ["a"], rows: [["é"]] })).toMatch(/^\uFEFF/);
    expect(csvOf({ columns: ["a"], rows: [["e"]] })).toMatch(/^a\r\n/);
  });
});
