import type { Job } from "../../session/job.ts";
import { type PlacedBore, type PlanGeometry, planGeometry } from "../planGeometry.ts";
import { inches, micrometres, type UnitFirst } from "./lengths.ts";
import { type Markup, markup } from "./markup.ts";
import type { ResultBore } from "./reportInput.ts";
import { verdictDrawing } from "./verdictMark.ts";

/** Width of a drawing over the whole page, in its own units. */
const FULL_WIDTH = 700;
/** Room along a bank for one bore, and for both ends. */
const PITCH = 41.5;
const LEAST_PITCH = 34;
const ENDS = 60;
const MOST_HEIGHT = 760;
/** Share of the page that a drawing of the full width takes, per cent. */
const SHARE = 97;

/**
 * The block in plan as a machinist draws it: bores as circles in their banks, marked with their verdicts, beside each
 * its largest and its smallest station clearance in both units.
 */
export function blockPlan(
  job: Job,
  bores: readonly ResultBore[],
  first: UnitFirst,
  seenFrom: "front" | "rear",
): Markup {
  const { layout } = job;
  const perBank = Math.max(1, ...layout.banks.map((_, bank) => layout.bores.filter((b) => b.bank === bank).length));
  const pitch = Math.max(LEAST_PITCH, Math.min(PITCH, (MOST_HEIGHT - ENDS) / (perBank + 0.3)));
  const width = layout.banks.length < 2 ? FULL_WIDTH * 0.62 : FULL_WIDTH;
  const size = { width, height: Math.round(Math.max(4, perBank + 0.3) * pitch + ENDS) };
  const geometry = planGeometry(layout, size, seenFrom === "front", true);
  const { outline, ring, crankX, cylinderRadius, banks, cylinders } = geometry;
  const known = new Map(bores.map((bore) => [bore.name, bore]));
  return markup`<svg class="drawing" style="width:${(SHARE * width) / FULL_WIDTH}%" viewBox="0 0 ${size.width} ${size.height}" role="img" aria-label="Plan of the block, the front ${geometry.frontAtTop ? "at the top" : "at the bottom"}">
<rect x="${outline.x}" y="${outline.y}" width="${outline.width}" height="${outline.height}" class="outline"/>
<path d="M ${crankX} ${outline.y - 12} V ${outline.y + outline.height + 12}" class="centreLine"/>
${banks.map((bank) => markup`<path d="M ${bank.x} ${bank.top} V ${bank.bottom}" class="centreLine"/>`)}
${endMarks(geometry, size)}
${cylinders.map(
  ({ cylinder, x, y }) => markup`<g transform="translate(${x} ${y})"><circle r="${cylinderRadius}" class="thin"/>
<path d="${cross(cylinderRadius * 1.08, cylinderRadius * 0.72)}" class="thin"/>
<text class="softText" font-size="${cylinderRadius * 0.8}" dy="0.36em" text-anchor="middle">${cylinder}</text></g>`,
)}
${geometry.bores.map((bore) => drawnBore(bore, known.get(bore.name), ring, pitch, first))}
</svg>`;
}

function drawnBore(
  bore: PlacedBore,
  found: ResultBore | undefined,
  ring: number,
  pitch: number,
  first: UnitFirst,
): Markup {
  const side = bore.labelSide;
  const anchor = side === 1 ? "start" : "end";
  const nameSize = Math.min(17, pitch * 0.38);
  const figureSize = Math.min(12.5, pitch * 0.3);
  const nameX = side * ring * 2.45;
  const nameWidth = Math.max(2.2, 0.72 * bore.name.length) * nameSize;
  // Two columns of figures that read the same way on either bank: the first unit left, the other right of it.
  const left = side === 1 ? nameX + nameWidth + 6 : nameX - nameWidth - 6 - FIGURES * figureSize;
  const lengths = found === undefined ? [] : figuresOf(found);
  return markup`<g transform="translate(${bore.x} ${bore.y})"><path d="${cross(ring * 1.3, 0)}" class="thin"/>
${verdictDrawing(found?.verdict ?? "not measured", found?.preferred ?? false, ring, side === 1 ? -1 : 1)}
<text x="${nameX}" dy="0.36em" font-size="${nameSize}" font-weight="600" text-anchor="${anchor}">${bore.name}</text>
${lengths.map((nm, line) => {
  const y = (line - (lengths.length - 1) / 2) * figureSize * 1.2;
  const [one, other] = first === "in" ? [inches(nm), micrometres(nm)] : [micrometres(nm), inches(nm)];
  const split = first === "in" ? 5.2 : 3.8;
  return markup`<text x="${left + split * figureSize}" y="${y}" dy="0.36em" font-size="${figureSize}" text-anchor="end">${one}</text><text x="${left + FIGURES * figureSize}" y="${y}" dy="0.36em" font-size="${figureSize}" text-anchor="end" class="softText">${other}</text>`;
})}</g>`;
}

/** Width of both columns of figures, in heights of their letters. */
const FIGURES = 9.4;

/** Largest and smallest station clearance, nm; once where they are the same. */
function figuresOf({ clearanceMinNm, clearanceMaxNm }: ResultBore): number[] {
  if (clearanceMinNm === null || clearanceMaxNm === null) return [];
  return clearanceMinNm === clearanceMaxNm ? [clearanceMaxNm] : [clearanceMaxNm, clearanceMinNm];
}

/** Four strokes of a centre mark, from `from` to `to` off the centre. */
function cross(to: number, from: number): string {
  return `M ${-to} 0 H ${-from} M ${from} 0 H ${to} M 0 ${-to} V ${-from} M 0 ${from} V ${to}`;
}

/** Which end is the front: a word and an arrow towards it. */
function endMarks({ frontAtTop, outline }: PlanGeometry, size: { readonly height: number }): Markup {
  const top = 20;
  const bottom = size.height - 8;
  const [front, rear] = frontAtTop ? [top, bottom] : [bottom, top];
  const way = frontAtTop ? -1 : 1;
  return markup`<text x="${outline.x + 8}" y="${front}" font-size="14" class="softText">FRONT</text>
<path d="M ${outline.x + 66} ${front - 5 - 6 * way} V ${front - 5 + 6 * way} m -4 ${-5 * way} l 4 ${5 * way} l 4 ${-5 * way}" class="thin"/>
<text x="${outline.x + 8}" y="${rear}" font-size="14" class="softText">REAR</text>`;
}
