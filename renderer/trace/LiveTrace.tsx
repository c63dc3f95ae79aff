import { useEffect, useRef } from "react";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import type { LiveReading } from "../../core/bridge/messages.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { Sweep } from "../../core/sweep/sweep.ts";
import { TRACE_MS } from "../store/trace.ts";
import styles from "./trace.module.css";
import { awayStretches, type Range, traceRange } from "./traceRange.ts";

export interface LiveTraceProps {
  /** The last 20 s, oldest first; asked for at every picture. */
  readonly readings: () => readonly LiveReading[];
  /** Sweeps whose turning points are marked; asked for at every picture. */
  readonly sweeps: () => readonly Sweep[];
  /** The time at the right edge, ms, asked for at every picture; null while it is the bench's own. */
  readonly clockMs?: () => number | null;
  /** Readings that count as in the bore, nm; null before a zero. */
  readonly working: Range | null;
  /** Prints a reading (nm) for the scale. */
  readonly print: (length: Nm) => string;
  /** Steps of the scale that are round in the unit it is printed in, nm, ascending. */
  readonly steps: readonly number[];
  /** What is traced, for those who do not see it. */
  readonly label: string;
}

/** The live trace. It draws itself as time goes on, straight from the readings; React has no part in it. */
export function LiveTrace(props: LiveTraceProps) {
  const host = useRef<HTMLDivElement>(null);
  const latest = useRef(props);
  latest.current = props;

  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    let picture = new TracePicture(element, () => latest.current);
    let letters = letterPx(element);
    // The plot takes its lettering once, so a window of another size gets a new plot.
    const onResize = () => {
      if (letterPx(element) === letters) return;
      letters = letterPx(element);
      picture.stop();
      picture = new TracePicture(element, () => latest.current);
    };
    window.addEventListener("resize", onResize);
    return () => {
      window.removeEventListener("resize", onResize);
      picture.stop();
    };
  }, []);

  return <div ref={host} className={styles.trace} role="img" aria-label={props.label} />;
}

/** Height of the letters of the trace, px: those of the box it stands in. */
function letterPx(element: HTMLElement): number {
  return Number.parseFloat(getComputedStyle(element).fontSize) || 16;
}

/** Under reduced motion the picture moves on in steps of this, ms. */
const CALM_MS = 500;
/** A frame may come so much too early for the next drawing, ms: half of one. */
const EARLY_MS = 8;

class TracePicture {
  readonly #element: HTMLDivElement;
  readonly #props: () => LiveTraceProps;
  readonly #plot: uPlot;
  readonly #resize: ResizeObserver;
  readonly #letterPx: number;
  #frame = 0;
  #range: Range | null = null;
  #nowMs = 0;
  #lastTMs = -1;
  #arrivedAt = 0;
  #drawnAt = Number.NEGATIVE_INFINITY;
  #inks = { ink: "#000", soft: "#555", hair: "#ccc", here: "#b40", letters: "sans-serif" };
  #inksReadAt = Number.NEGATIVE_INFINITY;
  #samples: readonly LiveReading[] = [];

