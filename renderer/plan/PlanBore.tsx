import { type KeyboardEvent, memo } from "react";
import type { Clock } from "../../core/block/layout.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";
import type { PlacedBore } from "../../core/report/planGeometry.ts";
import { describeBore } from "./describeBore.ts";
import type { Way } from "./neighbour.ts";
import styles from "./plan.module.css";
import { VerdictMark } from "./VerdictMark.tsx";

/** A lifter as it is written into a bore. */
export interface LifterInBore {
  readonly name: string;
  /** It was measured for another bore: drawn heavier, and told apart by a second ring. */
  readonly moved: boolean;
}

interface PlanBoreProps {
  readonly bore: PlacedBore;
  readonly finding: BoreFinding | undefined;
  /** What it means that this is the bore being measured or chosen; null where it is another. */
  readonly here: string | null;
  /** Which way the gauge's contacts lie in it. */
  readonly clock: Clock;
  readonly next: boolean;
  /** Radius of a bore's ring, distance of two bores and room for what stands beside them, in the drawing's units. */
  readonly ring: number;
  readonly pitch: number;
  readonly room: number;
  /** Height of the names. */
  readonly label: number;
  readonly tabStop: boolean;
  readonly figures?: (finding: BoreFinding) => readonly string[];
  readonly lifterIn?: (bore: string) => LifterInBore | null;
  readonly onChoose?: (bore: string) => void;
  readonly onFocused?: (bore: string) => void;
  readonly onGo?: (bore: string, way: Way) => void;
}

/** A bore of the plan with its name and its mark, drawn again only when something of it changes. */
export const PlanBore = memo(function PlanBore(props: PlanBoreProps) {
  const { bore, finding, here, clock, next, ring, pitch, room, label, tabStop, figures, lifterIn, onChoose } = props;
  const { onFocused, onGo } = props;
  const isHere = here !== null;
  const wide = figures !== undefined;
  const lifter = lifterIn?.(bore.name) ?? null;
  const where = describeBore(bore.name, finding, here ?? (next ? "next" : null));
  const words = lifter === null ? where : `${where}, lifter ${lifter.name}${lifter.moved ? ", not its own" : ""}`;

  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      event.stopPropagation();
      onChoose?.(bore.name);
      return;
    }
    const way = ARROWS[event.key];
    if (way === undefined) return;
    event.preventDefault();
    onGo?.(bore.name, way);
  };

  const button =
    onChoose === undefined
      ? { "aria-hidden": true as const }
      : {
          role: "button",
          tabIndex: tabStop ? 0 : -1,
          "aria-label": words,
          "aria-current": isHere ? ("location" as const) : undefined,
          onClick: () => onChoose(bore.name),
          onKeyDown,
          onFocus: () => onFocused?.(bore.name),
        };
  const verdict = finding?.verdict ?? "not measured";
  const preferred = finding?.preferred ?? false;
  return (
    <g
      data-bore={bore.name}
      transform={`translate(${bore.x} ${bore.y})`}
      className={[styles.bore, isHere && styles.here, onChoose && styles.choosable].filter(Boolean).join(" ")}
      {...button}
    >
      <Target bore={bore} ring={ring} pitch={pitch} label={label} wide={wide} />
      <path d={cross(ring * 1.3, 0)} className={styles.hair} />
      {isHere && <HereMark ring={ring} clock={clock} />}
      {next && <circle r={ring * 1.32} className={styles.nextRing} />}
      {lifterIn !== undefined ? (
        <>
          <Lifter lifter={lifter} ring={ring} />
          <g transform={`translate(${bore.labelSide * ring * MARK_AT} 0)`}>
            <VerdictMark verdict={verdict} preferred={preferred} ring={ring * SMALL_MARK} tickSide={bore.labelSide} />
          </g>
        </>
      ) : (
        <VerdictMark verdict={verdict} preferred={preferred} ring={ring} tickSide={bore.labelSide === 1 ? -1 : 1} />
      )}
      <Label
        bore={bore}
        ring={ring}
        at={lifterIn !== undefined ? LABEL_BESIDE_MARK : LABEL_AT}
        size={label}
        isHere={isHere}
        figures={finding === undefined ? [] : (figures?.(finding) ?? [])}
        figureHeight={(letters) => figureSize(bore, ring, pitch, label, room, letters)}
      />
    </g>
  );
});

const ARROWS: Readonly<Record<string, Way>> = {
  ArrowUp: "up",
  ArrowDown: "down",
  ArrowLeft: "left",
  ArrowRight: "right",
};

