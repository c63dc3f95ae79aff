import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium, type Page } from "@playwright/test";
import { type GaugePort, type GaugePortHandlers, PortError } from "../../electron/host/gaugePort.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { LoopbackServer } from "../../electron/loopback/loopbackServer.ts";
import { findBrowser } from "../browser.mjs";
import { fixed } from "./measure.ts";

const PER_SECOND = 100;
/** How often the sending is looked after, ms. */
const TICK_MS = 10;
const COUNT_MS = 6_000;

/** A gauge that sends as many readings a second as it is told to. */
class StreamPort implements GaugePort {
  static readonly open = new Set<StreamPort>();
  #handlers: GaugePortHandlers | null = null;

  async open(handlers: GaugePortHandlers): Promise<void> {
    this.#handlers = handlers;
    StreamPort.open.add(this);
  }

  async write(): Promise<void> {
    throw new PortError("failed", "bench", "This gauge only talks.");
  }

  async close(): Promise<void> {
    StreamPort.open.delete(this);
    this.#handlers?.onClose({ wanted: true, why: null });
    this.#handlers = null;
  }

  send(line: string): void {
    this.#handlers?.onBytes(Buffer.from(`${line}\r\n`, "latin1"));
  }
}

interface FrameRow {
  readonly place: string;
  readonly idle: number;
  readonly streaming: number;
  readonly ratio: number;
  /** Longest time between two pictures while streaming, ms. */
  readonly longestMs: number;
}

/** Pictures a second of the built page with two streams of 100 readings a second, beside the same page without. */
export async function framesTable() {
  const rows = await framesOf(fileURLToPath(new URL("../../dist/renderer", import.meta.url)));
  return rows.map(({ place, idle, streaming, ratio, longestMs }) => ({
    place,
    without: fixed(idle, 1),
    with: fixed(streaming, 1),
    ratio: fixed(ratio, 2),
    "longest wait, ms": fixed(longestMs, 0),
  }));
}

async function framesOf(page: string): Promise<FrameRow[]> {
  const folder = await mkdtemp(join(tmpdir(), "borewright-frames-"));
  const host = await HostService.open({
    shell: "loopback",
    folder,
    newPort: () => new StreamPort(),
    ports: (onChange) => new PortList(onChange, async () => []),
  });
  const server = await LoopbackServer.start({ host, page });
  const executablePath = findBrowser();
  const browser = await chromium.launch({
    ...(executablePath === null ? {} : { executablePath }),
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  });
  const call = async (method: string, input: object) => {
    const answer = await host.call(method, input, { mayAct: true });
    if (!answer.ok) throw new Error(`${method}: ${answer.message}`);
  };
  try {
    const gauge = { unit: "in", resolution: "0.00005 in", sends: "stream" };
    const gauges = [
      { ...gauge, id: "bore", role: "bore" },
      { ...gauge, id: "mic", role: "micrometer" },
    ];
    await call("session.new", { job: { format: "borewright/job", version: 1, title: "Frames", gauges } });
    for (const { id } of gauges) await call("gauge.connect", { gauge: id, settings: { path: id } });
    const tab = await (await browser.newContext({ viewport: { width: 1280, height: 720 } })).newPage();
    await tab.goto(server.newAddress());
    const rows: FrameRow[] = [];
    for (const place of ["Gauges", "Bores"]) {
      await tab.getByRole("navigation", { name: "Places" }).getByRole("button", { name: place }).click();
      if (place === "Bores") await call("session.act", { action: { type: "step", step: "bores" } });
      const idle = await frames(tab);
      const stop = stream();
      const streaming = await frames(tab);
      stop();
      rows.push({
        place,
        idle: idle.perSecond,
        streaming: streaming.perSecond,
        ratio: streaming.perSecond / idle.perSecond,
        longestMs: streaming.longestMs,
      });
    }
    return rows;
  } finally {
    await browser.close();
    await server.close();
    await host.close();
    await rm(folder, { recursive: true, force: true });
  }
}

/** Sends rocking on every open port; returns the function that stops it. */
function stream(): () => void {
  const startMs = performance.now();
  let sent = 0;
  const timer = setInterval(() => {
    const due = Math.floor(((performance.now() - startMs) * PER_SECOND) / 1000);
    for (; sent < due; sent += 1) {
      const tilt = Math.sin((sent / PER_SECOND) * 2 * Math.PI);
      const value = 0.0015 + 0.003 * tilt * tilt;
      for (const port of StreamPort.open) port.send(`+${value.toFixed(5)}`);
    }
  }, TICK_MS);
  return () => clearInterval(timer);
}

function frames(page: Page): Promise<{ perSecond: number; longestMs: number }> {
  return page.evaluate(
    (countMs) =>
      new Promise<{ perSecond: number; longestMs: number }>((resolve) => {
        let count = 0;
        let longestMs = 0;
        let startMs = 0;
        let lastMs = 0;
        const tick = (at: number) => {
          if (startMs === 0) startMs = at;
          else {
            count += 1;
            longestMs = Math.max(longestMs, at - lastMs);
          }
          lastMs = at;
          if (at - startMs < countMs) requestAnimationFrame(tick);
          else resolve({ perSecond: (1000 * count) / (at - startMs), longestMs });
        };
        requestAnimationFrame(tick);
      }),
    COUNT_MS,
  );
}
