import { type KeyboardEvent, type ReactNode, useId, useMemo, useRef, useState } from "react";
import type { Clock, Layout } from "../../core/block/layout.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";
import { type PlacedBore, type PlanGeometry, type PlanSize, planGeometry } from "../../core/report/planGeometry.ts";
import { describeBore } from "./describeBore.ts";
import { neighbour } from "./neighbour.ts";
import styles from "./plan.module.css";
import { VerdictMark } from "./VerdictMark.tsx";

export interface BlockPlanProps {
  readonly layout: Layout;
  readonly findings: readonly BoreFinding[];
  /** The bore being measured now, or chosen; the only thing drawn in the accent colour. */
  readonly here: string | null;
  readonly next: string | null;
  /** Proportions of the drawing; it scales to the room it is given. */
  readonly size: PlanSize;
  /** Seen from the other end: the picture is turned half round, the names stay. */
  readonly flip: boolean;
  /** Called when a bore is chosen; without it the plan is a picture only. */
  readonly onChoose?: (bore: string) => void;
  /** Figures to print at each bore, such as its largest and smallest clearance, one below the other. */
  readonly figures?: (finding: BoreFinding) => readonly string[];
  /** The lifter that stands in each bore, written into it; its verdict's mark then stands between the bore and its name. */
  readonly lifterIn?: (bore: string) => LifterInBore | null;
  /** What is drawn under the bores, such as the ways that lifters go. */
  readonly under?: (geometry: PlanGeometry) => ReactNode;
  readonly showFiringOrder?: boolean;
  /** What `here` means, for those who hear the plan: "here now" in the walk, "chosen" elsewhere. */
  readonly hereWord?: string;
  /** Which way the gauge's contacts lie in the bore being measured: its centre mark is drawn that way. */
  readonly hereClock?: Clock | null;
}

/** A lifter as it is written into a bore. */
export interface LifterInBore {
  readonly name: string;
  /** It was measured for another bore: drawn heavier, and told apart by a second ring. */
  readonly moved: boolean;
}

/** The block in plan as a machinist draws it, its bores marked with what is known of them. */
export function BlockPlan(props: BlockPlanProps) {
  const {
    layout,
    findings,
    here,
    next,
    size,
    flip,
    onChoose,
    figures,
    lifterIn,
    under,
    showFiringOrder = false,
  } = props;
  const hereWord = props.hereWord ?? "here now";
  const id = useId();
  const withFigures = figures !== undefined;
  const withLifters = lifterIn !== undefined;
  const geometry = useMemo(() => {
    const placed = planGeometry(layout, size, flip, withFigures || withLifters);
    // Large enough to write in, and still clear of the cylinder beside it and of its neighbours.
    return withLifters ? { ...placed, ring: Math.min(placed.pitch * 0.42, placed.ring * 1.75) } : placed;
  }, [layout, size, flip, withFigures, withLifters]);
  const known = useMemo(() => new Map(findings.map((finding) => [finding.name, finding])), [findings]);
  const [focused, setFocused] = useState<string | null>(null);
  const root = useRef<SVGSVGElement>(null);
  const { outline, ring, crankX, pitch, cylinderRadius } = geometry;
  const tabStop = focused ?? here ?? geometry.bores[0]?.name ?? null;
  const measured = findings.filter((finding) => finding.verdict !== "not measured").length;

  const onKeyDown = (event: KeyboardEvent, bore: string) => {
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      event.stopPropagation();
      onChoose?.(bore);
      return;
    }
    const way = ARROWS[event.key];
    if (way === undefined) return;
    event.preventDefault();
    const to = neighbour(geometry, bore, way);
    if (to === null) return;
    setFocused(to);
    root.current?.querySelector<SVGGElement>(`[data-bore="${CSS.escape(to)}"]`)?.focus();
  };

  const room = innerRoom(geometry);
  const labelAt = withLifters ? LABEL_BESIDE_MARK : LABEL_AT;
  // Beside a lifter's name the bore's own stands back.
  const label = Math.min(labelSize(geometry, room, withFigures, labelAt), withLifters ? ring * 1.25 : Infinity);
  return (
    <svg
      ref={root}
      viewBox={`0 0 ${size.width} ${size.height}`}
      className={styles.plan}
      role={onChoose === undefined ? "img" : "group"}
      aria-labelledby={`${id}-title ${id}-desc`}
    >
      <title id={`${id}-title`}>Plan of the block, {layout.title}</title>
      <desc id={`${id}-desc`}>
        {`Seen from above, the front ${flip ? "at the bottom" : "at the top"}. ${measured} of ${layout.bores.length} bores measured.`}
      </desc>
      {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: lines and letters, nothing here takes the focus. */}
      <g aria-hidden="true">
        <rect {...outline} className={styles.outline} />
        <path d={`M ${crankX} ${outline.y - 12} V ${outline.y + outline.height + 12}`} className={styles.centreLine} />
        {geometry.banks.map((bank) => (
          <path key={bank.name} d={`M ${bank.x} ${bank.top} V ${bank.bottom}`} className={styles.centreLine} />
        ))}
        <EndMark width={size.width} height={size.height} atTop={geometry.frontAtTop} />
        {geometry.cylinders.map(({ cylinder, x, y }) => (
          <g key={cylinder} transform={`translate(${x} ${y})`}>
            <circle r={cylinderRadius} className={styles.cylinder} />
            <path d={cross(cylinderRadius * 1.08, cylinderRadius * 0.72)} className={styles.hair} />
            <text className={styles.cylinderNumber} fontSize={cylinderRadius * 0.86} dy="0.36em">
              {cylinder}
            </text>
            {showFiringOrder && layout.firingOrder.includes(cylinder) && (
              <text
                className={styles.firing}
                fontSize={Math.max(9, cylinderRadius * 0.34)}
                x={0}
                y={cylinderRadius * 0.86}
              >
                {ordinal(layout.firingOrder.indexOf(cylinder) + 1)}
              </text>
            )}
          </g>
        ))}
        {under?.(geometry)}
      </g>
      {geometry.bores.map((bore) => {
        const finding = known.get(bore.name);
        const isHere = bore.name === here;
        const lifter = lifterIn?.(bore.name) ?? null;
        const where = describeBore(bore.name, finding, isHere ? hereWord : bore.name === next ? "next" : null);
        const words = lifter === null ? where : `${where}, lifter ${lifter.name}${lifter.moved ? ", not its own" : ""}`;
        const button =
          onChoose === undefined
            ? { "aria-hidden": true as const }
            : {
                role: "button",
                tabIndex: bore.name === tabStop ? 0 : -1,
                "aria-label": words,
                "aria-current": isHere ? ("location" as const) : undefined,
                onClick: () => onChoose(bore.name),
                onKeyDown: (event: KeyboardEvent) => onKeyDown(event, bore.name),
                onFocus: () => setFocused(bore.name),
              };
        return (
          <g
            key={bore.name}
            data-bore={bore.name}
            transform={`translate(${bore.x} ${bore.y})`}
            className={[styles.bore, isHere && styles.here, onChoose && styles.choosable].filter(Boolean).join(" ")}
            {...button}
          >
            <Target bore={bore} ring={ring} pitch={pitch} label={label} wide={withFigures} />
            <path d={cross(ring * 1.3, 0)} className={styles.hair} />
            {isHere && <HereMark ring={ring} clock={props.hereClock ?? "axial"} />}
            {bore.name === next && <circle r={ring * 1.32} className={styles.nextRing} />}
            {withLifters ? (
              <>
                <Lifter lifter={lifter} ring={ring} />
                <g transform={`translate(${bore.labelSide * ring * MARK_AT} 0)`}>
                  <VerdictMark
                    verdict={finding?.verdict ?? "not measured"}
                    preferred={finding?.preferred ?? false}
                    ring={ring * SMALL_MARK}
                    tickSide={bore.labelSide}
                  />
                </g>
              </>
            ) : (
              <VerdictMark
                verdict={finding?.verdict ?? "not measured"}
                preferred={finding?.preferred ?? false}
                ring={ring}
                tickSide={bore.labelSide === 1 ? -1 : 1}
              />
            )}
            <Label
              bore={bore}
              ring={ring}
              at={labelAt}
              size={label}
              isHere={isHere}
              figures={finding === undefined ? [] : (figures?.(finding) ?? [])}
              figureHeight={(letters) => figureSize(bore, ring, pitch, label, room, letters)}
            />
          </g>
        );
      })}
    </svg>
  );
}

