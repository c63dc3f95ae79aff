import { describe, expect, it } from "vitest";
import { type ComparedSession, type ComparisonWish, compareSessions } from "../../core/report/comparisonReport.ts";
import { type Comparison, comparisonSchema } from "../../core/report/comparisonSchema.ts";
import { remedySession } from "../../core/report/remedyReport.ts";
import { FOUR_STATIONS, type Sample, sampleSession } from "./sampleSession.ts";

const TENTH = 2540;
const BEFORE = "2026-01-02T08:00:00.000Z";
const AFTER = "2026-01-09T08:00:00.000Z";
/** In walking order of the built-in eight. */
const WALK = ["1I", "1E", "3I", "3E", "5I", "5E", "7I", "7E"];

const session = (created: string, sample: Sample = {}): ComparedSession => ({
  header: { created },
  recording: sampleSession({ ...sample, job: { walk: WALK, ...sample.job } }).recording,
});

/** Two sessions of eight bores, the first 12 tenths tight where `tight` says, cut by `cutNm` in between. */
function compared(
  cutNm: (bore: string, station: number) => number,
  { sample = {}, before = {}, wish = {}, tight = [] as readonly string[] } = {} as {
    sample?: Sample;
    before?: Sample;
    wish?: ComparisonWish;
    tight?: readonly string[];
  },
): Comparison {
  const clearance = (bore: number) => (tight.includes(WALK[bore] ?? "") ? 11 : 16) * TENTH;
  const then = session(BEFORE, { ...before, clearanceNm: clearance });
  const now = session(AFTER, {
    ...sample,
    clearanceNm: (bore, station) => clearance(bore) + cutNm(WALK[bore] ?? "", station),
  });
  return comparisonSchema.parse(compareSessions(then, now, wish));
}

const boreOf = (comparison: Comparison, name: string) => {
  const bore = comparison.bores.find((one) => one.name === name);
  if (bore === undefined) throw new Error(`no bore ${name}`);
  return bore;
};

