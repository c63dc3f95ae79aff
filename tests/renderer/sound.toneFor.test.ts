import { describe, expect, test } from "vitest";
import type { Limits } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { Notice, NoticeCode } from "../../core/session/notice.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { lengthMs, SCORES, TONES } from "../../renderer/sound/score.ts";
import { spokenOutcome } from "../../renderer/sound/speech.ts";
import { standingTroubles, troubleSounds } from "../../renderer/sound/standingTrouble.ts";
import { toneFor } from "../../renderer/sound/toneFor.ts";
import { tonesOf } from "../../renderer/sound/tonesOf.ts";
import { BoresBench, inventedClearance } from "./boresBench.ts";

const nm = (value: number) => value as Nm;
const LIMITS: Limits = {
  lowNm: nm(33_020),
  highNm: nm(48_260),
  preferredLowNm: null,
  preferredHighNm: null,
  serviceHighNm: null,
  source: "test",
};
const place = { height: "upper", clock: "axial" } as const;
const station = (clearanceNm: number | null, again = false): Outcome => ({
  type: "station",
  t: 1,
  bore: "1I",
  place,
  valueNm: nm(0),
  spreadNm: nm(0),
  sweeps: [],
  clearanceNm: clearanceNm as Nm | null,
  again,
});
const notice = (code: NoticeCode, curedMs?: number): Notice => ({
  tMs: 1,
  code,
  text: "",
  ...(curedMs === undefined ? {} : { curedMs }),
});

function walked(stations: number, clearance = inventedClearance): BoresBench {
  const bench = new BoresBench({});
  bench.zero();
  bench.act({ type: "step", step: "bores" });
  bench.walk(stations, clearance);
  return bench;
}

describe("tone of an outcome", () => {
  test("a station inside its limits is kept; both limits are inside; outside has its own tone", () => {
    expect(toneFor(station(40_000), null, LIMITS)).toBe("kept");
    expect(toneFor(station(33_020), null, LIMITS)).toBe("kept");
    expect(toneFor(station(48_260), null, LIMITS)).toBe("kept");
    expect(toneFor(station(33_019), null, LIMITS)).toBe("outside");
    expect(toneFor(station(48_261), null, LIMITS)).toBe("outside");
    expect(toneFor(station(null), null, LIMITS)).toBe("kept");
  });

  test("sweeps that make a closed station better are only heard, and never alarm twice", () => {
    expect(toneFor(station(40_000, true), null, LIMITS)).toBe("sweep");
    expect(toneFor(station(60_000, true), null, LIMITS)).toBeNull();
  });

  test("the bore's verdict speaks where there is one", () => {
    const bench = walked(2, () => 70_000);
    const view = bench.run.view();
    const bore = view.bores[0]?.name ?? "";
    expect(view.bores[0]?.verdict).toBe("too loose");
    expect(toneFor({ ...station(40_000), bore } as Outcome, view, LIMITS)).toBe("outside");
  });

  test("opened, struck, complete and the checks", () => {
    expect(toneFor({ type: "opened", t: 1, bore: "1I", place, newBore: false }, null, LIMITS)).toBe("opened");
    expect(toneFor({ type: "opened", t: 1, bore: "1I", place, newBore: true }, null, LIMITS)).toBe("bore");
    expect(toneFor({ type: "struck", t: 1, what: "sweep" }, null, LIMITS)).toBe("strike");
    expect(toneFor({ type: "complete", t: 1 }, null, LIMITS)).toBe("complete");
    expect(toneFor({ type: "step", t: 1, step: "bores" }, null, LIMITS)).toBeNull();
    const check = { type: "step-check", t: 1, openedNm: nm(25_400), answerNm: nm(0), text: "" } as const;
    expect(toneFor({ ...check, passed: false }, null, LIMITS)).toBe("trouble");
    expect(toneFor({ ...check, passed: true }, null, LIMITS)).toBe("kept");
  });

  test("notices that stop the work are trouble, those only worth knowing are silent", () => {
    expect(toneFor({ type: "notice", t: 1, notice: notice("link-lost") }, null, LIMITS)).toBe("trouble");
    expect(toneFor({ type: "notice", t: 1, notice: notice("outlier") }, null, LIMITS)).toBeNull();
    expect(toneFor({ type: "cured", t: 1, notice: notice("link-lost") }, null, LIMITS)).toBe("opened");
    expect(toneFor({ type: "cured", t: 1, notice: notice("outlier") }, null, LIMITS)).toBeNull();
  });

  test("a zero that moved is trouble, one that held is kept", () => {
    const bench = walked(16);
    const held = bench.outcomes.findLast((one) => one.type === "zero" && !one.again);
    expect(held && toneFor(held, null, LIMITS)).toBe("kept");
    const moved = walked(15);
    moved.station(40_000);
    moved.returnCheck(9_000);
    const outcome = moved.outcomes.findLast((one) => one.type === "zero" && !one.again);
    expect(outcome && toneFor(outcome, null, LIMITS)).toBe("trouble");
  });

  test("a whole walk is heard: a tone for every station, the next bores and the end", () => {
    const bench = walked(32);
    const tones = bench.outcomes.map((one) => toneFor(one, bench.run.view(), LIMITS));
    const stations = bench.outcomes.filter((one) => one.type === "station" && !one.again).length;
    expect(stations).toBe(32);
    expect(tones.filter((tone) => tone === "complete")).toHaveLength(1);
    expect(tones.filter((tone) => tone === "bore").length).toBeGreaterThanOrEqual(15);
    const closing = bench.outcomes.flatMap((one, index) =>
      one.type === "station" && !one.again ? [tones[index]] : [],
    );
    expect(closing.every((tone) => tone === "kept" || tone === "outside")).toBe(true);
    expect(closing).toContain("outside");
  });
});

