import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import type { SessionView, ViewChange } from "../../core/session/view.ts";
import { PortError } from "../../electron/host/gaugePort.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { LiveSession } from "../../electron/host/liveSession.ts";
import { PortList } from "../../electron/host/portList.ts";
import { SessionClock } from "../../electron/host/sessionClock.ts";
import { readSessionBytes, SessionFile } from "../../electron/host/sessionFile.ts";
import { Random } from "../../electron/simulator/random.ts";
import { heldJob } from "./benchFiles.ts";
import { ScriptedCable } from "./scriptedPort.ts";

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const until = async (what: string, condition: () => boolean) => {
  for (let turn = 0; turn < 6000 && !condition(); turn += 1) await pause(5);
  expect(condition(), what).toBe(true);
};

let folder: string;
let path: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-ports-"));
  path = join(folder, "a.bwsession");
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const streaming = { ...heldJob, gauges: [{ ...heldJob.gauges[0], sends: "stream" }, heldJob.gauges[1]] };

/** A session with both gauges on scripted cables, and a clock that the test sets. */
async function bench(job: object = heldJob) {
  const recording = Recording.begin({ job, createdIso: "2026-03-01T08:00:00.000Z", app: "test" });
  const file = await SessionFile.create(path, recording.headerText, false);
  let awayMs = 0;
  const clock = new SessionClock(0, () => performance.now() + awayMs);
  let view: ViewChange = recording.view();
  const live = new LiveSession({ recording, file, clock, listener: { onView: (next) => (view = next) } });
  const cables = { bore: new ScriptedCable(), mic: new ScriptedCable() };
  for (const gauge of ["bore", "mic"] as const) {
    await live.connect(gauge, { newPort: () => cables[gauge].newPort(), path: `/dev/${gauge}`, retryMs: 5 });
  }
  return {
    live,
    cables,
    view: () => view,
    link: (gauge: string) => view.gauges.find((one) => one.id === gauge)?.link,
    standing: () => view.notices.filter(({ curedMs }) => curedMs === undefined),
    sleep: (ms: number) => {
      awayMs += ms;
    },
    async end() {
      await live.close();
      const read = readSessionBytes(await readFile(path));
      expect(read).toMatchObject({ broken: [], torn: null, differences: [] });
      return read;
    },
  };
}

describe("a port that floods", () => {
  it("is closed with a sentence that says what to check, is tried again later, and leaves the other gauge alone", async () => {
    const { live, cables, view, link, standing, end } = await bench();
    live.act({ type: "step", step: "lifters" });
    cables.bore.send("0\r".repeat(300));
    cables.bore.send("0\r".repeat(20_000));
    await until("the bore gauge is closed", () => link("bore") === "lost");
    expect(standing().find(({ code }) => code === "link-lost")?.text).toMatch(
      /thousands of lines a second.*check its cable and its speed/,
    );
    cables.mic.send("+0.84200\r\n");
    await until("the micrometer is heard", () => view().lifters[0]?.diameterNm === 21_386_800);
    const { inputs } = await end();
    expect(inputs.filter((input) => input.type === "line" && input.gauge === "bore")).toHaveLength(300);
  });
});

describe("a port that sends rubbish", () => {
  it("has it all on record, uses none of it, says so, and stops saying so with the next reading", async () => {
    const { live, cables, view, standing, end } = await bench();
    live.act({ type: "step", step: "lifters" });
    const random = new Random(1);
    const rubbish = Array.from({ length: 4000 }, () => String.fromCharCode(128 + Math.floor(random.between(0, 128))));
    for (let at = 0; at < rubbish.length; at += 40) cables.mic.send(`${rubbish.slice(at, at + 40).join("")}\r\n`);
    await until("a notice", () => standing().some(({ code }) => code === "not-understood"));
    expect(view().lifters.every(({ diameterNm }) => diameterNm === null)).toBe(true);
    cables.mic.send("+0.84200\r\n");
    await until("the next reading counts", () => view().lifters[0]?.diameterNm === 21_386_800);
    expect(standing()).toEqual([]);
    const { inputs } = await end();
    expect(inputs.filter((input) => input.type === "line")).toHaveLength(101);
  });

  it("never fills the memory with a line that does not end", async () => {
    const { cables, end } = await bench();
    for (let piece = 0; piece < 200; piece += 1) cables.bore.send("7".repeat(5000));
    cables.bore.send("\r\n+0.00140\r\n");
    const { inputs } = await end();
    const lines = inputs.flatMap((input) => (input.type === "line" ? [input.line] : []));
    expect(lines.map((line) => line.length)).toEqual([257, 8]);
  });
});