const ARROWS: Readonly<Record<string, "up" | "down" | "left" | "right">> = {
  ArrowUp: "up",
  ArrowDown: "down",
  ArrowLeft: "left",
  ArrowRight: "right",
};

/** Where a name begins, in radii of the ring from its centre: clear of the arrows of a verdict. */
const LABEL_AT = 2.2;
/** Where a verdict's mark stands beside a bore with its lifter's name in it, in radii of the ring. */
const MARK_AT = 2;
/** Size of such a mark, and where the bore's name begins after it, in radii of the ring. */
const SMALL_MARK = 0.36;
const LABEL_BESIDE_MARK = 3.05;
/** Width of a name of `letters` letters, in heights of the letters. */
const nameWidth = (letters: number) => 0.2 + 0.72 * letters;

/** Room between a bank's centre line and the crankshaft's, where names and figures stand. */
function innerRoom({ bores, banks, crankX }: PlanGeometry): number {
  return banks.length < 2 ? crankX : Math.min(...bores.map((bore) => Math.abs(bore.x - crankX)));
}

/** Height of the names: as large as the pitch and the room allow; with figures beside them they leave half of it. */
function labelSize({ bores, ring, pitch }: PlanGeometry, room: number, withFigures: boolean, at: number): number {
  const letters = Math.max(1, ...bores.map((bore) => bore.name.length));
  const free = (room - ring * at - 3) / nameWidth(letters);
  return withFigures ? Math.min(pitch * 0.5, ring * 2, free * 0.42) : Math.min(pitch * 0.7, ring * 2.4, free);
}

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
function cross(to: number, from: number): string {
  return `M ${-to} 0 H ${-from} M ${from} 0 H ${to} M 0 ${-to} V ${-from} M 0 ${from} V ${to}`;
}

function ordinal(n: number): string {
  const ending = n % 100 >= 11 && n % 100 <= 13 ? "th" : (["th", "st", "nd", "rd"][n % 10] ?? "th");
  return `${n}${ending}`;
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

/** Which end is the front, written as on a drawing: a word and an arrow towards it. */
function EndMark({ width, height, atTop }: { width: number; height: number; atTop: boolean }) {
  const y = atTop ? 20 : height - 7;
  const other = atTop ? height - 7 : 20;
  const tip = atTop ? -9 : 3;
  const foot = atTop ? 3 : -9;
  return (
    <>
      <text x={14} y={y} className={styles.end} fontSize={19}>
        FRONT
      </text>
      <path
        d={`M 92 ${y + foot} V ${y + tip} m -4 ${atTop ? 5 : -5} l 4 ${atTop ? -5 : 5} l 4 ${atTop ? 5 : -5}`}
        className={styles.endArrow}
      />
      <text x={14} y={other} className={styles.end} fontSize={19}>
        REAR
      </text>
      <text x={width - 14} y={height - 7} className={styles.end} fontSize={19} textAnchor="end">
        you stand here
      </text>
    </>
  );
}