describe("tones that come together", () => {
  test("sent back to the micrometer, nobody is sent to the next bore", () => {
    const kept = station(40_000);
    const opened: Outcome = { type: "opened", t: 1, bore: "2E", place, newBore: true };
    const step: Outcome = { type: "step", t: 1, step: "return" };
    expect(tonesOf([kept, opened, step], null, LIMITS).map(({ tone }) => tone)).toEqual(["kept", "return"]);
    expect(tonesOf([kept, opened], null, LIMITS).map(({ tone }) => tone)).toEqual(["kept", "bore"]);
  });

  test("follow one another, and the tick of the sweep gives way", () => {
    const sweep = {
      tMs: 1,
      rawMinNm: nm(0),
      turningPointNm: nm(0),
      samples: 7,
      method: "rhythm",
      use: "kept",
    } as const;
    const due = tonesOf(
      [
        { type: "sweep", t: 1, step: "bores", sweep },
        station(40_000),
        { type: "opened", t: 1, bore: "1E", place, newBore: true },
      ],
      null,
      LIMITS,
    );
    expect(due.map(({ tone }) => tone)).toEqual(["kept", "bore"]);
    expect(due[0]?.inMs).toBe(0);
    expect(due[1]?.inMs).toBeGreaterThan(lengthMs("kept"));
    expect(tonesOf([{ type: "sweep", t: 1, step: "bores", sweep }], null, LIMITS)).toEqual([
      { tone: "sweep", inMs: 0 },
    ]);
  });
});

describe("trouble repeats until it is dealt with", () => {
  test("while a notice that stops the work stands, and no longer", () => {
    const bench = walked(3);
    bench.act({ type: "link", gauge: "bore", link: "lost" });
    expect(standingTroubles(bench.run.view()).map(({ code }) => code)).toContain("link-lost");
    expect(troubleSounds(bench.run.view(), null)).toBe(true);
    bench.act({ type: "hold", on: true });
    expect(troubleSounds(bench.run.view(), null)).toBe(false);
    expect(troubleSounds(bench.run.view(), "disk full")).toBe(true);
    bench.act({ type: "hold", on: false });
    bench.act({ type: "link", gauge: "bore", link: "open" });
    expect(troubleSounds(bench.run.view(), null)).toBe(false);
    expect(troubleSounds(null, null)).toBe(false);
  });
});

describe("the tones themselves", () => {
  test("no two share a rhythm, so that they differ where pitch is lost", () => {
    const rhythms = TONES.map((tone) => SCORES[tone].map(({ atMs, lengthMs: long }) => `${atMs}+${long}`).join(" "));
    expect(new Set(rhythms).size).toBe(TONES.length);
  });

  test("all lie where small loudspeakers and ear defenders both let them through", () => {
    for (const tone of TONES) {
      for (const { hz, toHz, loud } of SCORES[tone]) {
        expect(Math.min(hz, toHz)).toBeGreaterThanOrEqual(300);
        expect(Math.max(hz, toHz)).toBeLessThanOrEqual(1100);
        expect(loud).toBeGreaterThan(0);
        expect(loud).toBeLessThanOrEqual(1);
      }
    }
  });

  test("the tone for the next station is quieter than the one for a kept station", () => {
    const loudest = (tone: (typeof TONES)[number]) => Math.max(...SCORES[tone].map(({ loud }) => loud));
    expect(loudest("opened")).toBeLessThan(loudest("kept") / 2);
  });
});

describe("speech", () => {
  test("says a station once, in tenths or micrometres, without zeros that tell nothing", () => {
    expect(spokenOutcome(station(40_640), "in")).toBe("1 intake, upper, 16 tenths.");
    expect(spokenOutcome(station(50_800), "tenths")).toBe("1 intake, upper, 20 tenths.");
    expect(spokenOutcome(station(-2_790), "in")).toBe("1 intake, upper, minus 1.1 tenths.");
    expect(spokenOutcome(station(40_640), "mm")).toBe("1 intake, upper, 40.6 micrometres.");
    const across = { ...station(40_640), bore: "5E2", place: { height: "lower", clock: "cross" } } as Outcome;
    expect(spokenOutcome(across, "in")).toBe("5 exhaust 2, lower, across, 16 tenths.");
    expect(spokenOutcome(station(40_640, true), "in")).toBeNull();
    expect(spokenOutcome(station(null), "in")).toBeNull();
  });

  test("says that a return check comes first, and no other step", () => {
    expect(spokenOutcome({ type: "step", t: 1, step: "return" }, "in")).toBe("Return check.");
    expect(spokenOutcome({ type: "step", t: 1, step: "bores" }, "in")).toBeNull();
  });
});