  constructor(element: HTMLDivElement, props: () => LiveTraceProps) {
    this.#element = element;
    this.#props = props;
    this.#letterPx = letterPx(element);
    this.#readInks(0);
    const font = `${Math.max(12, this.#letterPx * 0.8)}px ${getComputedStyle(element).fontFamily}`;
    const axis = { stroke: () => this.#inks.soft, font, ticks: { show: false } };
    this.#plot = new uPlot(
      {
        width: Math.max(50, element.clientWidth),
        height: Math.max(40, element.clientHeight),
        padding: [6, 8, 0, 0],
        cursor: { show: false },
        legend: { show: false },
        scales: {
          x: { time: false, range: () => [this.#nowMs - TRACE_MS, this.#nowMs] },
          y: { range: () => [this.#range?.lowNm ?? 0, this.#range?.highNm ?? 40_000] },
        },
        axes: [
          {
            ...axis,
            size: this.#letterPx * 1.3,
            gap: 2,
            splits: () => [20, 15, 10].map((s) => this.#nowMs - s * 1000),
            values: (_, splits) => splits.map((at) => `${Math.round((this.#nowMs - at) / 1000)} s ago`),
            grid: { stroke: () => this.#inks.hair, width: 1 },
          },
          {
            ...axis,
            size: this.#letterPx * 4.6,
            gap: 4,
            space: (plot) => Math.max(this.#letterPx * 1.6, plot.height / 7),
            incrs: () => [...this.#props().steps],
            values: (_, splits) => splits.map((nm) => this.#props().print(Math.round(nm) as Nm)),
            grid: { stroke: () => this.#inks.hair, width: 1 },
          },
        ],
        series: [{}, { stroke: () => this.#inks.ink, width: 1.5, points: { show: false }, spanGaps: false }],
        hooks: { draw: [(plot) => this.#drawMarks(plot)] },
      },
      [[], []],
      element,
    );
    this.#resize = new ResizeObserver(() => {
      this.#plot.setSize({ width: Math.max(50, element.clientWidth), height: Math.max(40, element.clientHeight) });
    });
    this.#resize.observe(element);
    const calm = window.matchMedia("(prefers-reduced-motion: reduce)");
    const tick = (at: number) => {
      this.#frame = requestAnimationFrame(tick);
      if (at - this.#drawnAt + EARLY_MS < (calm.matches ? CALM_MS : this.#stepMs())) return;
      this.#drawnAt = at;
      this.#draw(at);
    };
    this.#frame = requestAnimationFrame(tick);
  }

  stop(): void {
    cancelAnimationFrame(this.#frame);
    this.#resize.disconnect();
    this.#plot.destroy();
  }

  /** How long the picture takes to move on by its width of a dot, ms; 0 in a replay, where time may run faster. */
  #stepMs(): number {
    const own = this.#props().clockMs?.() ?? null;
    return own === null ? (TRACE_MS * window.devicePixelRatio) / Math.max(1, this.#plot.bbox.width) : 0;
  }

  /** Reads the theme's inks and letters now and then, since a canvas has no style sheet. */
  #readInks(at: number): void {
    if (at - this.#inksReadAt < 500) return;
    this.#inksReadAt = at;
    const style = getComputedStyle(this.#element);
    const ink = (name: string, otherwise: string) => style.getPropertyValue(name).trim() || otherwise;
    this.#inks = {
      ink: ink("--ink", "#000"),
      soft: ink("--ink-soft", "#555"),
      hair: ink("--hair", "#ccc"),
      here: ink("--here", "#b40"),
      letters: style.fontFamily,
    };
  }

  #draw(at: number): void {
    this.#readInks(at);
    const { readings, working } = this.#props();
    this.#samples = readings();
    const last = this.#samples[this.#samples.length - 1];
    if (last !== undefined && last.tMs !== this.#lastTMs) {
      this.#lastTMs = last.tMs;
      this.#arrivedAt = at;
    }
    // Between readings, and when they stop, time goes on.
    const bench = last === undefined ? TRACE_MS : last.tMs + (at - this.#arrivedAt);
    this.#nowMs = this.#props().clockMs?.() ?? bench;
    const times: number[] = [];
    const values: (number | null)[] = [];
    const inside: number[] = [];
    for (const { tMs, valueNm } of this.#samples) {
      if (tMs < this.#nowMs - TRACE_MS) continue;
      const away = valueNm === null || (working !== null && (valueNm < working.lowNm || valueNm > working.highNm));
      times.push(tMs);
      values.push(away ? null : valueNm);
      if (!away && valueNm !== null) inside.push(valueNm);
    }
    this.#range = traceRange(inside, working, this.#range);
    this.#plot.setData([times, values]);
  }

  #drawMarks(plot: uPlot): void {
    const { ctx, bbox } = plot;
    const scale = window.devicePixelRatio * (this.#letterPx / 16);
    const x = (tMs: number) => plot.valToPos(tMs, "x", true);
    const y = (nm: number) => plot.valToPos(nm, "y", true);
    ctx.save();
    ctx.beginPath();
    ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height + 8 * scale);
    ctx.clip();
    ctx.lineWidth = 2 * scale;
    this.#drawAway(ctx, bbox, x, scale);
    for (const sweep of this.#props().sweeps()) {
      if (sweep.tMs < this.#nowMs - TRACE_MS) continue;
      const at = x(sweep.tMs);
      const foot = Math.min(y(sweep.turningPointNm), bbox.top + bbox.height);
      ctx.strokeStyle = this.#inks.ink;
      ctx.fillStyle = this.#inks.ink;
      const r = 5 * scale;
      ctx.beginPath();
      if (sweep.use === "kept") {
        ctx.arc(at, foot, r, 0, 2 * Math.PI);
        ctx.fill();
      } else {
        ctx.moveTo(at - r, foot - r);
        ctx.lineTo(at + r, foot + r);
        ctx.moveTo(at - r, foot + r);
        ctx.lineTo(at + r, foot - r);
        ctx.stroke();
      }
    }
    const last = this.#samples[this.#samples.length - 1];
    if (last?.valueNm != null && this.#nowMs - last.tMs < 1000) {
      ctx.fillStyle = this.#inks.here;
      ctx.beginPath();
      const top = bbox.top + 5 * scale;
      ctx.arc(
        Math.min(x(last.tMs), bbox.left + bbox.width - 5 * scale),
        Math.max(top, y(last.valueNm)),
        5 * scale,
        0,
        2 * Math.PI,
      );
      ctx.fill();
    }
    ctx.restore();
  }

  /** Where the gauge was out of the bore: a dashed line along the top edge, with the words where there is room. */
  #drawAway(ctx: CanvasRenderingContext2D, bbox: uPlot.BBox, x: (tMs: number) => number, scale: number): void {
    const top = bbox.top + 9 * scale;
    ctx.strokeStyle = this.#inks.soft;
    ctx.fillStyle = this.#inks.soft;
    ctx.font = `${13 * scale}px ${this.#inks.letters}`;
    ctx.textBaseline = "top";
    for (const { fromMs, toMs } of awayStretches(this.#samples, this.#props().working)) {
      const from = Math.max(bbox.left, x(fromMs));
      const to = x(toMs);
      if (to <= from) continue;
      ctx.setLineDash([6 * scale, 5 * scale]);
      ctx.beginPath();
      ctx.moveTo(from, top);
      ctx.lineTo(to, top);
      ctx.stroke();
      ctx.setLineDash([]);
      const words = "out of the bore";
      if (to - from > ctx.measureText(words).width + 8 * scale) ctx.fillText(words, from + 4 * scale, top + 5 * scale);
    }
  }
}
