import type { TrafficEntry } from "../../core/bridge/messages.ts";
import { readingInWords } from "../../core/gauge/learnLines.ts";
import { createLineReader } from "../../core/gauge/lineReader.ts";
import type { GaugeProfile } from "../../core/gauge/profile.ts";
import { type HeardLine, inHex, LineKeeper } from "../../core/gauge/teach/heardLine.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { GaugePort } from "./gaugePort.ts";
import { tappedPort } from "./tappedPort.ts";

/** Entries remembered, of all ports together; older ones are dropped. */
const MOST = 2_000;
/** A begun line is shown after so long without its end, ms. */
const QUIET_MS = 250;
/** How often those who watch are told, ms. */
const TELL_MS = 200;

/** What went over the ports, for somebody who looks for a trouble. It is seen only; nothing is measured from it. */
export class TrafficLog {
  readonly #tell: (entries: readonly TrafficEntry[]) => void;
  readonly #now: () => Date;
  #entries: TrafficEntry[] = [];
  #n = 0;
  #told = 0;
  #watched = false;
  #timer: NodeJS.Timeout | null = null;

  constructor(tell: (entries: readonly TrafficEntry[]) => void, now: () => Date = () => new Date()) {
    this.#tell = tell;
    this.#now = now;
  }

  /** The newest entries, oldest first; `MOST` at most. */
  get entries(): readonly TrafficEntry[] {
    return this.#entries;
  }

  /** Tells what is remembered after number `after`, and from here on what comes. */
  watch(after: number): void {
    this.#watched = true;
    this.#told = after;
    this.#flush();
  }

  unwatch(): void {
    this.#watched = false;
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }

  /** The same port, with everything that goes over it written down. `words` says how it is opened. */
  tap(path: string, words: string, profile: GaugeProfile | null, port: GaugePort): GaugePort {
    const keeper = new LineKeeper();
    const unit = profile?.unit;
    const reader = createLineReader(profile ?? LISTENING);
    let timer: NodeJS.Timeout | null = null;
    const write = (line: HeardLine) => {
      const read = reader.read(line.line);
      this.#add(path, "in", {
        hex: inHex(line.bytes),
        text: line.line,
        understood: read.ok ? readingInWords(read, unit) : null,
        why: read.ok ? null : read.why,
      });
    };
    const quiet = () => {
      if (timer !== null) clearTimeout(timer);
      timer = null;
      const line = keeper.quiet();
      if (line !== null) write(line);
    };
    const about = (text: string) => this.#add(path, "port", { hex: "", text, understood: null, why: null });
    return tappedPort(port, {
      opened: () => about(`opened, ${words}`),
      bytes(bytes) {
        for (const line of keeper.push(0, bytes)) write(line);
        if (timer !== null) clearTimeout(timer);
        timer = setTimeout(quiet, QUIET_MS);
      },
      written: (text) =>
        this.#add(path, "out", { hex: inHex(Buffer.from(text, "latin1")), text, understood: null, why: null }),
      closed({ wanted, why }) {
        quiet();
        about(wanted ? "closed" : `lost: ${why ?? "the port was closed"}`);
      },
    });
  }

  #add(
    path: string,
    direction: TrafficEntry["direction"],
    part: Pick<TrafficEntry, "hex" | "text" | "understood" | "why">,
  ): void {
    this.#n += 1;
    this.#entries.push({ n: this.#n, at: this.#now().toISOString(), path, direction, ...part });
    if (this.#entries.length > MOST) this.#entries = this.#entries.slice(-MOST);
    if (!this.#watched) return;
    this.#timer ??= setTimeout(() => this.#flush(), TELL_MS);
  }

  #flush(): void {
    this.#timer = null;
    const entries = this.#entries.filter(({ n }) => n > this.#told);
    this.#told = this.#n;
    if (entries.length > 0) this.#tell(entries);
  }
}

/** For the lines of a gauge of which nothing is known. */
const LISTENING: GaugeProfile = {
  id: "traffic",
  role: "bore",
  sends: "press",
  unit: "in",
  resolutionNm: 1 as Nm,
  polarity: 1,
  line: "auto",
};
