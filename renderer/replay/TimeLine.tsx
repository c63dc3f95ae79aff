import { memo, type ReactNode, useMemo } from "react";
import { useStore } from "../store/store.ts";
import type { Film } from "./film.ts";
import { type Mark, marksOf, type Stretch, stretchesOf } from "./marks.ts";
import styles from "./replay.module.css";

/** The session as a line of time: which bore or step was when, what was kept, struck or told. */
export function TimeLine({
  film,
  name,
  onSeek,
}: {
  readonly film: Film;
  readonly name: string;
  readonly onSeek: (tMs: number) => void;
}): ReactNode {
  const clockMs = useStore((state) => state.clockMs ?? 0);
  const marks = useMemo(() => marksOf(film), [film]);
  const stretches = useMemo(() => stretchesOf(film), [film]);
  const at = stretches.findLast(({ fromMs }) => fromMs <= clockMs);
  const last = marks.findLast(({ tMs }) => tMs <= clockMs);
  return (
    <div className={styles.line}>
      <p className={styles.word}>
        <strong>Replay</strong> of {name}, to look at only.{" "}
        <span className={styles.time}>
          {clockTime(clockMs)} of {clockTime(film.endMs)}
        </span>{" "}
        {at === undefined ? "" : at.isBore ? `Bore ${at.name}. ` : `${at.name[0]?.toUpperCase()}${at.name.slice(1)}. `}
        {last === undefined ? "" : `Last: ${last.text}`}
      </p>
      <div className={styles.drawing} aria-hidden="true">
        {stretches.map((stretch) => (
          <StretchBox key={stretch.fromMs} stretch={stretch} endMs={film.endMs} here={stretch === at} />
        ))}
        <Ticks marks={marks} endMs={film.endMs} />
        <span className={styles.now} style={{ left: share(clockMs, film.endMs) }} />
      </div>
      <input
        type="range"
        className={styles.slider}
        aria-label="Time of the replay"
        aria-valuetext={`${spokenTime(clockMs)}${at === undefined ? "" : `, ${at.name}`}`}
        min={0}
        max={Math.ceil(film.endMs)}
        step={100}
        value={Math.round(clockMs)}
        onChange={({ target }) => onSeek(Number(target.value))}
      />
    </div>
  );
}

/** A full bar for what was kept, a cross for what was taken back, a triangle for what was told. */
const SHAPES: Readonly<Record<Mark["kind"], string>> = {
  station: "❘",
  zero: "○",
  lifter: "·",
  strike: "×",
  notice: "▲",
};

const share = (tMs: number, endMs: number) => `${(100 * tMs) / Math.max(1, endMs)}%`;

// Drawn once and not at every frame: only the hand of the clock moves.
const Ticks = memo(function Ticks({ marks, endMs }: { readonly marks: readonly Mark[]; readonly endMs: number }) {
  return marks.map((mark, index) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: the marks of a film never change.
    <span key={index} className={styles.tick} data-kind={mark.kind} style={{ left: share(mark.tMs, endMs) }}>
      {SHAPES[mark.kind]}
    </span>
  ));
});

const StretchBox = memo(function StretchBox({
  stretch,
  endMs,
  here,
}: {
  readonly stretch: Stretch;
  readonly endMs: number;
  readonly here: boolean;
}): ReactNode {
  const left = (100 * stretch.fromMs) / endMs;
  const width = (100 * (stretch.toMs - stretch.fromMs)) / endMs;
  return (
    <span className={styles.stretch} data-here={here} style={{ left: `${left}%`, width: `${width}%` }}>
      {stretch.name}
    </span>
  );
});

/** "1:02:03" or "2:03". */
function clockTime(tMs: number): string {
  const seconds = Math.floor(tMs / 1000);
  const two = (value: number) => String(value).padStart(2, "0");
  const minutes = Math.floor(seconds / 60);
  const hours = Math.floor(minutes / 60);
  return hours > 0 ? `${hours}:${two(minutes % 60)}:${two(seconds % 60)}` : `${minutes}:${two(seconds % 60)}`;
}

function spokenTime(tMs: number): string {
  const seconds = Math.floor(tMs / 1000);
  return `${Math.floor(seconds / 60)} minutes ${seconds % 60} seconds`;
}
