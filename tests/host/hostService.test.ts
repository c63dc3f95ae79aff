import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { HostEvent, MethodInput, MethodName, MethodOutput } from "../../core/bridge/messages.ts";
import type { ViewChange } from "../../core/session/view.ts";
import { tableOf } from "../../electron/cli/account.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { createSimulatedBench } from "../../electron/simulator/simulatedPorts.ts";
import { heldJob, heldLines } from "./benchFiles.ts";
import { ScriptedCable } from "./scriptedPort.ts";

let folder: string;
let host: HostService;
let cables: Map<string, ScriptedCable>;
let events: HostEvent[];
/** While true, the disk refuses every write as a full one does. */
let diskIsFull: boolean;

const job = heldJob as unknown as Record<string, unknown>;
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const until = async (what: string, condition: () => boolean, withinMs = 5000) => {
  const end = Date.now() + withinMs;
  while (!condition() && Date.now() < end) await pause(5);
  expect(condition(), what).toBe(true);
};

async function openHost(): Promise<HostService> {
  const opened = await HostService.open({
    shell: "loopback",
    folder,
    simulation: createSimulatedBench,
    newPort: ({ path }) => (cables.get(path) ?? new ScriptedCable()).newPort(),
    file: {
      retryMs: 10,
      wrapTarget: (target) => ({
        ...target,
        write: (bytes, offset, length, position) =>
          diskIsFull
            ? Promise.reject(Object.assign(new Error("no space"), { code: "ENOSPC" }))
            : target.write(bytes, offset, length, position),
      }),
    },
    ports: (onChange) => new PortList(onChange, async () => [{ path: "scripted-bore", serialNumber: "B1" }]),
  });
  opened.listen((event) => events.push(event));
  return opened;
}

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-host-"));
  cables = new Map([
    ["scripted-bore", new ScriptedCable()],
    ["scripted-mic", new ScriptedCable()],
  ]);
  events = [];
  diskIsFull = false;
  host = await openHost();
});
afterEach(async () => {
  diskIsFull = false;
  await host.close().catch(() => {});
  await rm(folder, { recursive: true, force: true });
});

async function call<M extends MethodName>(method: M, input: MethodInput<M>): Promise<MethodOutput<M>> {
  const answer = await host.call(method, input, { mayAct: true });
  if (!answer.ok) throw new Error(`${answer.code}: ${answer.message}`);
  return answer.value as MethodOutput<M>;
}

const refused = async (method: string, input: unknown, mayAct = true) => {
  const answer = await host.call(method, input, { mayAct });
  return answer.ok ? "not refused" : answer.code;
};

const last = <T extends HostEvent["type"]>(type: T) =>
  events.findLast((event): event is Extract<HostEvent, { type: T }> => event.type === type);

const settings = (path: string) => ({ path, baud: 115_200 });

/** Connects both scripted gauges and waits until their lines are trusted. */
async function connectGauges(): Promise<void> {
  await call("gauge.connect", { gauge: "bore", settings: settings("scripted-bore") });
  await call("gauge.connect", { gauge: "mic", settings: settings("scripted-mic") });
  await pause(20);
}

const send = (gauge: string, line: string) => cables.get(`scripted-${gauge}`)?.send(`${line}\r\n`);

async function walkAll(): Promise<void> {
  for (const { step, gauge, lines } of heldLines) {
    // The program goes to the return check by itself.
    if (step !== "return") await call("session.act", { action: { type: "step", step } });
    else await until("return check", () => last("view")?.view.step === "return");
    for (const line of lines) send(gauge, line);
  }
  await until("complete", () => last("view")?.view.complete === true);
}