/** Where a name begins, in radii of the ring from its centre: clear of the arrows of a verdict. */
export const LABEL_AT = 2.2;
/** Where a verdict's mark stands beside a bore with its lifter's name in it, in radii of the ring. */
const MARK_AT = 2;
/** Size of such a mark, and where the bore's name begins after it, in radii of the ring. */
const SMALL_MARK = 0.36;
export const LABEL_BESIDE_MARK = 3.05;
/** Width of a name of `letters` letters, in heights of the letters. */
export const nameWidth = (letters: number) => 0.2 + 0.72 * letters;

/** Height of a figure of `letters` letters beside a name. */
function figureSize(
  bore: PlacedBore,
  ring: number,
  pitch: number,
  label: number,
  room: number,
  letters: number,
): number {
  const free = room - ring * LABEL_AT - label * nameWidth(bore.name.length) - 12;
  return Math.min(pitch * 0.36, free / (0.62 * Math.max(1, letters)));
}

/** Four strokes of a centre mark, from `from` to `to` off the centre. */
export function cross(to: number, from: number): string {
  return `M ${-to} 0 H ${-from} M ${from} 0 H ${to} M 0 ${-to} V ${-from} M 0 ${from} V ${to}`;
}

/** What can be hit, and what the focus ring is drawn on. */
function Target({
  bore,
  ring,
  pitch,
  label,
  wide,
}: {
  readonly bore: PlacedBore;
  readonly ring: number;
  readonly pitch: number;
  readonly label: number;
  readonly wide: boolean;
}) {
  const outward = ring * 2.4;
  const inward = ring * 2.3 + label * (wide ? 4.2 : 1.9);
  const x = bore.labelSide === 1 ? -outward : -inward;
  return <rect x={x} y={-pitch / 2} width={outward + inward} height={pitch} rx={3} className={styles.target} />;
}

/** A second ring with a centre mark the way the contacts lie: here, now. Shape says it as well as the accent. */
function HereMark({ ring, clock }: { readonly ring: number; readonly clock: Clock }) {
  const [from, to] = [ring * 1.3, ring * 1.85];
  return (
    <>
      <circle r={from} className={styles.hereRing} />
      <path
        d={`M 0 ${-to} V ${-from} M 0 ${from} V ${to}`}
        transform={clock === "cross" ? "rotate(90)" : undefined}
        className={styles.hereRing}
      />
    </>
  );
}

/** A lifter standing in its bore: its name in the ring; a second ring says that it was measured for another one. */
function Lifter({ lifter, ring }: { readonly lifter: LifterInBore | null; readonly ring: number }) {
  if (lifter === null) return <circle r={ring} className={styles.emptyBore} />;
  return (
    <>
      <circle r={ring} className={lifter.moved ? styles.movedLifter : styles.ring} />
      {lifter.moved && <circle r={ring * 0.84} className={styles.movedInner} />}
      <text
        className={lifter.moved ? styles.movedName : styles.lifterName}
        fontSize={Math.min(ring * 0.95, (ring * 2.3) / Math.max(2, lifter.name.length))}
        dy="0.36em"
      >
        {lifter.name}
      </text>
    </>
  );
}

function Label({
  bore,
  ring,
  at,
  size,
  isHere,
  figures,
  figureHeight,
}: {
  readonly bore: PlacedBore;
  readonly ring: number;
  /** Where it begins, in radii of the ring. */
  readonly at: number;
  readonly size: number;
  readonly isHere: boolean;
  readonly figures: readonly string[];
  readonly figureHeight: (letters: number) => number;
}) {
  const side = bore.labelSide;
  const x = side * ring * at;
  const width = size * nameWidth(bore.name.length);
  const small = figureHeight(Math.max(0, ...figures.map((figure) => figure.length)));
  return (
    <>
      {isHere && (
        <rect
          x={side === 1 ? x - size * 0.12 : x - width + size * 0.12}
          y={-size * 0.58}
          width={width}
          height={size * 1.16}
          className={styles.hereFlag}
        />
      )}
      <text
        x={x}
        dy="0.36em"
        fontSize={size}
        className={isHere ? styles.hereName : styles.name}
        textAnchor={side === 1 ? "start" : "end"}
      >
        {bore.name}
      </text>
      {figures.map((figure, line) => (
        <text
          key={figure}
          x={x + side * (width + 6)}
          y={(line - (figures.length - 1) / 2) * small * 1.15}
          dy="0.36em"
          fontSize={small}
          className={styles.figure}
          textAnchor={side === 1 ? "start" : "end"}
        >
          {figure}
        </text>
      ))}
    </>
  );
}
