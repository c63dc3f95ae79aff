import type { Limits } from "../../fit/finding.ts";
import { preferredBand } from "../../fit/preferredBand.ts";
import type { Result } from "../result.ts";
import { inches, micrometres, type UnitFirst } from "./lengths.ts";
import { type Markup, markup } from "./markup.ts";
import type { ResultBore } from "./reportInput.ts";

const WIDTH = 700;
const HEIGHT = 212;
const TOP = 12;
const FOOT = 24;
const LEFT = 104;
const RIGHT = 74;
/** More bores than this are drawn in strips one below the other. */
const MOST_BORES = 16;

/** How far beyond the limits the chart goes at most, in widths of the band: farther out a value is an arrow. */
const MOST_BANDS = 1.5;
const LEAST_BANDS = 0.4;

interface Scale {
  readonly fromNm: number;
  readonly toNm: number;
}

/** Every station's clearance with its uncertainty against the limits, in the order of the walk; a strip for 16 bores. */
export function stripCharts({ bores, limits }: Pick<Result, "bores" | "limits">, first: UnitFirst): Markup {
  const strips = Math.max(1, Math.ceil(bores.length / MOST_BORES));
  const each = Math.max(1, Math.ceil(bores.length / strips));
  const scale = scaleOf(bores, limits);
  const parts = Array.from({ length: strips }, (_, index) => bores.slice(index * each, (index + 1) * each));
  return markup`${parts.map((part) => markup`<figure>${strip(part, each, limits, scale, first)}</figure>`)}`;
}

/** The limits and some room, widened to hold the values, but never so far that one wild value squashes the band. */
function scaleOf(bores: readonly ResultBore[], limits: Result["limits"]): Scale {
  const band = Math.max(1, limits.highNm - limits.lowNm);
  let low = limits.lowNm - band * LEAST_BANDS;
  let high = limits.highNm + band * LEAST_BANDS;
  for (const { clearanceNm, uncertaintyNm } of bores.flatMap((bore) => bore.stations)) {
    if (clearanceNm === null) continue;
    low = Math.min(low, clearanceNm - (uncertaintyNm ?? 0) - band * 0.1);
    high = Math.max(high, clearanceNm + (uncertaintyNm ?? 0) + band * 0.1);
  }
  return {
    fromNm: Math.max(low, limits.lowNm - band * MOST_BANDS),
    toNm: Math.min(high, limits.highNm + band * MOST_BANDS),
  };
}

function strip(
  bores: readonly ResultBore[],
  columns: number,
  limits: Result["limits"],
  scale: Scale,
  first: UnitFirst,
): Markup {
  const column = Math.min(64, (WIDTH - LEFT - RIGHT) / columns);
  const right = LEFT + column * Math.max(4, bores.length);
  const most = Math.max(1, ...bores.map((bore) => bore.stations.length));
  const apart = Math.min(10, (column - 6) / most);
  const plot = HEIGHT - TOP - FOOT;
  const y = (nm: number) => TOP + (plot * (scale.toNm - nm)) / (scale.toNm - scale.fromNm);
  const band = preferredBand(limits as Limits);
  const { serviceHighNm } = limits;
  return markup`<svg class="drawing" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="Clearances against the limits">
<rect x="${LEFT}" width="${right - LEFT}" y="${y(band.highNm)}" height="${y(band.lowNm) - y(band.highNm)}" class="band"/>
<text x="${right + 6}" y="${(y(band.lowNm) + y(band.highNm)) / 2 + 3.5}" font-size="10.5">preferred</text>
${line(y(limits.highNm), right, "largest", limits.highNm, "limit", first)}
${line(y(limits.lowNm), right, "smallest", limits.lowNm, "limit", first)}
${
  serviceHighNm !== null && serviceHighNm < scale.toNm && serviceHighNm !== limits.highNm
    ? line(y(serviceHighNm), right, "wear limit", serviceHighNm, "service", first)
    : null
}
${bores.map((bore, index) => {
  const middle = LEFT + column * (index + 0.5);
  return markup`<path d="M ${LEFT + column * (index + 1)} ${TOP} V ${TOP + plot}" class="column"/>
${bore.stations.map((station, nth) => point(station, middle + (nth - (bore.stations.length - 1) / 2) * apart, y, scale, plot))}
<text x="${middle}" y="${HEIGHT - 8}" font-size="${Math.min(11, column * 0.42)}" text-anchor="middle">${bore.name}</text>`;
})}
</svg>`;
}

function point(
  station: ResultBore["stations"][number],
  x: number,
  y: (nm: number) => number,
  scale: Scale,
  plot: number,
): Markup | null {
  const { clearanceNm, clock } = station;
  if (clearanceNm === null) return null;
  if (clearanceNm > scale.toNm) return markup`<path d="M ${x} ${TOP - 4} l -4.5 10 h 9 Z" class="full"/>`;
  if (clearanceNm < scale.fromNm) return markup`<path d="M ${x} ${TOP + plot + 4} l -4.5 -10 h 9 Z" class="full"/>`;
  const u = station.uncertaintyNm ?? 0;
  const at = y(clearanceNm);
  const shape =
    clock === "axial"
      ? markup`<circle cx="${x}" cy="${at}" r="3" class="full"/>`
      : markup`<rect x="${x - 3}" y="${at - 3}" width="6" height="6" class="square"/>`;
  return markup`<path d="M ${x} ${Math.min(TOP + plot, y(clearanceNm - u))} V ${Math.max(TOP, y(clearanceNm + u))}" class="whisker"/>${shape}`;
}

function line(at: number, right: number, word: string, nm: number, kind: string, first: UnitFirst): Markup {
  const [one, other] = first === "in" ? [inches(nm), micrometres(nm)] : [micrometres(nm), inches(nm)];
  const units = first === "in" ? ["in", "µm"] : ["µm", "in"];
  return markup`<path d="M ${LEFT} ${at} H ${right}" class="${kind}"/>
<text x="${LEFT - 6}" y="${at - 1}" font-size="10.5" text-anchor="end">${one} ${units[0] ?? ""}</text>
<text x="${LEFT - 6}" y="${at + 10}" font-size="9" text-anchor="end" class="softText">${other} ${units[1] ?? ""}</text>
<text x="${right + 6}" y="${at + 3.5}" font-size="10.5">${word}</text>`;
}
