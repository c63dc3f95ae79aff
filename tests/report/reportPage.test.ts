import { describe, expect, test } from "vitest";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import { pairSession } from "../../core/report/pairingReport.ts";
import { remedySession } from "../../core/report/remedyReport.ts";
import { reportInputOf, reportOf } from "../../core/report/reportOf.ts";
import { reportPage } from "../../core/report/reportPage.ts";
import { type Result, resultOf } from "../../core/report/result.ts";
import { rowsUnder, tagsOf, textOf } from "./readMarkup.ts";
import { everyVerdict, FOUR_STATIONS, type Sample, sampleSession, THIRTY_TWO } from "./sampleSession.ts";

const inches = (nm: number) => formatLength(toNm(nm), "in", 5).replace("-", "−");
const micrometres = (nm: number) => formatLength(toNm(nm), "um", 1).replace("-", "−");
const millimetres = (nm: number) => formatLength(toNm(nm), "mm", 4);

const SAMPLES: Readonly<Record<string, Sample>> = {
  "sixteen bores of every verdict": { clearanceNm: everyVerdict },
  "two bores": { job: { walk: ["1I", "1E"] }, temperatures: false, stepCheck: false },
  "32 bores of four stations": { job: { layout: THIRTY_TWO, stations: FOUR_STATIONS }, clearanceNm: everyVerdict },
  "nothing measured": { clearanceNm: () => null, lifters: false, returns: false, stepCheck: false },
  "bores measured in part": { clearanceNm: (bore, station) => ((bore + station) % 3 === 2 ? null : 40_640) },
  "the simple rule, in millimetres": {
    clearanceNm: everyVerdict,
    job: {
      rule: "simple",
      limits: { low: "33 um", high: "48 um", preferredLow: "38 um", preferredHigh: "43 um", serviceHigh: "60 um" },
    },
  },
  "sweeps that were set aside": { scatter: [0, 1, 20, 0, 1, 0], job: { layout: "i4" } },
  "a bore smaller than its lifter": { clearanceNm: (bore) => (bore === 0 ? -12_700 : 40_640) },
};

function expectRow(row: readonly string[] | undefined, bore: Result["bores"][number], at: number): void {
  const station = bore.stations[at];
  if (row === undefined || station === undefined) throw new Error(`no row for ${bore.name}`);
  const cells = at === 0 ? row.slice(2) : row;
  if (at === 0) {
    expect(row[0]).toBe(bore.name);
    const last = row.at(-1) ?? "";
    expect(last.startsWith(bore.preferred ? `${bore.verdict}, preferred` : bore.verdict)).toBe(true);
    if (bore.confidence !== null) expect(last).toMatch(/(sure|inside with .*) ?%?/);
    if (bore.taperNm !== null && bore.taperUncertaintyNm !== null) {
      expect(row.join(" ")).toContain(`${inches(bore.taperNm)} ± ${inches(bore.taperUncertaintyNm)}`);
      expect(row.join(" ")).toContain(`${micrometres(bore.taperNm)} ± ${micrometres(bore.taperUncertaintyNm)}`);
    }
    if (bore.outOfRoundNm !== null && bore.outOfRoundUncertaintyNm !== null) {
      expect(row.join(" ")).toContain(`${inches(bore.outOfRoundNm)} ± ${inches(bore.outOfRoundUncertaintyNm)}`);
    }
  }
  expect(cells.slice(0, 2)).toEqual([station.height, station.clock]);
  const { clearanceNm: c, uncertaintyNm: u } = station;
  const kept = station.sweeps.filter((sweep) => sweep.use === "kept").length;
  if (c === null || u === null) {
    expect(cells[2]).toMatch(/^(not measured|not closed|no zero)/);
    expect(cells[3]).toBe(`${kept} of ${station.sweeps.length}`);
    return;
  }
  expect(cells.slice(2, 7)).toEqual([
    inches(c),
    micrometres(c),
    inches(u),
    micrometres(u),
    `${kept} of ${station.sweeps.length}`,
  ]);
}

