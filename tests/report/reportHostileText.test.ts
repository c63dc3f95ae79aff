import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { cssString } from "../../core/report/page/style.ts";
import { reportInputOf } from "../../core/report/reportOf.ts";
import { type ReportInput, reportPage } from "../../core/report/reportPage.ts";
import { tagsOf, textOf } from "./readMarkup.ts";
import { sampleSession } from "./sampleSession.ts";

const base = reportInputOf(sampleSession({ job: { walk: ["1I", "1E"] } }));

/** The same report with a text in every place that a person, a gauge or a file can write into. */
function withText(text: string): ReportInput {
  const { job, result } = base;
  const height = text === "" ? "upper" : text;
  return {
    ...base,
    job: {
      ...job,
      title: text,
      block: text,
      operator: text,
      layout: { ...job.layout, title: text },
      materials: {
        block: { ...job.materials.block, id: text, source: text },
        lifter: { ...job.materials.lifter, id: text, source: text },
      },
    },
    result: {
      ...result,
      limits: { ...result.limits, source: text },
      lifters: result.lifters.map((lifter) => ({ ...lifter, name: text })),
      zeros: result.zeros.map((zero) => ({ ...zero, lifter: text })),
      bores: result.bores.map((bore) => ({
        ...bore,
        lifter: text,
        advice: text,
        stations: bore.stations.map((station) => ({ ...station, height })),
      })),
      notices: [{ t: 0, code: "not-understood", text, gauge: text }],
      differences: [text],
    },
    record: { ...base.record, app: text, seal: text, broken: [{ line: 2, why: text }] },
    corrections: [{ t: 0, text }],
    notes: [{ t: 0, text }],
    wear: { "1I": text },
    names: { shop: text, address: text, customer: text, operator: text, number: text },
  };
}

const plainTags = tagsOf(reportPage(withText("plain"))).map(({ name }) => name);

const HOSTILE = [
  "<script>alert(1)</script>",
  "</title></style></bdi><img src=x onerror=alert(1)>",
  `" onmouseover="alert(1)" x="`,
  "' style='background:url(//outside)'",
  "&lt;b&gt; & &amp; &#60;script&#62;",
  "<!-- open",
  "]]><svg/onload=alert(1)>",
  `"; } @import "//outside"; @page { content: "`,
  "\\22 ; } body { display: none } \\",
  "\u202Eevil\u202C \u2066isolated",
  "עברית ואנגלית and العربية mixed 工匠 ελληνικά",
  "\u0000\u0007\u001b[31m\ud800 lone",
  "x".repeat(200),
  "one\ntwo\r\nthree\tfour",
];

describe.each(HOSTILE)("a name such as %j", (text) => {
  const html = reportPage(withText(text));

  test("stays text: the page has the same tags as with a plain name", () => {
    expect(tagsOf(html).map(({ name }) => name)).toEqual(plainTags);
  });

  test("is printed whole", () => {
    const shown = text
      .replace(/[\t\n\r]+/g, " ")
      .replace(/[\p{Cc}\p{Surrogate}]/gu, "\uFFFD")
      .replace(/\s+/g, " ")
      .trim();
    expect(textOf(html)).toContain(shown);
  });

  test("does not leave the style sheet", () => {
    expect(html.match(/<style>/g)?.length).toBe(1);
    const style = /<style>([\s\S]*?)<\/style>/.exec(html)?.[1] ?? "";
    expect(style.slice(0, -3)).not.toMatch(/url\(|@import|<|javascript:/);
    expect(style.match(/\{/g)?.length).toBe(style.match(/\}/g)?.length);
    expect(style.match(/@page/g)?.length).toBe(1);
  });
});

test("any text stays text", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary", maxLength: 60 }), (text) => {
      const html = reportPage(withText(text === "" ? "x" : text));
      // Blanks alone leave a line to fill in, which is a tag of its own.
      if (text.trim() === "") return;
      expect(tagsOf(html).map(({ name }) => name)).toEqual(plainTags);
    }),
    { seed: 20260102, numRuns: 60 },
  );
});

test("a CSS string holds nothing that could end it", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary", maxLength: 40 }), (text) => {
      const inside = cssString(text).slice(1, -1);
      expect(inside).toMatch(/^(?:[A-Za-z0-9 ]|\\[0-9a-f]{1,6} )*$/);
      const read = inside.replace(/\\([0-9a-f]+) /g, (_whole, code: string) =>
        String.fromCodePoint(Number.parseInt(code, 16)),
      );
      expect(read).toBe(text.replace(/[\p{Cc}\p{Surrogate}\s]+/gu, " "));
    }),
    { seed: 20260102, numRuns: 500 },
  );
});