describe("HostService", () => {
  it("tells the findings of a station's own bore with its outcome, and those of all bores soon after", async () => {
    await call("session.new", { job });
    await connectGauges();
    const [lifters, zero, bores] = heldLines;
    for (const { step, gauge, lines } of [lifters, zero, { ...bores, lines: bores.lines.slice(0, 6) }]) {
      await call("session.act", { action: { type: "step", step } });
      // What a zero changes is shown at once, for all bores; it is not to be taken for what follows here.
      await pause(50);
      for (const line of lines) send(gauge, line);
    }
    const isStation = (event: HostEvent) => event.type === "outcome" && event.outcome.type === "station";
    const told = () =>
      events.slice(events.findLastIndex(isStation)).flatMap((event) => (event.type === "view" ? [event.view] : []));
    const names = (view: ViewChange | undefined) => view?.measured?.map(({ name }) => name);
    await until("all findings", () => told().some((view) => names(view)?.includes("1E") === true));
    expect(events.filter(isStation)).toHaveLength(2);
    expect(names(told()[0])).toEqual(["1I"]);
    const all = new Map(told().flatMap(({ measured = [] }) => measured.map(({ name, verdict }) => [name, verdict])));
    expect([...all].sort()).toEqual([
      ["1E", "not measured"],
      ["1I", "fits"],
    ]);
    // What was told once is not told again.
    expect(told().filter((view) => names(view)?.includes("1I"))).toHaveLength(1);
  });

  it("walks a block with scripted gauges, moving between bores and return checks by itself", async () => {
    const { id } = await call("session.new", { job });
    await connectGauges();
    await walkAll();
    const outcomes = events.flatMap((event) => (event.type === "outcome" ? [event.outcome] : []));
    expect(outcomes.filter((outcome) => outcome.type === "station")).toHaveLength(4);
    expect(outcomes.some((outcome) => outcome.type === "complete")).toBe(true);
    await until("readings", () => last("readings") !== undefined);
    const recheck = await call("session.recheck", {});
    expect(recheck).toMatchObject({ agrees: true, seal: "intact", differences: [] });
    const csv = await call("session.export", { kind: "bores.csv" });
    expect(csv.name).toBe(id.replace(".bwsession", ".bores.csv"));
    expect(csv.content.split("\r\n")[1]).toMatch(/^1I,\d+\.\d+,/);
    const commas = await call("session.export", { kind: "bores.csv", decimal: "comma" });
    expect(commas.content.split("\r\n")[1]).toMatch(/^1I;\d+,\d+;/);
    await call("session.act", { action: { type: "feel", bore: "1E", found: "drags", oil: "engine oil" } });
    expect(await refused("session.act", { action: { type: "feel", bore: "9I", found: "free" } })).toBe("no-such-bore");
    await until("felt", () => last("view")?.view.feel[0]?.found === "drags");
    const whole = await call("session.export", { kind: "session" });
    expect(whole.content).toContain('"oil":"engine oil"');
    expect(whole.content).toBe(await readFile(join(folder, id), "utf8"));
    await call("session.close", {});
    const { sessions } = await call("sessions.list", {});
    expect(sessions).toMatchObject([{ id, title: "Two bores", bores: 2, measured: 2, complete: true, trouble: null }]);
  });

  it("announces an outcome only after its record is on disk", async () => {
    const { id } = await call("session.new", { job });
    await connectGauges();
    await call("session.act", { action: { type: "step", step: "lifters" } });
    const seen: boolean[] = [];
    const texts: Promise<void>[] = [];
    host.listen((event) => {
      if (event.type !== "outcome" || event.outcome.type !== "lifter") return;
      texts.push(readFile(join(folder, id), "utf8").then((text) => void seen.push(text.includes('"what":"lifter"'))));
    });
    send("mic", "+0.84200");
    await until("heard", () => seen.length > 0);
    expect(seen).toEqual([true]);
  });

  it("says NOT SAVED while the disk is full, announces nothing, lets nobody close, and saves all once it is not", async () => {
    await call("session.new", { job });
    await connectGauges();
    await call("session.act", { action: { type: "step", step: "lifters" } });
    await until("the step", () => last("outcome")?.outcome.type === "step");
    diskIsFull = true;
    send("mic", "+0.84200");
    await until("trouble", () => last("saved")?.trouble?.startsWith("NOT SAVED") === true);
    expect(last("outcome")?.outcome.type).toBe("step");
    expect(last("view")?.view.lifters[0]?.diameterNm).toBeNull();
    expect(await refused("session.close", {})).toBe("not-saved");
    expect(await refused("session.new", { job })).toBe("not-saved");
    expect(await host.call("session.export", { kind: "session" }, { mayAct: true })).toMatchObject({ ok: false });
    diskIsFull = false;
    await until("the lifter", () => last("outcome")?.outcome.type === "lifter");
    await until("no trouble", () => last("saved")?.trouble === null);
    await call("session.close", {});
  });

  it("shows a lost link within a second and goes on by itself when the cable is back", async () => {
    await call("session.new", { job });
    await connectGauges();
    cables.get("scripted-bore")?.pull();
    const bore = () => last("view")?.view.gauges.find((gauge) => gauge.id === "bore")?.link;
    await until("lost", () => bore() === "lost", 1000);
    expect(last("view")?.view.notices.some((notice) => notice.code === "link-lost")).toBe(true);
    cables.get("scripted-bore")?.plugIn();
    await until("open again", () => bore() === "open", 2000);
  });

  it("goes on with a session after a break, with its gauges where they were", async () => {
    const { id } = await call("session.new", { job });
    await connectGauges();
    await call("session.act", { action: { type: "step", step: "lifters" } });
    send("mic", "+0.84200");
    await until("a lifter", () => last("outcome")?.outcome.type === "lifter");
    await host.close();
    events = [];
    host = await openHost();
    await call("session.open", { id });
    await until("gauges are back", () => last("view")?.view.gauges.every((gauge) => gauge.link === "open") === true);
    await pause(20);
    send("mic", "+0.84205");
    await until("the next lifter", () => last("view")?.view.nextLifter === null);
    expect((await call("session.recheck", {})).agrees).toBe(true);
  });

  it("asks a gauge that only speaks when asked", async () => {
    const asked = { ...heldJob, gauges: [{ ...heldJob.gauges[0], request: "?\r" }, heldJob.gauges[1]] };
    await call("session.new", { job: asked as unknown as Record<string, unknown> });
    await connectGauges();
    await call("session.act", { action: { type: "step", step: "zero" } });
    await call("session.act", { action: { type: "take" } });
    await until("the request", () => cables.get("scripted-bore")?.received === "?\r");
  });

  it("takes a line typed by a keyboard-type cable", async () => {
    await call("session.new", { job });
    await call("session.act", { action: { type: "step", step: "lifters" } });
    await call("session.type", { gauge: "mic", line: "0.8420\n" });
    await until("a lifter", () => last("view")?.view.lifters[0]?.diameterNm === 21_386_800);
  });

  it("tells a newcomer the present state at once", async () => {
    const { id } = await call("session.new", { job });
    const told: HostEvent[] = [];
    host.listen((event) => told.push(event));
    expect(told.map((event) => event.type)).toEqual(["session", "ports", "switch", "saved"]);
    expect(told[0]).toMatchObject({ session: { id, readOnly: false, simulated: false } });
  });

  it("has simulated gauges that work on command, told apart from real ones", async () => {
    await call("session.new", { job, simulate: true });
    expect(last("session")).toMatchObject({ session: { simulated: true } });
    const { ports } = await call("ports.list", {});
    expect(ports.filter((port) => port.simulated).map((port) => port.path)).toEqual([
      "simulated:bore",
      "simulated:mic",
    ]);
    await call("simulate.run", { run: true });
    await call("session.act", { action: { type: "step", step: "lifters" } });
    await until("a simulated lifter", () => last("view")?.view.lifters[0]?.diameterNm != null, 20_000);
  });

  it("records a clean end with simulated gauges as ports closed, not as cables pulled", async () => {
    const { id } = await call("session.new", { job, simulate: true });
    await call("session.close", {});
    const text = await readFile(join(folder, id), "utf8");
    const links = text.split("\n").flatMap((line) => /"link":"(\w+)"/.exec(line)?.[1] ?? []);
    expect(links).toEqual(["open", "open", "closed", "closed"]);
  });

  it("puts simulated gauges on a session again only if it had them, and the same block with them", async () => {
    const { id } = await call("session.new", { job, simulate: true, seed: 861 });
    await call("session.close", {});
    await call("session.open", { id, simulate: true, seed: 861 });
    expect(last("session")).toMatchObject({ session: { id, simulated: true, simulating: true } });
    const real = await call("session.new", { job });
    await call("session.close", {});
    await call("session.open", { id: real.id, simulate: true });
    expect(last("session")).toMatchObject({ session: { id: real.id, simulated: false, simulating: false } });
    await call("session.open", { id, simulate: true, readOnly: true });
    expect(last("session")).toMatchObject({ session: { id, simulated: true, simulating: false } });
  });

  it("says of a session begun with simulated gauges that it was, however it is opened later", async () => {
    const { id } = await call("session.new", { job, simulate: true });
    expect(last("session")).toMatchObject({ session: { simulated: true, simulating: true } });
    await call("session.close", {});
    for (const readOnly of [true, false]) {
      await call("session.open", { id, readOnly });
      expect(last("session")).toMatchObject({ session: { id, simulated: true, simulating: false } });
      const { content } = await call("session.export", { kind: "result.json" });
      expect(JSON.parse(content)).toMatchObject({ simulated: true });
      expect(tableOf(JSON.parse(content), "in")).toContain("SIMULATED gauges");
    }
    expect(await refused("simulate.run", { run: true })).toBe("not-simulated");
    await call("session.new", { job });
    expect(last("session")).toMatchObject({ session: { simulated: false, simulating: false } });
  });

  it("learns a gauge from its lines", async () => {
    await call("gauge.teach", { paths: ["scripted-mic"] });
    for (const line of ["+0.84200 in", "+0.84205 in", "+0.84195 in"]) send("mic", line);
    await until("learnt", () => last("teaching")?.teaching?.teach?.state === "found");
    expect(last("teaching")?.teaching?.teach).toMatchObject({ unit: "in", unitFrom: "lines", resolutionNm: 1270 });
    await call("gauge.teachStop", {});
    expect(last("teaching")?.teaching).toBeNull();
  });

  it("takes a session file from elsewhere under a name of its own, and only a session", async () => {
    const { id } = await call("session.new", { job });
    const { content } = await call("session.export", { kind: "session" });
    await call("session.close", {});
    const adopted = await call("session.adopt", { name: `../../${id}`, content });
    expect(adopted.id).not.toBe(id);
    expect((await readdir(folder)).filter((name) => name.endsWith(".bwsession"))).toHaveLength(2);
    expect(await refused("session.adopt", { name: "x.bwsession", content: "no session" })).toBe("session");
  });

  it("opens a damaged session for reading only, and lists an unreadable one with the reason", async () => {
    const { id } = await call("session.new", { job });
    await call("session.close", {});
    const text = await readFile(join(folder, id), "utf8");
    await writeFile(join(folder, id), text.replace("Two bores", "Two holes"));
    await writeFile(join(folder, "notes.bwsession"), "no session\n");
    await call("session.open", { id });
    expect(last("session")).toMatchObject({ session: { readOnly: true } });
    expect(await refused("session.act", { action: { type: "take" } })).toBe("read-only");
    const { sessions } = await call("sessions.list", {});
    expect(sessions.find((entry) => entry.id === "notes.bwsession")?.trouble).toContain("cannot be read");
    expect(sessions.find((entry) => entry.id === id)?.trouble).toContain("seal is broken");
  });

  it("derives a session with a sweep struck, and leaves the one it was made from as it was", async () => {
    const { id } = await call("session.new", { job });
    await connectGauges();
    await walkAll();
    await call("session.close", {});
    const before = await readFile(join(folder, id), "utf8");
    await call("session.open", { id, readOnly: true });
    const [bore] = last("session")?.session?.view.bores ?? [];
    const station = bore?.stations[0];
    const sweep = station?.station.sweeps[0];
    if (bore === undefined || station === undefined || sweep === undefined) throw new Error("a bore was measured");
    const change = { bore: bore.name, station: station.place, sweepMs: sweep.tMs, use: "struck" as const };
    const derived = await call("session.derive", { changes: [change], why: "it had slipped" });
    expect(await readFile(join(folder, id), "utf8")).toBe(before);
    expect(await refused("session.derive", { changes: [{ ...change, sweepMs: 1 }], why: "x" })).toBe("derive");
    expect(await refused("session.derive", { changes: [change], why: " " })).toBe("derive");
    await call("session.open", { id: derived.id, readOnly: true });
    const opened = last("session")?.session;
    expect(opened?.derivedFrom).toMatchObject({ name: id });
    // Scripted presses fall into one millisecond; a station with too few left is no finding any more.
    const there = opened?.view.bores.find(({ name }) => name === bore.name)?.stations;
    const seen = there?.find(({ place }) => place.height === station.place.height)?.station.sweeps ?? [];
    expect(seen.length === 0 || seen.some(({ tMs, use }) => tMs === sweep.tMs && use === "struck")).toBe(true);
    expect(await call("session.recheck", {})).toMatchObject({ agrees: true, seal: "intact" });
  });

  it("rechecks by another agreement or number of sweeps beside what was recorded", async () => {
    await call("session.new", { job });
    await connectGauges();
    await walkAll();
    const most = await call("session.recheck", { sweepsPerStation: 12 });
    expect((most.result as { complete: boolean }).complete).toBe(false);
    expect(most.agrees).toBe(false);
    expect(await call("session.recheck", { agreement: "1 mm" })).toMatchObject({ seal: "intact" });
    expect(await refused("session.recheck", { agreement: "1 mile" })).toBe("session");
  });

  it("answers nonsense with a code and a sentence, and never throws", async () => {
    expect(await refused("toString", {})).toBe("no-such-method");
    expect(await refused("app.info", null)).toBe("bad-input");
    expect(await refused("session.act", { action: { type: "take" } })).toBe("no-session");
    expect(await refused("session.new", { job: { format: "x" } })).toBe("job");
    expect(await refused("session.open", { id: "../secret.bwsession" })).toBe("no-such-session");
    expect(await refused("session.open", { id: "none.bwsession" })).toBe("no-such-session");
    await call("session.new", { job });
    expect(await refused("session.act", { action: { type: "go", bore: "9I" } })).toBe("no-such-bore");
    expect(await refused("session.act", { action: { type: "explode" } })).toBe("bad-input");
    expect(await refused("session.type", { gauge: "depth", line: "1" })).toBe("no-such-gauge");
    expect(await refused("simulate.run", { run: true })).toBe("not-simulated");
    cables.get("scripted-bore")?.pull();
    expect(await refused("gauge.connect", { gauge: "bore", settings: settings("scripted-bore") })).toBe("port-absent");
  });

  it("lets a second tab look, not act", async () => {
    await call("session.new", { job });
    expect(await refused("session.act", { action: { type: "take" } }, false)).toBe("may-not-act");
    expect(await refused("session.close", {}, false)).toBe("may-not-act");
    expect(await refused("sessions.list", {}, false)).toBe("not refused");
    const info = await host.call("app.info", {}, { mayAct: false });
    expect(info).toMatchObject({ ok: true, value: { mayAct: false, folder } });
  });
});
