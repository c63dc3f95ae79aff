import { spawnSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, type Page } from "@playwright/test";
import { SerialPort } from "serialport";
import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import { PseudoTerminal } from "../../electron/simulator/pseudoTerminal.ts";
import { findBrowser } from "../browser.mjs";
import { beginJob, connectGauge, Program } from "../e2e/program.ts";

const PRESSES = 500;
/** Half of the bare echo's presses come before the program's, half after, so that both see the same computer. */
const HALF = PRESSES / 2;
const STEP_NM = 254;

const pause = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));
/** By the clock that the page has too, ms. */
const now = () => performance.timeOrigin + performance.now();
const lineOf = (nm: number) => formatLength(nm as Nm, "in", 5, true);
const shownOf = (nm: number) => formatLength(nm as Nm, "in", 5);

/** A text that was on screen, and since when, by the page's clock, ms. */
interface Painted {
  readonly text: string;
  readonly ms: number;
}

/** Hears when each new text of an element has been painted: a task after the frame that drew it. Nothing is polled. */
class PaintWatch {
  #hear: (painted: Painted) => void = () => {};

  static async on(page: Page, selector: string): Promise<PaintWatch> {
    const watch = new PaintWatch();
    await page.exposeFunction("tellPainted", (painted: Painted) => watch.#hear(painted));
    await page.evaluate((selector) => {
      const { tellPainted } = window as unknown as { tellPainted: (painted: Painted) => void };
      let last = "";
      const look = () => {
        const text = document.querySelector(selector)?.textContent ?? "";
        if (text === last) return;
        last = text;
        requestAnimationFrame(() => {
          const channel = new MessageChannel();
          channel.port1.onmessage = () => tellPainted({ text, ms: performance.timeOrigin + performance.now() });
          channel.port2.postMessage(null);
        });
      };
      new MutationObserver(look).observe(document.body, { subtree: true, childList: true, characterData: true });
    }, selector);
    return watch;
  }

  /** When `text` is on screen from now on, ms; null if it does not come within 5 s. */
  next(text: string): Promise<number | null> {
    return new Promise((resolve) => {
      const giveUp = setTimeout(() => resolve(null), 5_000);
      this.#hear = (painted) => {
        if (painted.text !== text) return;
        clearTimeout(giveUp);
        resolve(painted.ms);
      };
    });
  }
}

/** Presses one after another; ms from each press to its figure on screen. A figure that never came is told of. */
async function pressAndWatch(
  watch: PaintWatch,
  values: readonly number[],
  shown: (nm: number) => string,
  press: (nm: number) => void,
): Promise<number[]> {
  const waits: number[] = [];
  let missed = 0;
  for (const [index, nm] of values.entries()) {
    const seen = watch.next(shown(nm));
    const sent = now();
    press(nm);
    const seenMs = await seen;
    if (seenMs === null) missed += 1;
    else waits.push(seenMs - sent);
    // Out of step with frames and streams.
    await pause(50 + ((index * 37) % 50));
  }
  if (missed > 0) console.log(`${missed} of ${values.length} figures were not seen within 5 s`);
  return waits;
}

/**
 * The least there can be: serial ports echoed into texts on an otherwise empty page. A page where nothing else moves is
 * painted at once; one on which another gauge's figure changes too waits for the next frame, as the program's does.
 */
async function bareEcho(values: readonly number[], folder: string, streamed: boolean): Promise<number[]> {
  const terminal = new PseudoTerminal(join(folder, `bare-${streamed}`), () => {});
  await terminal.plugIn();
  const other = new PseudoTerminal(join(folder, `bare-other-${streamed}`), () => {});
  await other.plugIn();
  const ports = await Promise.all([opened(terminal.path), opened(other.path)]);
  const server = createServer((request, response) => {
    if (request.url !== "/events") {
      response.writeHead(200, { "content-type": "text/html" });
      response.end(
        `<!doctype html><title>bare echo</title><p id="figure">-</p><p id="other">-</p><script>
        const events = new EventSource("/events");
        for (const id of ["figure", "other"])
          events.addEventListener(id, (e) => { document.getElementById(id).textContent = e.data; });
        </script>`,
      );
      return;
    }
    response.writeHead(200, { "content-type": "text/event-stream" });
    for (const [index, name] of ["figure", "other"].entries()) {
      let text = "";
      ports[index]?.on("data", (bytes: Buffer) => {
        text += bytes.toString("latin1");
        const lines = text.split("\r");
        text = lines.pop() ?? "";
        for (const line of lines) response.write(`event: ${name}\ndata: ${line}\n\n`);
      });
    }
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const path = findBrowser();
  const browser = await chromium.launch({
    ...(path === null ? {} : { executablePath: path }),
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  });
  let stream: NodeJS.Timeout | null = null;
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 720 } });
    await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
    const watch = await PaintWatch.on(page, "#figure");
    while (!terminal.listened || !other.listened) await pause(50);
    let wave = 0;
    if (streamed) stream = setInterval(() => other.send(`${lineOf((wave++ % 5) * STEP_NM)}\r`), 10);
    return await pressAndWatch(watch, values, lineOf, (nm) => terminal.send(`${lineOf(nm)}\r`));
  } finally {
    if (stream !== null) clearInterval(stream);
    await browser.close();
    server.closeAllConnections();
    server.close();
    for (const port of ports) await new Promise<void>((resolve) => port.close(() => resolve()));
    await terminal.close();
    await other.close();
  }
}

async function opened(path: string): Promise<SerialPort> {
  const port = new SerialPort({ path, baudRate: 9600, autoOpen: false });
  await new Promise<void>((resolve, reject) => port.open((error) => (error === null ? resolve() : reject(error))));
  return port;
}

