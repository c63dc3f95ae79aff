import type { PlacedBore, PlanGeometry } from "../../core/report/planGeometry.ts";
import styles from "./plan.module.css";

/** A lifter that leaves one bore for another. */
export interface LifterWay {
  readonly from: string;
  readonly to: string;
}

/** The ways that lifters go, as curves with an arrowhead; those of the bore looked at are drawn last and heavier. */
export function LifterWays({
  geometry,
  ways,
  here,
}: {
  readonly geometry: PlanGeometry;
  readonly ways: readonly LifterWay[];
  readonly here: string | null;
}) {
  const bores = new Map(geometry.bores.map((bore) => [bore.name, bore]));
  const isHere = ({ from, to }: LifterWay) => here !== null && (from === here || to === here);
  const ordered = [...ways.filter((way) => !isHere(way)), ...ways.filter(isHere)];
  return ordered.map((way) => {
    const from = bores.get(way.from);
    const to = bores.get(way.to);
    if (from === undefined || to === undefined) return null;
    const { line, tip } = wayPath(from, to, geometry.ring, geometry.crankX);
    return (
      <g key={`${way.from} ${way.to}`}>
        <path d={line} className={isHere(way) ? styles.wayHere : styles.way} />
        <path d={tip} className={isHere(way) ? styles.wayHereTip : styles.wayTip} />
      </g>
    );
  });
}

interface Spot {
  readonly x: number;
  readonly y: number;
}

/**
 * A curve from one ring to another, bowed towards the crankshaft where both stand in one bank and a little upwards where
 * it crosses the block, so that it never runs through the bores between.
 */
export function wayPath(
  from: PlacedBore,
  to: PlacedBore,
  ring: number,
  crankX: number,
): { readonly line: string; readonly tip: string } {
  const sameBank = from.bank === to.bank;
  const inward = Math.sign(crankX - from.x) || -from.labelSide || 1;
  const reach = Math.abs(to.y - from.y);
  const middle: Spot = sameBank
    ? { x: from.x + inward * (ring * 1.6 + reach * 0.42), y: (from.y + to.y) / 2 }
    : { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 - ring * 0.8 };
  const start = towards(from, middle, ring * 1.05);
  const end = towards(to, middle, ring * 1.12);
  const back = towards(end, middle, ring * 0.5);
  // Square to the last stretch, half as wide as it is long.
  const across = { x: -(end.y - back.y) * 0.45, y: (end.x - back.x) * 0.45 };
  return {
    line: `M ${at(start)} Q ${at(middle)} ${at(back)}`,
    tip: `M ${at(end)} L ${at({ x: back.x + across.x, y: back.y + across.y })} L ${at({ x: back.x - across.x, y: back.y - across.y })} Z`,
  };
}

/** The spot `by` away from `from` in the direction of `to`. */
function towards(from: Spot, to: Spot, by: number): Spot {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  return { x: from.x + ((to.x - from.x) * by) / length, y: from.y + ((to.y - from.y) * by) / length };
}

function at({ x, y }: Spot): string {
  return `${x.toFixed(1)} ${y.toFixed(1)}`;
}
