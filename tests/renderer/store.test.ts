import { beforeEach, describe, expect, test } from "vitest";
import type { LiveReading } from "../../core/bridge/messages.ts";
import { toNm } from "../../core/length/nm.ts";
import { attach, receive, useStore } from "../../renderer/store/store.ts";
import { BoresBench } from "./boresBench.ts";
import { type FakeHost, fakeHost } from "./fakeBridge.ts";

/** Settings that are kept in memory. */
function memory(kept: Record<string, string> = {}) {
  return {
    kept,
    getItem: (key: string) => kept[key] ?? null,
    setItem: (key: string, value: string) => {
      kept[key] = value;
    },
  };
}

const reading = (tMs: number, gauge = "bore"): LiveReading => ({ gauge, tMs, valueNm: toNm(1270), line: "+0.00005" });

// The host is a stand-in; sessions run on the program's own reducer.
describe("the store", () => {
  let host: FakeHost;
  let detach = () => undefined as undefined;

  beforeEach(() => {
    detach();
    useStore.setState(useStore.getInitialState(), true);
    host = fakeHost();
    const stop = attach(host.bridge, memory());
    detach = () => void stop();
  });

  const actions = () => useStore.getState().actions;

  test("asks the host for what it must know and takes the answers in", async () => {
    await Promise.resolve();
    await Promise.resolve();
    expect(host.calls.map((call) => call.method)).toEqual(["settings.read", "app.info", "sessions.list", "ports.list"]);
    expect(useStore.getState().info?.folder).toBe("/invented/sessions");
    expect(useStore.getState().sessions).toEqual([]);
  });

  test("takes the settings that the host kept, and has it keep every change", async () => {
    const kept = { theme: "dark", keys: { take: "F13" } };
    const bridge = {
      ...host.bridge,
      call: async (method: string, input: unknown) =>
        method === "settings.read"
          ? { ok: true, value: { settings: kept } }
          : host.bridge.call(method as "app.info", input as Record<string, never>),
    } as typeof host.bridge;
    const storage = memory();
    detach();
    const stop = attach(bridge, storage);
    detach = () => void stop();
    await new Promise((resolve) => setTimeout(resolve, 0));
    const { settings } = useStore.getState();
    expect(settings).toMatchObject({ theme: "dark", unit: "in", keys: { take: "F13", hold: "KeyH" } });
    actions().set({ unit: "mm" });
    expect(host.calls.at(-1)).toEqual({ method: "settings.keep", input: { settings: { ...settings, unit: "mm" } } });
    // What the browser keeps is there before the host has answered.
    expect(JSON.parse(storage.getItem("borewright.settings") ?? "{}")).toMatchObject({ theme: "dark", unit: "mm" });
  });

  test("says so when the host refuses, and forgets it when dismissed", async () => {
    host.refuse("session.close", "busy", "The session is being written.");
    expect(await actions().call("session.close", {})).toBeNull();
    expect(useStore.getState().problem).toEqual({
      method: "session.close",
      code: "busy",
      message: "The session is being written.",
    });
    actions().dismissProblem();
    expect(useStore.getState().problem).toBeNull();
  });

  test("turns a broken connection into a problem instead of an unhandled rejection", async () => {
    const stop = attach(
      { call: () => Promise.reject(new Error("pipe closed")), listen: () => () => undefined },
      memory(),
    );
    expect(await actions().act({ type: "take" })).toBe(false);
    expect(useStore.getState().problem?.message).toContain("pipe closed");
    stop();
  });

  test("a refused action is false, a taken one true", async () => {
    host.open(new BoresBench({}));
    expect(await actions().act({ type: "step", step: "lifters" })).toBe(true);
    expect(useStore.getState().view?.step).toBe("lifters");
    host.refuse("session.act", "read-only", "Opened only to look at.");
    expect(await actions().act({ type: "take" })).toBe(false);
  });

  test("the screen follows the work from one place of work to the next, and never pulls one away from the desk", async () => {
    host.open(new BoresBench({}));
    actions().goTo("Lifters");
    await actions().act({ type: "step", step: "zero" });
    expect(useStore.getState().place).toBe("Zero");
    await actions().act({ type: "step", step: "bores" });
    expect(useStore.getState().place).toBe("Bores");
    actions().goTo("Findings");
    await actions().act({ type: "step", step: "return" });
    expect(useStore.getState().place).toBe("Findings");
  });

  test("findings of some bores take the place of theirs, and of nobody else's", () => {
    const bench = new BoresBench({});
    host.open(bench);
    const { bores, ...rest } = bench.run.view();
    const [, second] = bores;
    if (second === undefined) throw new Error("the bench has two bores at least");
    const measured = { ...second, verdict: "too loose" as const };
    receive({ type: "view", view: { ...rest, measured: [measured] } });
    expect(useStore.getState().view?.bores).toEqual(bores.map((bore) => (bore.name === second.name ? measured : bore)));
    receive({ type: "view", view: rest });
    expect(useStore.getState().view?.bores[1]).toEqual(measured);
    receive({ type: "view", view: { ...rest, bores } });
    expect(useStore.getState().view?.bores).toEqual(bores);
  });

  test("a view that comes after the session was closed is dropped", () => {
    const bench = new BoresBench({});
    host.open(bench);
    receive({ type: "session", session: null });
    receive({ type: "view", view: bench.run.view() });
    expect(useStore.getState().view).toBeNull();
  });

  test("outcomes are numbered without gaps, kept to the newest, and emptied with the session", () => {
    host.open(new BoresBench({}));
    for (let t = 0; t < 100; t += 1) receive({ type: "outcome", outcome: { type: "complete", t } });
    const { lastOutcomes, outcomeCount } = useStore.getState();
    expect(outcomeCount).toBe(100);
    expect(lastOutcomes.length).toBe(64);
    expect(lastOutcomes.map((one) => one.count)).toEqual(Array.from({ length: 64 }, (_, index) => 37 + index));
    host.open(new BoresBench({}), { id: "another" });
    expect(useStore.getState().lastOutcomes).toEqual([]);
    receive({ type: "outcome", outcome: { type: "complete", t: 1 } });
    expect(useStore.getState().lastOutcomes[0]?.count).toBe(101);
  });

  test("a session sent again keeps its trace, another one starts with an empty one", () => {
    const bench = new BoresBench({});
    host.open(bench);
    receive({ type: "readings", readings: [reading(10)] });
    host.open(bench);
    expect(useStore.getState().trace.get("bore")?.readings().length).toBe(1);
    host.open(new BoresBench({}), { id: "another" });
    expect(useStore.getState().trace.size).toBe(0);
    expect(useStore.getState().live).toEqual({});
  });

  test("the trace holds the last 20 s of each gauge, however fast it streams", () => {
    host.open(new BoresBench({}));
    for (let t = 0; t <= 120_000; t += 20) receive({ type: "readings", readings: [reading(t), reading(t, "mic")] });
    for (const gauge of ["bore", "mic"]) {
      const kept = useStore.getState().trace.get(gauge)?.readings() ?? [];
      expect(kept[0]?.tMs).toBe(100_000);
      expect(kept[kept.length - 1]?.tMs).toBe(120_000);
      expect(kept.length).toBe(1001);
    }
    expect(useStore.getState().traceCount).toBe(2 * 6001);
    expect(useStore.getState().live.bore?.tMs).toBe(120_000);
  });

  test("time that goes back empties the trace of that gauge", () => {
    host.open(new BoresBench({}));
    receive({ type: "readings", readings: [reading(5000), reading(5100)] });
    receive({ type: "readings", readings: [reading(40)] });
    expect(
      useStore
        .getState()
        .trace.get("bore")
        ?.readings()
        .map((one) => one.tMs),
    ).toEqual([40]);
  });

  test("saving trouble is taken over and goes when it is cured", () => {
    receive({ type: "saved", pending: 4, trouble: "The disk is full." });
    expect(useStore.getState().saved.trouble).toBe("The disk is full.");
    receive({ type: "saved", pending: 0, trouble: null });
    expect(useStore.getState().saved).toEqual({ pending: 0, pendingMs: 0, trouble: null, cured: null });
  });

  test("settings are kept and read again", () => {
    const storage = memory();
    attach(host.bridge, storage)();
    actions().set({ unit: "tenths", theme: "dark" });
    useStore.setState(useStore.getInitialState(), true);
    attach(host.bridge, storage)();
    expect(useStore.getState().settings.unit).toBe("tenths");
    expect(useStore.getState().settings.theme).toBe("dark");
  });

  test.each([
    ["not JSON", "{"],
    ["not an object", "7"],
    ["null", "null"],
    ["nonsense values", '{"unit":"furlong","theme":3,"sound":"yes","keys":{"take":""}}'],
  ])("settings that are %s take their defaults", (_name, kept) => {
    attach(host.bridge, memory({ "borewright.settings": kept }))();
    expect(useStore.getState().settings).toEqual(useStore.getInitialState().settings);
  });

  test("a storage that refuses does not stop a change", () => {
    const refusing = {
      getItem: () => null,
      setItem: () => {
        throw new Error("full");
      },
    };
    attach(host.bridge, refusing)();
    actions().set({ figure: "largest" });
    expect(useStore.getState().settings.figure).toBe("largest");
  });
});