const GAUGES = { unit: "in", resolution: "0.00001 in", line: "decimal" };

/** The program at its walk, with the micrometer streaming; the bore gauge streams too, or speaks by its data button. */
async function program(sends: "press" | "stream", values: readonly number[], folder: string): Promise<number[]> {
  const job = {
    format: "borewright/job",
    version: 1,
    stations: ["upper", "lower"].flatMap((height) => ["axial", "cross"].map((clock) => ({ height, clock }))),
    // Stations that never close by themselves would pile up sweeps as no walk does; these close at every third press.
    sweepsPerStation: 3,
    returnCheckEvery: 0,
    gauges: [
      { id: "bore", role: "bore", sends, ...GAUGES },
      { id: "mic", role: "micrometer", sends: "stream", ...GAUGES },
    ],
  };
  const open = await Program.start();
  const bore = new PseudoTerminal(join(folder, `bore-${sends}`), () => {});
  const mic = new PseudoTerminal(join(folder, `mic-${sends}`), () => {});
  const streams: NodeJS.Timeout[] = [];
  try {
    await Promise.all([bore.plugIn(), mic.plugIn()]);
    const { page } = open;
    await beginJob(open, job);
    await connectGauge(page, "bore", bore.path);
    await connectGauge(page, "mic", mic.path);
    while (!bore.listened || !mic.listened) await pause(50);
    await page.getByRole("navigation").getByRole("button", { name: /^Zero/ }).click();
    await page.getByRole("button", { name: "Take the zero" }).click();
    if (sends === "press") for (let count = 0; count < 3; count += 1) bore.send(`${lineOf(0)}\r`);
    else await rock(bore);
    await page.getByRole("button", { name: "On to the bores" }).click({ timeout: 60_000 });
    await page.getByRole("heading", { name: /Cylinder 1/ }).waitFor();
    let boreNm = values[0] ?? 0;
    // Two gauges at 50 readings a second; where the bore gauge has a button, the micrometer sends for both.
    if (sends === "stream") streams.push(setInterval(() => bore.send(`${lineOf(boreNm)}\r`), 20));
    let wave = 0;
    const every = sends === "stream" ? 20 : 10;
    streams.push(setInterval(() => mic.send(`${lineOf(21_386_800 + (wave++ % 5) * STEP_NM)}\r`), every));
    const watch = await PaintWatch.on(page, "[data-figure=clearance]");
    return await pressAndWatch(watch, values, shownOf, (nm) => {
      boreNm = nm;
      bore.send(`${lineOf(nm)}\r`);
    });
  } finally {
    for (const stream of streams) clearInterval(stream);
    await bore.close();
    await mic.close();
    await open.close();
  }
}

/** The zero of a streaming gauge: five passes in the micrometer, then out of it. */
async function rock(bore: PseudoTerminal): Promise<void> {
  for (let count = 0; count < 5 * 24; count += 1) {
    const tilt = Math.cos((count / 24) * 2 * Math.PI * 0.5);
    bore.send(`${lineOf(Math.round(tilt * tilt * 90_000))}\r`);
    await pause(20);
  }
  for (let count = 0; count < 75; count += 1) {
    bore.send(`${lineOf(999_000)}\r`);
    await pause(20);
  }
}

/** Figures that each differ from the one before: rising, so that a stream shows no turning point; nm. */
const rising = (count: number) => Array.from({ length: count }, (_, index) => 20_066 + index * STEP_NM);
/** Three falling presses a station, which agree and close it, every station a little apart from the one before; nm. */
const stations = (count: number) =>
  Array.from({ length: count }, (_, index) => 40_640 + ((Math.floor(index / 3) % 9) * 4 - (index % 3)) * STEP_NM);

function quantile(sorted: readonly number[], part: number): number {
  return sorted[Math.min(sorted.length - 1, Math.ceil(part * sorted.length) - 1)] ?? Number.NaN;
}

/** From a press on a pseudo-terminal to its figure on screen, ms, beside the bare echo of the same run and streams. */
export async function pressToPaintTable() {
  if (spawnSync("socat", ["-V"]).status !== 0) return null;
  const folder = await mkdtemp(join(tmpdir(), "borewright-paint-"));
  try {
    const still = await bareEcho(rising(HALF), folder, false);
    const before = await bareEcho(rising(HALF), folder, true);
    // The walk by data button has 64 stations; more presses than they take go on in a session of its own.
    const button = [
      ...(await program("press", stations(189), folder)),
      ...(await program("press", stations(189), folder)),
      ...(await program("press", stations(PRESSES - 2 * 189), folder)),
    ];
    const stream = await program("stream", rising(PRESSES), folder);
    const after = await bareEcho(rising(HALF), folder, true);
    const rows = [
      ["bare echo beside a stream of 100 a second", [...before, ...after]],
      ["bare echo, nothing else moves", still],
      ["data button; the other gauge sends 100 a second", button],
      ["a reading of a stream; two gauges send 50 a second each", stream],
    ] as const;
    const sorted = rows.map(([what, waits]) => ({ what, waits: waits.toSorted((a, b) => a - b) }));
    const bare = sorted[0]?.waits ?? [];
    return sorted.map(({ what, waits }) => ({
      what,
      presses: waits.length,
      "median ms": quantile(waits, 0.5).toFixed(1),
      "99 % ms": quantile(waits, 0.99).toFixed(1),
      "largest ms": quantile(waits, 1).toFixed(1),
      "ratio of medians": (quantile(waits, 0.5) / quantile(bare, 0.5)).toFixed(2),
      "ratio at 99 %": (quantile(waits, 0.99) / quantile(bare, 0.99)).toFixed(2),
    }));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