describe("a later session laid over an earlier one", () => {
  it("sees nothing where nothing was done", () => {
    const { bores, levels } = compared(() => 0);
    expect(bores.map(({ name }) => name)).toEqual(WALK);
    for (const bore of bores) {
      expect(bore).toMatchObject({ change: "none seen", attention: false, planned: "leave", changeMaxNm: 0 });
      expect(bore.text).toContain("No change is seen");
    }
    expect(levels).toMatchObject([{ bores: WALK, from: WALK, changeNm: 0 }]);
  });

  it("states each change as the one diameter less the other, with an uncertainty smaller than the two together", () => {
    const { bores } = compared((bore) => (bore === "3I" ? 4 * TENTH : 0));
    for (const { stations } of bores) {
      for (const { beforeNm, afterNm, changeNm, uncertaintyNm } of stations) {
        expect((afterNm ?? 0) - (beforeNm ?? 0)).toBe(changeNm);
        expect(uncertaintyNm).toBeGreaterThan(1000);
        expect(uncertaintyNm).toBeLessThan(5000);
      }
    }
    expect(boreOf({ bores } as Comparison, "3I")).toMatchObject({ changeMinNm: 4 * TENTH, changeMaxNm: 4 * TENTH });
  });

  it("finds what was honed as planned, and its new verdict", () => {
    const removeNm = planFor("3I").removeNm ?? 0;
    const comparison = compared((bore) => (bore === "3I" ? removeNm : 0), { tight: ["3I"] });
    const bore = boreOf(comparison, "3I");
    expect(bore).toMatchObject({ planned: "hone", change: "larger", verdictBefore: "too tight", verdictAfter: "fits" });
    expect(bore.attention).toBe(false);
    expect(bore.text).toMatch(
      /^Honing was planned: larger by .* It is within the finished sizes\. Then too tight, now fits\.$/,
    );
    expect(comparison.bores.filter(({ attention }) => attention)).toEqual([]);
  });

  function planFor(name: string) {
    const clearanceNm = (bore: number) => (WALK[bore] === name ? 11 : 16) * TENTH;
    const plan = remedySession(session(BEFORE, { clearanceNm }).recording).block.plan;
    const found = plan.find(({ bore }) => bore === name);
    if (found?.kind !== "hone") throw new Error(`expected ${name} to be honed, found ${found?.kind}`);
    return found;
  }

  it("says where the work passed the size not to pass, and where some is still to be removed", () => {
    const removeNm = planFor("3I").removeNm ?? 0;
    const over = boreOf(
      compared((bore) => (bore === "3I" ? removeNm + 8000 : 0), { tight: ["3I"] }),
      "3I",
    );
    expect(over.text).toContain("beyond the size not to pass");
    expect(over).toMatchObject({ attention: true, change: "larger" });
    const short = boreOf(
      compared((bore) => (bore === "3I" ? removeNm / 2 : 0), { tight: ["3I"] }),
      "3I",
    );
    expect(short.text).toMatch(/It lacks .* of the smallest finished size/);
    expect(short.attention).toBe(true);
  });

  it("points at bores that were to be cut and were not, and at bores that were cut and were not to be", () => {
    const { bores } = compared((bore) => (bore === "5E" ? 6000 : 0), { tight: ["3I"] });
    expect(bores.filter(({ attention }) => attention).map(({ name }) => name)).toEqual(["3I", "5E"]);
    expect(boreOf({ bores } as Comparison, "3I").text).toContain("Honing was planned, and no change is seen");
    const touched = boreOf({ bores } as Comparison, "5E");
    expect(touched.text).toContain("No metal was to be cut in it. It was touched, or it wore.");
  });

  it("sees wear after service where nothing was to be cut, with where it stands against the wear limit", () => {
    const limits = { serviceHigh: "0.0025 in" };
    const comparison = compared((bore) => (bore === "7I" ? 12_700 : 0), { sample: { job: { limits, walk: WALK } } });
    const worn = boreOf(comparison, "7I");
    expect(worn).toMatchObject({ change: "larger", attention: true, verdictAfter: "too loose" });
    expect(worn.text).toContain("It wore, or was worked on.");
    expect(worn.text).toContain("wear limit");
    expect(comparison.notes.join(" ")).toContain("a bore that is larger now is worn, or was worked on");
  });

  it("says of a bore that is smaller that metal does not grow back", () => {
    const bore = boreOf(
      compared((name) => (name === "3E" ? -6000 : 0)),
      "3E",
    );
    expect(bore).toMatchObject({ change: "smaller", attention: true });
    expect(bore.text).toContain("Metal does not grow back");
  });

  it("knows what other lifters do not change: a bore is as large whatever lifters go in", () => {
    const nominal = "0.8423 in";
    const sample = { job: { walk: WALK, lifter: { style: "flat", nominal } } };
    const cut = (bore: string) => (bore === "3I" ? 6350 : 0) - 3 * TENTH;
    const { bores, notes } = compared(cut, { sample });
    expect(notes.join(" ")).toContain("differs by more than the micrometer explains");
    for (const { name, changeMinNm, change } of bores) {
      expect(changeMinNm).toBe(name === "3I" ? 6350 : 0);
      expect(change).toBe(name === "3I" ? "larger" : "none seen");
    }
  });

  it("counts the micrometer where the lifters are new ones, used since, or to change places", () => {
    const u = (comparison: Comparison) => boreOf(comparison, "3E").stations[0]?.uncertaintyNm ?? 0;
    const own = u(compared(() => 0));
    const fresh = compared(() => 0, { wish: { newLifters: true } });
    expect(u(fresh)).toBeGreaterThan(own + 1000);
    expect(fresh.notes.join(" ")).toContain("is another one than then");
    const used = { "1I": { used: true } };
    const run = compared(() => 0, { sample: { job: { walk: WALK, lifters: used } } });
    expect(u(run)).toBe(u(fresh));
    expect(run.notes.join(" ")).toContain("has run since the earlier session and may have worn");
    const unmeasured = compared(() => 0, { sample: { lifters: false, job: { walk: WALK, lifters: used } } });
    expect(u(unmeasured)).toBe(own);
    expect(unmeasured.notes.join(" ")).toContain("Measure it in both sessions to tell them apart");
    const plan = remedySession(session(BEFORE).recording);
    const moved = { ...plan, block: { ...plan.block, plan: [{ bore: "1I", kind: "pair" as const, lifter: "3E" }] } };
    const paired = compared(() => 0, { wish: { plan: moved } });
    expect(u(paired)).toBe(u(fresh));
    expect(paired.notes.join(" ")).toContain("lifters were to change places");
    expect(boreOf(paired, "1I").text).toContain("Another lifter was planned for it.");
  });

  it("can not compare new lifters that were not measured, and says so at every bore", () => {
    const { bores } = compared(() => 0, { sample: { lifters: false }, wish: { newLifters: true } });
    for (const bore of bores) {
      expect(bore).toMatchObject({ change: "not known", changeMinNm: null, attention: false });
      expect(bore.text).toContain("lifter 1I was not measured in the later one");
    }
  });

  it("says why a bore is not known: not measured then, or now, or under a zero that moved", () => {
    const then = session(BEFORE, { clearanceNm: (bore) => (bore === 2 ? null : 16 * TENTH) });
    const now = session(AFTER, { clearanceNm: (bore) => (bore === 3 ? null : 16 * TENTH) });
    const comparison = compareSessions(then, now);
    expect(boreOf(comparison, "3I").text).toContain("Not measured at upper axial in the earlier session.");
    expect(boreOf(comparison, "3E").text).toContain("Not measured at upper axial in the later session.");
    expect(boreOf(comparison, "3I").stations[0]).toMatchObject({ beforeNm: null, changeNm: null });
    expect(boreOf(comparison, "3I").stations[0]?.afterNm).toBeGreaterThan(21_000_000);
    const moved = session(AFTER, {
      returns: false,
      afterwards: (feed) => {
        feed({ type: "step", step: "return" });
        for (let press = 0; press < 3; press += 1) feed({ type: "line", gauge: "bore", line: "+0.00150" });
      },
    });
    expect(boreOf(compareSessions(then, moved), "1I").text).toContain("No zero holds for it in the later session.");
  });

  it("compares the places and bores that both have, and names the others", () => {
    const then = session(BEFORE, { job: { walk: WALK, stations: FOUR_STATIONS } });
    const now = session(AFTER, { job: { walk: [...WALK.slice(1), "2I"], stations: FOUR_STATIONS.slice(0, 3) } });
    const { bores, notes } = compareSessions(then, now);
    expect(bores.map(({ name }) => name)).toEqual(WALK.slice(1));
    expect(bores[0]?.stations).toHaveLength(3);
    expect(notes).toContain("Bore 1I: only in the earlier session.");
    expect(notes).toContain("Bore 2I: only in the later session.");
    expect(notes).toContain("Place lower cross: only in the earlier session.");
  });

  it("takes no plan for granted where there is none", () => {
    const comparison = compared((bore) => (bore === "3I" ? 6000 : 0), { wish: { plan: null } });
    expect(boreOf(comparison, "3I")).toMatchObject({ planned: null, change: "larger", attention: true });
    expect(boreOf(comparison, "3I").text).not.toContain("plan");
  });

  it("notes other blocks, other materials, simulated gauges and broken seals", () => {
    const then = session(BEFORE, { simulated: true });
    const now = {
      ...session(AFTER, { job: { walk: WALK, block: "another", materials: { block: "aluminium-356" } } }),
      broken: [{ line: 7, why: "not a record" }],
      differences: ["line 9"],
    };
    const { notes } = compareSessions(then, now);
    expect(notes[0]).toContain("Simulated gauges");
    expect(notes[1]).toContain('is of block "bench example", the later one is of block "another"');
    const all = notes.join(" ");
    expect(all).toContain("The seal of the later session is broken at line 7: not a record.");
    expect(all).toContain("The raw lines of the later session do not give what was recorded");
    expect(all).toContain("The block is of grey-iron in the earlier session and of aluminium-356 in the later one");
  });
});

