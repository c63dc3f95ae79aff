import { type ReactNode, useCallback, useId, useMemo, useRef, useState } from "react";
import type { Clock, Layout } from "../../core/block/layout.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";
import { type PlanGeometry, type PlanSize, planGeometry } from "../../core/report/planGeometry.ts";
import { neighbour, type Way } from "./neighbour.ts";
import { cross, LABEL_AT, LABEL_BESIDE_MARK, type LifterInBore, nameWidth, PlanBore } from "./PlanBore.tsx";
import styles from "./plan.module.css";

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

  const goFrom = useCallback(
    (bore: string, way: Way) => {
      const to = neighbour(geometry, bore, way);
      if (to === null) return;
      setFocused(to);
      root.current?.querySelector<SVGGElement>(`[data-bore="${CSS.escape(to)}"]`)?.focus();
    },
    [geometry],
  );

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
        const isHere = bore.name === here;
        return (
          <PlanBore
            key={bore.name}
            bore={bore}
            finding={known.get(bore.name)}
            here={isHere ? hereWord : null}
            clock={isHere ? (props.hereClock ?? "axial") : "axial"}
            next={bore.name === next}
            ring={ring}
            pitch={pitch}
            room={room}
            label={label}
            tabStop={bore.name === tabStop}
            {...(figures === undefined ? {} : { figures })}
            {...(lifterIn === undefined ? {} : { lifterIn })}
            {...(onChoose === undefined ? {} : { onChoose, onFocused: setFocused, onGo: goFrom })}
          />
        );
      })}
    </svg>
  );
}

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

function ordinal(n: number): string {
  const ending = n % 100 >= 11 && n % 100 <= 13 ? "th" : (["th", "st", "nd", "rd"][n % 10] ?? "th");
  return `${n}${ending}`;
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