describe.each(Object.entries(SAMPLES))("the report of %s", (_name, sample) => {
  const { recording, inputs } = sampleSession(sample);
  const html = reportOf({ recording, inputs });
  const text = textOf(html);
  const result = resultOf(recording, "intact");

  test("has a row for every station with its clearance, U, sweeps, form and verdict", () => {
    const rows = rowsUnder(html, "Bores, station by station");
    expect(rows.length).toBe(result.bores.reduce((sum, bore) => sum + bore.stations.length, 0));
    let at = 0;
    for (const bore of result.bores) {
      for (const index of bore.stations.keys()) expectRow(rows[at + index], bore, index);
      at += bore.stations.length;
    }
  });

  test("holds the lifters, the zeros, the limits, the notices and the seal", () => {
    for (const { name, diameterNm } of result.lifters) {
      expect(text).toContain(`${name} ${inches(diameterNm)} ${millimetres(diameterNm)}`);
    }
    for (const { valueNm, spreadNm } of result.zeros) {
      expect(text).toContain(`${inches(valueNm)} ${micrometres(valueNm)} ${inches(spreadNm)} ${micrometres(spreadNm)}`);
    }
    const { lowNm, highNm, source } = result.limits;
    expect(text).toContain(
      `${inches(lowNm)} to ${inches(highNm)} in (${micrometres(lowNm)} to ${micrometres(highNm)} µm)`,
    );
    expect(text).toContain(`source: ${source}`);
    for (const notice of result.notices) expect(text).toContain(`${notice.code} ${notice.text}`);
    expect(text).toContain(recording.seal);
  });

  test("counts the verdicts", () => {
    for (const verdict of ["too tight", "too loose", "undecided", "not measured"] as const) {
      const own = result.bores.filter((bore) => bore.verdict === verdict).map((bore) => bore.name);
      if (own.length > 0) expect(text).toContain(`${own.length} ${verdict} (${own.join(", ")})`);
    }
    const fit = result.bores.filter((bore) => bore.verdict === "fits").length;
    if (fit > 0) expect(text).toContain(`${fit} ${fit === 1 ? "fits" : "fit"}`);
  });

  test("has only tags and attributes that a page without script and without outside references needs", () => {
    const tags = tagsOf(html);
    const known = [
      ..."html head meta title style body main section div p span b br strong bdi ul li h1 h2 h3 figure figcaption".split(
        " ",
      ),
      ..."table caption thead tbody tfoot tr th td svg g path circle rect text".split(" "),
    ];
    expect(tags.filter(({ name }) => !known.includes(name))).toEqual([]);
    const attributes = new Set(tags.flatMap((tag) => [...tag.attributes.keys()]));
    const refused = [...attributes].filter((name) =>
      /^(on|src|href|xlink|action|data|srcdoc|poster|ping|background)/i.test(name),
    );
    expect(refused).toEqual([]);
    expect(html).not.toMatch(/url\(|@import|https?:|javascript:|expression\(/i);
    const policy = tags.find(({ attributes: own }) => own.get("http-equiv") === "Content-Security-Policy");
    expect(policy?.attributes.get("content")).toContain("default-src 'none'");
    expect(policy?.attributes.get("content")).not.toContain("script-src");
  });

  test("never says that an engine is safe to run, nor that it is accredited, and names what a gauge cannot see", () => {
    const safe = text.match(/.{40}safe to run/g) ?? [];
    expect(safe.length).toBeGreaterThan(0);
    expect(safe.filter((words) => !words.includes("not say that an engine is safe"))).toEqual([]);
    expect(text).toContain("claims no accreditation");
    expect(text).toContain("A two-point gauge cannot see three-lobed form.");
  });

  test("is not called simulated", () => expect(html).not.toContain("SIMULATED"));
});

test("each verdict has its mark and its word", () => {
  const { recording } = sampleSession({ clearanceNm: everyVerdict });
  const verdicts = new Set(recording.run.findings().map((finding) => finding.verdict));
  expect([...verdicts].sort()).toEqual(["fits", "not measured", "too loose", "too tight", "undecided"]);
  const html = reportOf({ recording });
  const rows = [...html.matchAll(/<tbody class="whole">[\s\S]*?<\/tbody>/g)].map(([row]) => row);
  const markOf = (verdict: string) => {
    const row = rows.find((one) => new RegExp(`</svg>${verdict}[<,]`).test(one)) ?? "";
    const mark = /<svg class="mark"[\s\S]*?<\/svg>/.exec(row)?.[0] ?? "";
    return mark.replace(/<path[^>]*class="tick"\/>/, "");
  };
  const marks = [...verdicts].map(markOf);
  expect(marks).not.toContain("");
  expect(new Set(marks).size).toBe(5);
});

test("a session with simulated gauges says so at its head, across every page and in their margins", () => {
  const html = reportOf(sampleSession({ simulated: true, job: { layout: "i4" } }));
  expect(textOf(html)).toContain("Nothing was measured; this proves nothing about a block.");
  expect(html).toContain('<div class="watermark" aria-hidden="true"><span>SIMULATED</span></div>');
  expect(/@top-right \{ content: "[^"]*SIMULATED/.test(html)).toBe(true);
});

test("a broken seal is said at the head, in the margins and among the deviations", () => {
  const { recording } = sampleSession();
  const html = reportOf({ recording, broken: [{ line: 17, why: "the record does not match its seal" }] });
  expect(textOf(html)).toContain("SEAL BROKEN The record was changed or damaged");
  expect(textOf(html)).toContain("Line 17: the record does not match its seal.");
  expect(/@top-right \{ content: "[^"]*SEAL BROKEN/.test(html)).toBe(true);
});

test("a gauge study is not taken for a walk: no bore is judged by it", () => {
  const stations = ["1", "2"].map((repeat) => ({ height: `Ann, repeat ${repeat}`, clock: "axial" }));
  const sample = sampleSession({ job: { stations, layout: "i4" }, clearanceNm: everyVerdict });
  const { recording } = sample;
  const html = reportOf(sample, { pairing: pairSession(recording), remedy: remedySession(recording) });
  const text = textOf(html);
  expect(text).toContain("GAUGE STUDY");
  for (const word of ["Outcome", "Decision rule", "Taper", "% sure", "Pairing", "Remedy", "Feel check"]) {
    expect(text).not.toContain(word);
  }
  const verdicts = /too tight|too loose|undecided|preferred,/;
  expect(text.replace(/preferred \d/g, "")).not.toMatch(verdicts);
  const rows = rowsUnder(html, "Bores, station by station");
  const { bores } = resultOf(recording, "intact");
  expect(rows.length).toBe(bores.reduce((sum, bore) => sum + bore.stations.length, 0));
  expect(rows[0]?.slice(4, 6)).toEqual([
    inches(bores[0]?.stations[0]?.clearanceNm ?? 0),
    micrometres(bores[0]?.stations[0]?.clearanceNm ?? 0),
  ]);
});

test("the record's own result is printed, or the one under other limits, which is then a deviation", () => {
  const { recording } = sampleSession({ job: { layout: "i4" } });
  const own = resultOf(recording, "intact");
  const other: Result = {
    ...own,
    rule: "simple",
    limits: { ...own.limits, highNm: 60_960, source: "a maker's sheet" },
  };
  const text = textOf(reportOf({ recording }, { result: other }));
  expect(text).toContain("source: a maker's sheet");
  expect(text).toContain("Other limits than the job's");
  expect(text).toContain("this report judges by the simple one");
});

test("the same record gives the same page", () => {
  const first = reportOf(sampleSession({ clearanceNm: everyVerdict }));
  expect(reportOf(sampleSession({ clearanceNm: everyVerdict }))).toBe(first);
});

test("dates are written as asked for, and in universal time otherwise", () => {
  const input = reportInputOf(sampleSession({ job: { layout: "i4" } }));
  expect(textOf(reportPage(input))).toContain("Begun: 2026-01-02 03:04 UTC");
  const choices = { locale: "en-GB", timeZone: "America/Chicago", issued: "2026-03-04T12:00:00Z" };
  const text = textOf(reportPage({ ...input, choices }));
  expect(text).toContain("Begun: 1 January 2026");
  expect(text).toContain("Issued: 4 March 2026");
  expect(() => reportPage({ ...input, choices: { timeZone: "Nowhere/Else" } })).toThrow(RangeError);
});

test("micrometres come first where they are asked for or the gauge counts in millimetres", () => {
  const { recording } = sampleSession({ job: { walk: ["1I", "1E"] } });
  const result = resultOf(recording, "intact");
  const html = reportOf({ recording }, { choices: { unitFirst: "um" } });
  const [row = []] = rowsUnder(html, "Bores, station by station");
  const c = result.bores[0]?.stations[0]?.clearanceNm ?? 0;
  expect(row.slice(4, 6)).toEqual([micrometres(c), inches(c)]);
  expect(textOf(html)).toContain(`µm in`);
});