describe("sessions that can not be compared", () => {
  it("are refused the wrong way round, and the same one twice", () => {
    expect(() => compareSessions(session(AFTER), session(BEFORE))).toThrow("the wrong way round");
    expect(() => compareSessions(session(BEFORE), session(BEFORE))).toThrow("the same one twice");
  });

  it("are refused with no bore or no place in common, or bores in other places", () => {
    const other = session(AFTER, { job: { walk: ["2I", "2E"] } });
    expect(() => compareSessions(session(BEFORE), other)).toThrow("No bore is in both walks");
    const places = session(AFTER, { job: { walk: WALK, stations: [{ height: "middle", clock: "cross" }] } });
    expect(() => compareSessions(session(BEFORE), places)).toThrow("No place in the bores was measured in both");
    const inline = session(AFTER, { job: { walk: ["1I", "1E"], layout: "i4" } });
    expect(() => compareSessions(session(BEFORE), inline)).toThrow(/Bore .* is in another place/);
  });

  it("are not known where a zero does not name its lifter", () => {
    const unnamed = (created: string): ComparedSession => {
      const { recording } = sampleSession({ job: { walk: WALK } });
      const run = Object.create(recording.run, {
        fitInput: {
          value: () => {
            const input = recording.run.fitInput();
            return { ...input, references: input.references.map((one) => ({ ...one, lifter: null })) };
          },
        },
        findings: { value: () => recording.run.findings() },
      });
      return { header: { created }, recording: { job: recording.job, run, simulated: false } as never };
    };
    const { bores, notes } = compareSessions(session(BEFORE), unnamed(AFTER));
    expect(bores.every(({ change }) => change === "not known")).toBe(true);
    expect(notes.join(" ")).toContain("The zero of the later session does not name the lifter");
  });
});
