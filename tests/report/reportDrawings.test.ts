import { describe, expect, test } from "vitest";
import { LAYOUTS } from "../../core/block/layouts.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import { blockPlan } from "../../core/report/page/blockPlan.ts";
import { stripCharts } from "../../core/report/page/stripChart.ts";
import { verdictDrawing } from "../../core/report/page/verdictMark.ts";
import { type Result, resultOf } from "../../core/report/result.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { everyVerdict, FOUR_STATIONS, sampleSession, THIRTY_TWO } from "./sampleSession.ts";

const inches = (nm: number) => formatLength(toNm(nm), "in", 5);

interface Point {
  readonly x: number;
  readonly y: number;
  readonly lowY: number;
  readonly highY: number;
}

/** What a strip shows: heights of both limits, and each value with the ends of its stroke, left to right. */
function readStrip(svg: string) {
  const limits = [...svg.matchAll(/<path d="M \S+ (\S+) H \S+" class="limit"/g)].map(([, y]) => Number(y));
  const points = [
    ...svg.matchAll(
      /<path d="M (\S+) (\S+) V (\S+)" class="whisker"\/>(?:<circle cx="\S+" cy="(\S+)"|<rect x="\S+" y="(\S+)" width="6")/g,
    ),
  ].map(
    ([, x, low, high, cy, top]): Point => ({
      x: Number(x),
      y: cy === undefined ? Number(top) + 3 : Number(cy),
      lowY: Number(low),
      highY: Number(high),
    }),
  );
  const arrows = [...svg.matchAll(/<path d="M (\S+) \S+ l -4.5 (\S+) h 9 Z"/g)].map(([, x, way]) => ({
    x: Number(x),
    above: Number(way) > 0,
  }));
  const names = [...svg.matchAll(/<text x="(\S+)" y="\S+" font-size="\S+" text-anchor="middle">([^<]+)</g)].map(
    ([, x, name = ""]) => ({ x: Number(x), name }),
  );
  return { high: limits[0] ?? 0, low: limits[1] ?? 0, points, arrows, names };
}

const strips = (result: Result) => stripCharts(result, "in").text.match(/<svg[\s\S]*?<\/svg>/g) ?? [];

describe("the strip chart", () => {
  test.each([
    ["sixteen bores", {}],
    ["32 bores of four stations", { layout: THIRTY_TWO, stations: FOUR_STATIONS }],
  ])("draws every clearance and its U to scale: %s", (_name, job) => {
    const { recording } = sampleSession({ clearanceNm: everyVerdict, job });
    const result = resultOf(recording, "intact");
    const { lowNm, highNm } = result.limits;
    const drawn = strips(result).map(readStrip);
    expect(drawn.flatMap(({ names }) => names.map(({ name }) => name))).toEqual(result.bores.map(({ name }) => name));
    let bore = 0;
    for (const { high, low, points, arrows, names } of drawn) {
      expect(high).toBeLessThan(low);
      const perNm = (low - high) / (highNm - lowNm);
      const yOf = (nm: number) => low - (nm - lowNm) * perNm;
      const own = result.bores.slice(bore, bore + names.length);
      bore += names.length;
      const stations = own.flatMap((one) => one.stations.filter(({ clearanceNm }) => clearanceNm !== null));
      expect(points.length + arrows.length).toBe(stations.length);
      const inside = stations.filter(({ clearanceNm: c }) => (c ?? 0) <= highNm + 1.5 * (highNm - lowNm));
      for (const [index, point] of points.entries()) {
        const { clearanceNm: c = 0, uncertaintyNm: u = 0 } = inside[index] ?? {};
        expect(point.y).toBeCloseTo(yOf(c ?? 0), 6);
        expect(point.lowY).toBeCloseTo(yOf((c ?? 0) - (u ?? 0)), 6);
        // A stroke ends at the edge of the chart.
        expect(point.highY).toBeCloseTo(Math.max(12, yOf((c ?? 0) + (u ?? 0))), 6);
      }
      // Each value stands under its bore's name and beside no other's.
      const half = (names[1]?.x ?? 0) - (names[0]?.x ?? 0);
      for (const { x } of points) {
        const nearest = Math.min(...names.map((name) => Math.abs(name.x - x)));
        expect(nearest).toBeLessThan(half / 2);
      }
    }
  });

  test("shows what lies far off by an arrowhead on its side, and never lets it squash the band", () => {
    const { recording } = sampleSession({
      clearanceNm: (bore) => (bore === 0 ? -101_600 : bore === 1 ? 203_200 : 40_640),
      job: { layout: "i4" },
    });
    const [svg = ""] = strips(resultOf(recording, "intact"));
    const { arrows, high, low } = readStrip(svg);
    expect(arrows.map(({ above }) => above)).toEqual([false, false, true, true]);
    const height = Number(/viewBox="0 0 \S+ (\S+)"/.exec(svg)?.[1]);
    expect((low - high) / height).toBeGreaterThan(0.2);
  });

  test("draws more than sixteen bores in strips of one scale", () => {
    const { recording } = sampleSession({ job: { layout: THIRTY_TWO }, clearanceNm: everyVerdict });
    const drawn = strips(resultOf(recording, "intact")).map(readStrip);
    expect(drawn.map(({ names }) => names.length)).toEqual([16, 16]);
    expect(new Set(drawn.map(({ high, low }) => `${high} ${low}`)).size).toBe(1);
  });
});