describe("damage by a wrong parity or speed", () => {
  it("makes no wrong reading of a line with one of the upper bits of a character turned over", async () => {
    const { live, cables, view, end } = await bench();
    live.act({ type: "step", step: "lifters" });
    const good = "+0.84200";
    // As a framing error turns them; no format can tell a digit with a lower bit turned from another digit. The last
    // nought as a blank leaves the same number.
    let sent = 0;
    for (let at = 1; at < good.length; at += 1) {
      for (const bit of [0x10, 0x20, 0x40, 0x80]) {
        if (at === good.length - 1 && bit === 0x10) continue;
        const bytes = [...good].map((letter, index) => letter.charCodeAt(0) ^ (index === at ? bit : 0));
        cables.mic.send(`${String.fromCharCode(...bytes)}\r\n`);
        sent += 1;
      }
    }
    await until(
      `all ${sent} are heard`,
      () => (view().gauges.find(({ id }) => id === "mic")?.notUnderstood ?? 0) === sent,
    );
    expect(view().lifters.every(({ diameterNm }) => diameterNm === null)).toBe(true);
    await end();
  });
});

describe("half a line", () => {
  it("from before a pulled cable is joined to nothing, and its gauge goes on by itself", async () => {
    const { live, cables, view, link, end } = await bench();
    live.act({ type: "step", step: "lifters" });
    for (let turn = 0; turn < 20; turn += 1) {
      cables.mic.send("+0.8");
      cables.mic.pull();
      await until("lost", () => link("mic") === "lost");
      cables.mic.plugIn();
      await until("back", () => link("mic") === "open");
    }
    cables.mic.send("+0.84200\r\n");
    await until("the lifter", () => view().lifters[0]?.diameterNm === 21_386_800);
    const { inputs } = await end();
    expect(inputs.filter((input) => input.type === "line")).toHaveLength(1);
  });
});

describe("a computer that slept", () => {
  it("makes no sweep across the gap, opens every port anew, drops what waited in it, and says for how long", async () => {
    const { live, cables, view, link, sleep, end } = await bench(streaming);
    live.act({ type: "step", step: "zero", lifter: "1I" });
    const openings = cables.bore.openings;
    // Down from a maximum, and then the lid is shut in the middle of the sweep.
    for (let reading = 40; reading > 0; reading -= 1) {
      cables.bore.send(`+0.0${String(100 + reading * 20).padStart(4, "0")}\r\n`);
      await pause(2);
    }
    sleep(2 * 3_600_000);
    for (let reading = 0; reading < 40; reading += 1)
      cables.bore.send(`+0.0${String(100 + reading * 20).padStart(4, "0")}\r\n`);
    await until("opened anew", () => cables.bore.openings === openings + 1 && link("bore") === "open");
    await until("told", () => view().notices.some(({ curedMs }) => curedMs !== undefined));
    expect(view().notices.find(({ code }) => code === "link-lost")?.text).toMatch(/slept or was held up for 2 h 0 min/);
    expect(view().referenceSweeps).toEqual([]);
    const { inputs } = await end();
    const times = inputs.map(({ t }) => t);
    expect(times).toEqual(times.toSorted((one, other) => one - other));
    expect(inputs.filter((input) => input.type === "line")).toHaveLength(40);
    expect(inputs.at(-1)?.t).toBeGreaterThan(7_200_000);
  });

  it("counts the time asleep where the clock of the program stands still meanwhile", () => {
    let now = 500;
    let sinceBoot = 90_000;
    const clock = new SessionClock(
      0,
      () => now,
      () => sinceBoot,
    );
    const pass = (ms: number, asleep = 0) => {
      now += ms;
      sinceBoot += ms + asleep;
    };
    pass(1000);
    expect(clock.nowMs()).toBe(1000);
    // Steps of the coarser clock are no sleep.
    sinceBoot += 900;
    expect(clock.nowMs()).toBe(1000);
    pass(1000, 7_200_000);
    expect(clock.nowMs()).toBe(7_202_900);
    pass(10);
    expect(clock.nowMs()).toBe(7_202_910);
  });
});

