import { afterEach, describe, expect, it } from "vitest";
import { GaugeLink } from "../../electron/host/gaugeLink.ts";
import { OwnAdapterPort } from "../../electron/host/ownAdapter.ts";
import { PortList } from "../../electron/host/portList.ts";
import { ScriptedCable } from "./scriptedPort.ts";

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
let link: GaugeLink | null = null;
afterEach(() => link?.disconnect());

async function connected(options: { settleMs?: number; lineMs?: number } = {}) {
  const cable = new ScriptedCable();
  const lines: string[] = [];
  const states: string[] = [];
  link = new GaugeLink({
    ...options,
    retryMs: 10,
    newPort: () => cable.newPort(),
    onLine: (line) => lines.push(line),
    onLink: (state) => states.push(state),
  });
  await link.connect();
  return { cable, lines, states, link };
}

const until = async (condition: () => boolean) => {
  for (let turn = 0; turn < 400 && !condition(); turn += 1) await pause(5);
  expect(condition()).toBe(true);
};

describe("GaugeLink", () => {
  it("never joins half a line from before a pulled cable to what comes after", async () => {
    const { cable, lines, states } = await connected();
    cable.send("25.4");
    cable.pull();
    cable.plugIn();
    await until(() => states.length === 3);
    cable.send("77.000 mm\r\n");
    expect(lines).toEqual(["77.000 mm"]);
    expect(states).toEqual(["open", "lost", "open"]);
    expect(cable.openings).toBe(2);
  });

  it("comes back by itself, and stops trying when it is told to", async () => {
    const { cable, states, link: own } = await connected();
    cable.pull();
    await pause(60);
    expect(states).toEqual(["open", "lost"]);
    await own.disconnect();
    cable.plugIn();
    await pause(60);
    expect(states).toEqual(["open", "lost", "closed"]);
    expect(cable.openings).toBe(1);
  });

  it("drops what may be the rear half of a line begun before the opening", async () => {
    const { cable, lines } = await connected({ lineMs: 200 });
    cable.send("0150\r\n+0.00145\r\n");
    expect(lines).toEqual(["+0.00145"]);
  });

  it("believes the first line when it comes later than a line can last", async () => {
    const { cable, lines } = await connected({ lineMs: 20 });
    await pause(40);
    cable.send("+0.00150\r\n");
    expect(lines).toEqual(["+0.00150"]);
  });

  it("drops everything while the gauge wakes up, and the line that straddles the end of it", async () => {
    const { cable, lines } = await connected({ settleMs: 50 });
    cable.send("hello\r\n+0.0");
    await pause(70);
    cable.send("0150\r\n+0.00145\r\n");
    expect(lines).toEqual(["+0.00145"]);
  });

  it("ends a line by silence only if it is as long as the one before", async () => {
    const { cable, lines } = await connected();
    cable.send("+0.00150\r");
    cable.send("+0.00145");
    await until(() => lines.length === 2);
    expect(lines).toEqual(["+0.00150", "+0.00145"]);
    cable.send("+0.00");
    await pause(600);
    cable.send("140\r+0.00135\r");
    expect(lines).toEqual(["+0.00150", "+0.00145", "+0.00…", "+0.00135"]);
  });

  it("hands over a line whose end is damaged as one cut off, and hears the next", async () => {
    const { cable, lines } = await connected();
    cable.send("+0.00150\r");
    cable.send("+0.00155\x1a");
    await until(() => lines.length === 2);
    cable.send("+0.00160\r");
    cable.send("+0.00165\r");
    expect(lines).toEqual(["+0.00150", "+0.00155␚…", "+0.00160", "+0.00165"]);
  });

  it("hears the line after a damaged LF", async () => {
    const { cable, lines } = await connected();
    cable.send("+0.00150\r\n");
    cable.send("+0.00155\r\x1a");
    await until(() => lines.length === 3);
    cable.send("+0.00160\r\n");
    expect(lines).toEqual(["+0.00150", "+0.00155", "␚…", "+0.00160"]);
  });

  it.each([
    ["1", "0.0015"],
    ["-", "0.00150"],
    ["10.", "001500"],
  ])(
    "never takes the rest of a line that broke off after %j for a line, even one as long as usual",
    async (half, rest) => {
      const { cable, lines } = await connected();
      cable.send("9.9990\r");
      cable.send(half);
      await until(() => lines.length === 2);
      cable.send(`${rest}\r9.9985\r`);
      expect(lines).toEqual(["9.9990", `${half}…`, "9.9985"]);
    },
  );

  it("takes no piece of a line that broke off twice", async () => {
    const { cable, lines } = await connected();
    cable.send("+0.00150\r");
    cable.send("+0.0");
    await until(() => lines.length === 2);
    cable.send("0140");
    await until(() => lines.length === 3);
    cable.send("\r+0.00145\r");
    expect(lines).toEqual(["+0.00150", "+0.0…", "0140…", "+0.00145"]);
  });

  it("refuses to write to a gauge that is not connected", async () => {
    const { cable, link: own } = await connected();
    await own.write("?");
    expect(cable.received).toBe("?");
    cable.pull();
    await expect(own.write("?")).rejects.toThrow("not connected");
    const ports = new PortList(
      () => {},
      async () => [],
    );
    const unopened = new OwnAdapterPort(ports, { adapter: null, kind: null }, cable.path, () => cable.newPort());
    await expect(unopened.write("?")).rejects.toThrow("Port scripted is not open; nothing was sent.");
  });

  it("hears a gauge that sends no line ends, from its second line on", async () => {
    const { cable, lines } = await connected();
    cable.send("+0.00150");
    await pause(600);
    cable.send("+0.00145");
    await pause(600);
    expect(lines).toEqual(["+0.00150…", "+0.00145"]);
  });
});