describe("the plan of the block", () => {
  test.each(LAYOUTS.map((layout) => layout.id))(
    "%s: every bore with its mark, its largest and below it its smallest",
    (id) => {
      const { recording } = sampleSession({ clearanceNm: everyVerdict, job: { layout: id } });
      const result = resultOf(recording, "intact");
      const svg = blockPlan(recording.job, result.bores, "in", "rear").text;
      const height = Number(/viewBox="0 0 \S+ (\S+)"/.exec(svg)?.[1]);
      const groups = [
        ...svg.matchAll(/<g transform="translate\((\S+) (\S+)\)"><path d="M -[\d.]+ 0 H 0 M[\s\S]*?<\/g>/g),
      ];
      const names = groups.map(([group]) => /font-weight="600"[^>]*>([^<]+)</.exec(group)?.[1]);
      expect([...names].sort()).toEqual(recording.job.layout.bores.map((bore) => bore.name).sort());
      for (const [index, [group, , y]] of groups.entries()) {
        const bore = result.bores.find(({ name }) => name === names[index]);
        if (bore === undefined) throw new Error("a bore that is not there");
        expect(Number(y)).toBeGreaterThan(0);
        expect(Number(y)).toBeLessThan(height);
        const ring =
          bore.verdict === "fits" || bore.verdict === "undecided" || bore.verdict === "not measured" ? 1 : 0.72;
        const radius = Number(/<circle r="(\S+)"/.exec(group)?.[1]) / ring;
        const marks = ([1, -1] as const).map((side) => verdictDrawing(bore.verdict, bore.preferred, radius, side).text);
        const shapes = (text: string) => text.replace(/\d+\.\d{6,}/g, (long) => Number(long).toFixed(4));
        expect(marks.some((mark) => shapes(group).includes(shapes(mark)))).toBe(true);
        const figures = [...group.matchAll(/y="(\S+)" dy="0.36em" font-size="\S+" text-anchor="end">(\d[^<]*)</g)];
        const { clearanceMinNm: least, clearanceMaxNm: most } = bore;
        const wanted =
          least === null || most === null ? [] : least === most ? [inches(most)] : [inches(most), inches(least)];
        expect(figures.map(([, , figure]) => figure)).toEqual(wanted);
        if (figures.length === 2) expect(Number(figures[0]?.[1])).toBeLessThan(Number(figures[1]?.[1]));
      }
    },
  );

  test("seen from the front it is turned, its names stay", () => {
    const job = parseJob({ format: "borewright/job", version: 1 });
    const rear = blockPlan(job, [], "in", "rear").text;
    const front = blockPlan(job, [], "in", "front").text;
    const at = (svg: string, name: string) => {
      const [, x, y] =
        new RegExp(
          `translate\\((\\S+) (\\S+)\\)"><path d="M -(?:(?!</g>)[\\s\\S])*font-weight="600"[^>]*>${name}<`,
        ).exec(svg) ?? [];
      return { x: Number(x), y: Number(y) };
    };
    expect(at(rear, "1E").y).toBeLessThan(at(rear, "7E").y);
    expect(at(front, "1E").y).toBeGreaterThan(at(front, "7E").y);
    expect(at(rear, "1E").x).toBeLessThan(at(rear, "2E").x);
    expect(at(front, "1E").x).toBeGreaterThan(at(front, "2E").x);
    expect(rear).toContain("the front at the top");
    expect(front).toContain("the front at the bottom");
  });
});