describe("an adapter changed for another", () => {
  const listed = (path: string, serialNumber?: string, productId = "6001") => ({
    path,
    vendorId: "0403",
    productId,
    ...(serialNumber === undefined ? {} : { serialNumber }),
  });
  let ports: ReturnType<typeof listed>[];
  let host: HostService;
  let cables: Map<string, ScriptedCable>;
  let view: SessionView | null;
  const call = async (method: string, input: object) => {
    const answer = await host.call(method, input, { mayAct: true });
    if (!answer.ok) throw new Error(answer.message);
  };
  const bore = () => view?.gauges.find(({ id }) => id === "bore");
  const lost = () =>
    view?.notices.find(({ code, curedMs }) => code === "link-lost" && curedMs === undefined)?.text ?? "";
  const cable = (at: string) => cables.get(at) as ScriptedCable;

  beforeEach(async () => {
    cables = new Map([
      ["/dev/a", new ScriptedCable()],
      ["/dev/b", new ScriptedCable()],
    ]);
    view = null;
    host = await HostService.open({
      shell: "loopback",
      folder,
      ports: (onChange) => new PortList(onChange, async () => ports),
      newPort: ({ path: at }) => {
        if (!ports.some((port) => port.path === at)) throw new PortError("absent", at, `There is no port ${at}.`);
        return cable(at).newPort();
      },
    });
    host.listen((event) => {
      if (event.type === "view") view = { ...event.view, bores: event.view.bores ?? view?.bores ?? [] };
    });
  });
  afterEach(() => host.close());

  const begin = async () => {
    await call("ports.list", {});
    await call("session.new", { job: heldJob });
    await call("gauge.connect", { gauge: "bore", settings: { path: "/dev/a", baud: 115_200 } });
    await until("open", () => bore()?.link === "open");
  };

  it("is not listened to at the same path; the gauge's own is found again wherever it is", async () => {
    ports = [listed("/dev/a", "OWN")];
    await begin();
    ports = [listed("/dev/a", "OTHER")];
    cable("/dev/a").pull();
    cable("/dev/a").plugIn();
    await until("told", () =>
      lost().includes("Another adapter than this gauge's own is plugged in at /dev/a (no. OTHER)"),
    );
    expect(cable("/dev/a").openings).toBe(1);
    ports = [listed("/dev/a", "OTHER"), listed("/dev/b", "OWN")];
    await until("found at its new path", () => bore()?.link === "open");
    expect(cable("/dev/b").openings).toBe(1);
    expect(lost()).toBe("");
  });

  it("without a serial number is told from another model", async () => {
    ports = [listed("/dev/a")];
    await begin();
    ports = [listed("/dev/a", undefined, "7523")];
    cable("/dev/a").pull();
    cable("/dev/a").plugIn();
    await until("told", () => lost().includes("Another adapter"));
    ports = [listed("/dev/a")];
    await until("back", () => bore()?.link === "open");
  });

  it("is taken when the person connects the gauge to it", async () => {
    ports = [listed("/dev/a", "OWN")];
    await begin();
    ports = [listed("/dev/a", "OTHER")];
    cable("/dev/a").pull();
    cable("/dev/a").plugIn();
    await until("told", () => lost().includes("Another adapter"));
    await call("gauge.connect", { gauge: "bore", settings: { path: "/dev/a", baud: 115_200 } });
    await until("open", () => bore()?.link === "open");
  });
});
