import { describe, expect, test } from "vitest";
import type { OpenSession } from "../../core/bridge/messages.ts";
import { placeToGoOn } from "../../renderer/start/openSession.ts";
import { BoresBench } from "./boresBench.ts";

function sessionOf(bench: BoresBench, part: Partial<OpenSession> = {}): OpenSession {
  return { id: "s", name: "s", readOnly: false, simulated: false, job: bench.jobFile, view: bench.run.view(), ...part };
}

describe("where a session goes on", () => {
  test("at the gauges while one is not connected", () => {
    const bench = new BoresBench({});
    bench.act({ type: "link", gauge: "bore", link: "lost" });
    expect(placeToGoOn(sessionOf(bench))).toBe("Gauges");
    expect(placeToGoOn(sessionOf(bench, { simulated: true }))).toBe("Lifters");
  });
  test("at the step it stood at", () => {
    const bench = new BoresBench({});
    expect(placeToGoOn(sessionOf(bench))).toBe("Lifters");
    bench.act({ type: "step", step: "zero", lifter: "1I" });
    expect(placeToGoOn(sessionOf(bench))).toBe("Zero");
    bench.zero();
    bench.act({ type: "step", step: "bores" });
    expect(placeToGoOn(sessionOf(bench))).toBe("Bores");
  });
  test("at the findings when complete or only looked at", () => {
    const bench = new BoresBench({});
    expect(placeToGoOn(sessionOf(bench, { view: { ...bench.run.view(), complete: true } }))).toBe("Findings");
    expect(placeToGoOn(sessionOf(bench, { readOnly: true }))).toBe("Findings");
  });
});
