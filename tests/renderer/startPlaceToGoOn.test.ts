import { describe, expect, test } from "vitest";
import type { OpenSession } from "../../core/bridge/messages.ts";
import { openSession, placeToGoOn, trySimulated } from "../../renderer/start/openSession.ts";
import { attach, useStore } from "../../renderer/store/store.ts";
import { BoresBench } from "./boresBench.ts";
import { fakeHost } from "./fakeBridge.ts";

function sessionOf(bench: BoresBench, part: Partial<OpenSession> = {}): OpenSession {
  return {
    id: "s",
    name: "s",
    readOnly: false,
    simulated: false,
    simulating: false,
    job: bench.jobFile,
    view: bench.run.view(),
    ...part,
  };
}

describe("where a session goes on", () => {
  test("at the gauges while one is not connected", () => {
    const bench = new BoresBench({});
    bench.act({ type: "link", gauge: "bore", link: "lost" });
    expect(placeToGoOn(sessionOf(bench))).toBe("Gauges");
    expect(placeToGoOn(sessionOf(bench, { simulated: true, simulating: true }))).toBe("Lifters");
    // Simulated once, but their simulation has ended: real ones must be connected.
    expect(placeToGoOn(sessionOf(bench, { simulated: true }))).toBe("Gauges");
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

describe("opening a session", () => {
  const storage = { getItem: () => null, setItem: () => undefined };

  test("waits for the session when the host answers before it sends it", async () => {
    useStore.setState(useStore.getInitialState(), true);
    const host = fakeHost();
    const bench = new BoresBench({});
    bench.act({ type: "step", step: "zero", lifter: "1I" });
    const late = {
      ...host.bridge,
      call: async (method: string) => {
        if (method !== "session.open") return host.bridge.call(method as "app.info", {});
        setTimeout(() => host.open(bench, { id: "late" }), 30);
        return { ok: true, value: { id: "late" } } as never;
      },
    };
    const stop = attach(late as typeof host.bridge, storage);
    await openSession("late", false);
    expect(useStore.getState().session?.id).toBe("late");
    expect(useStore.getState().place).toBe("Zero");
    stop();
  });

  test("stays where it is and says why when the host refuses", async () => {
    useStore.setState(useStore.getInitialState(), true);
    const host = fakeHost();
    const stop = attach(host.bridge, storage);
    host.refuse("session.open", "locked", "Another program has this session open.");
    await openSession("a", false);
    expect(useStore.getState().place).toBe("Start");
    expect(useStore.getState().problem?.message).toContain("Another program");
    stop();
  });

  test("the demonstration begins with one click: simulated gauges, and hands that work", async () => {
    useStore.setState(useStore.getInitialState(), true);
    const host = fakeHost();
    const stop = attach(host.bridge, storage);
    await trySimulated();
    expect(host.calls.find((call) => call.method === "session.new")?.input).toMatchObject({ simulate: true });
    expect(host.calls.at(-1)).toEqual({ method: "simulate.run", input: { run: true } });
    expect(useStore.getState()).toMatchObject({ place: "Lifters", handsWork: true });
    stop();
  });
});
