import type { Layout } from "../block/layout.ts";

/** A size on the drawing, in its own units; the picture scales to whatever room it is given. */
export interface PlanSize {
  readonly width: number;
  readonly height: number;
}

export interface PlacedBore {
  readonly name: string;
  readonly cylinder: number;
  readonly bank: number;
  readonly x: number;
  readonly y: number;
  /** Direction from the bore towards its label: +1 right, -1 left. */
  readonly labelSide: 1 | -1;
}

export interface PlacedCylinder {
  readonly cylinder: number;
  readonly x: number;
  readonly y: number;
}

export interface PlacedBank {
  readonly name: string;
  readonly x: number;
  readonly top: number;
  readonly bottom: number;
}

export interface PlanGeometry {
  readonly bores: readonly PlacedBore[];
  readonly cylinders: readonly PlacedCylinder[];
  readonly banks: readonly PlacedBank[];
  /** Outline of the block. */
  readonly outline: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  /** The crankshaft's centre line. */
  readonly crankX: number;
  /** Radius of a bore's ring. */
  readonly ring: number;
  /** Radius of a cylinder's circle. */
  readonly cylinderRadius: number;
  /** Distance between neighbouring bores along a bank. */
  readonly pitch: number;
  readonly frontAtTop: boolean;
}

/** Room above and below the block for its end marks. */
const END = 30;

/**
 * Places a layout on a drawing of the given size, in plan, the front at the top. `flip` turns the picture half round,
 * as one who walks to the other end of the block sees it; nothing is mirrored and no name changes. `withFigures` leaves
 * more room between the banks for a clearance at each bore.
 */
export function planGeometry(layout: Layout, size: PlanSize, flip: boolean, withFigures = false): PlanGeometry {
  const { width, height } = size;
  const outline = { x: 4, y: END, width: width - 8, height: height - 2 * END };
  const ys = layout.bores.map((bore) => bore.y);
  const lowest = Math.min(...ys);
  const reach = Math.max(...ys) - lowest || 1;
  const perBank = Math.max(1, ...layout.banks.map((_, bank) => layout.bores.filter((b) => b.bank === bank).length));
  const pitch = outline.height / (perBank + 0.3);
  const yOf = (y: number) => outline.y + pitch * 0.65 + ((y - lowest) / reach) * (outline.height - pitch * 1.3);

  const ring = Math.max(5, Math.min(pitch * (withFigures ? 0.25 : 0.31), width * (withFigures ? 0.03 : 0.046)));
  const single = layout.banks.length < 2;
  const cylinderRadius = Math.min(pitch * 0.82, width * (withFigures ? 0.055 : 0.082));
  const crankX = width / 2;
  const farthest = Math.max(...layout.bores.map((bore) => Math.abs(bore.x))) || 1;
  // Cylinders stand outboard of their bores, so the widest bank line leaves them room at the edge.
  const bankReach = width / 2 - outline.x - cylinderRadius * 2.1 - ring * 2.2 - 4;
  const xOf = (x: number) => (single ? width * 0.56 : crankX + (x / farthest) * bankReach);

  const turn = <T extends { x: number; y: number }>(at: T): T =>
    flip ? { ...at, x: width - at.x, y: height - at.y } : at;

  const bores = layout.bores.map((bore): PlacedBore => {
    const inward = single ? -1 : bore.x < 0 ? 1 : -1;
    return turn({
      name: bore.name,
      cylinder: bore.cylinder,
      bank: bore.bank,
      x: xOf(bore.x),
      y: yOf(bore.y),
      labelSide: (flip ? -inward : inward) as 1 | -1,
    });
  });

  const byCylinder = new Map<number, PlacedBore[]>();
  for (const bore of bores) byCylinder.set(bore.cylinder, [...(byCylinder.get(bore.cylinder) ?? []), bore]);
  const cylinders = [...byCylinder].map(([cylinder, own]): PlacedCylinder => {
    const x = own.reduce((sum, bore) => sum + bore.x, 0) / own.length;
    const y = own.reduce((sum, bore) => sum + bore.y, 0) / own.length;
    const outward = -(own[0]?.labelSide ?? 1);
    return { cylinder, x: x + outward * (cylinderRadius + ring * 2.15), y };
  });

  const banks = layout.banks.map((bank, index): PlacedBank => {
    const own = bores.filter((bore) => bore.bank === index);
    const x = own.length === 0 ? crankX : own.reduce((sum, bore) => sum + bore.x, 0) / own.length;
    return { name: bank.name, x, top: outline.y - 8, bottom: outline.y + outline.height + 8 };
  });

  return { bores, cylinders, banks, outline, crankX, ring, cylinderRadius, pitch, frontAtTop: !flip };
}
