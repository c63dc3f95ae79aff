import type { Bore, StationPlace } from "../../core/block/layout.ts";
import { layoutById } from "../../core/block/layouts.ts";
import type { FitInput, Limits, MeasuredStation } from "../../core/fit/finding.ts";
import { MATERIALS } from "../../core/fit/materials.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import type { LifterRules } from "../../core/pairing/lifterRule.ts";
import type { RemedyInput } from "../../core/remedy/boresInHand.ts";
import type { Sweep } from "../../core/sweep/sweep.ts";

/** A bore as measured: what the gauge read over its zero at each place, and its lifter, nm; null for one not measured. */
export interface PlainBore {
  readonly name: string;
  readonly readings: readonly number[];
  readonly lifterNm: number | null;
}

export interface PlainBlock {
  readonly bores: readonly PlainBore[];
  readonly limits?: Partial<Limits>;
  readonly rules?: LifterRules;
  readonly style?: RemedyInput["style"];
  /** Transfer and maximum error of the micrometer: the only lines of the budget; nm. */
  readonly transferNm?: number;
  readonly micrometerNm?: number;
  readonly nominalNm?: number;
  /** Spare lifters by name. */
  readonly spares?: Readonly<Record<string, number>>;
  readonly rule?: FitInput["rule"];
}

export const PLAIN_LIMITS: Limits = {
  lowNm: toNm(33_000),
  highNm: toNm(48_000),
  preferredLowNm: toNm(38_000),
  preferredHighNm: toNm(43_000),
  serviceHighNm: null,
  source: "test",
};

const HEIGHTS = ["upper", "middle", "lower"];

function sweepsAt(tMs: number, nm: number): Sweep[] {
  const value = toNm(nm);
  return [0, 1, 2].map(() => ({
    tMs,
    rawMinNm: value,
    turningPointNm: value,
    samples: 9,
    method: "rhythm",
    use: "kept",
  }));
}

/** A block at 20 °C whose budget is two lines known exactly, with the micrometer set to the first bore's lifter. */
export function plainBlock(block: PlainBlock): RemedyInput {
  const steel = MATERIALS.steel;
  const iron = MATERIALS["grey-iron"];
  if (steel === undefined || iron === undefined) throw new Error("no such material");
  const { bores, rules = {}, style = "flat", spares = {} } = block;
  const places: StationPlace[] = Array.from(
    { length: Math.max(...bores.map(({ readings }) => readings.length)) },
    (_, at) => ({ height: HEIGHTS[at] ?? `height ${at}`, clock: "axial" }),
  );
  const stations: MeasuredStation[] = bores.flatMap(({ name, readings }, index) =>
    readings.map((reading, at) => {
      const tMs = 10_000 + (index * places.length + at) * 1_000;
      return {
        bore: name,
        place: places[at] as StationPlace,
        tMs,
        valueNm: toNm(reading),
        spreadNm: toNm(0),
        sweeps: sweepsAt(tMs, reading),
      };
    }),
  );
  const lifters = new Map<string, Nm>();
  for (const { name, lifterNm } of bores) if (lifterNm !== null) lifters.set(name, toNm(lifterNm));
  for (const [name, diameterNm] of Object.entries(spares)) lifters.set(name, toNm(diameterNm));
  const zero = (kind: "zero" | "return", tMs: number) => ({
    kind,
    tMs,
    valueNm: toNm(0),
    spreadNm: toNm(0),
    sweeps: sweepsAt(tMs, 0),
    lifter: bores[0]?.name ?? null,
    returnNm: toNm(0),
    held: true,
  });
  const fit: FitInput = {
    bores: bores.map(({ name }) => name),
    places,
    stations,
    references: [zero("zero", 1_000), zero("return", 1_000_000)],
    lifters,
    nominalLifterNm: toNm(block.nominalNm ?? 21_384_000),
    limits: { ...PLAIN_LIMITS, ...block.limits },
    rule: block.rule ?? "guarded",
    sends: "held",
    resolutionNm: toNm(0),
    micrometerResolutionNm: toNm(0),
    gain: 1,
    materials: { block: iron, lifter: steel },
    temperatures: [],
    budget: {
      indicatorNm: toNm(0),
      transferNm: toNm(block.transferNm ?? 800),
      micrometerNm: toNm(block.micrometerNm ?? 735),
      centringNm: toNm(0),
      temperatureHalfWidthC: 0,
    },
  };
  const layout: readonly Bore[] = layoutById("v8-alternate").bores;
  return { fit, layout, rules, style };
}
