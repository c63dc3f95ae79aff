import { toNm } from "../length/nm.ts";
import { boreStatus, type QifStatus, stationStatus } from "./qifStatus.ts";
import {
  type Element,
  type Ids,
  millimetres,
  token,
  writeAttributes,
  writeIds,
  writeLength,
  writeText,
} from "./qifText.ts";
import type { Result } from "./result.ts";

type Bore = Result["bores"][number];
type Station = Bore["stations"][number];

/** The kinds of characteristic, in the order in which a bore's are listed. */
const KINDS = {
  station: {
    name: "clearance at a station",
    measures:
      "Diametral clearance at one station, at 20 °C: bore diameter less the diameter of the lifter meant for it.",
  },
  bore: {
    name: "clearance of a bore",
    measures:
      "Smallest and largest diametral clearance over the stations of a bore, at 20 °C. The bore fits if both are inside the limits.",
  },
  taper: { name: "taper", measures: "Range over heights of the mean diameter over clock directions." },
  outOfRound: {
    name: "out-of-round",
    measures:
      "Range of diameter over clock directions at a height, largest of the heights. A two-point gauge does not see three-lobed form.",
  },
} as const;
type Kind = keyof typeof KINDS;

const isClearance = (kind: Kind): boolean => kind === "station" || kind === "bore";

/** A characteristic of one bore, and what was found of it. */
export interface Characteristic {
  readonly id: number;
  readonly bore: Bore;
  readonly kind: Kind;
  /** With kind `station`. */
  readonly station: Station | null;
}

/**
 * Which characteristics a bore has: a taper needs two heights, an out-of-round two clock directions. The heights of a
 * study are the people who measured.
 */
function kindsOf(bores: readonly Bore[], study: boolean): Kind[] {
  if (study) return ["station", "bore"];
  const stations = bores[0]?.stations ?? [];
  const several = (values: readonly string[]) => new Set(values).size > 1;
  return [
    "station",
    "bore",
    ...(several(stations.map((station) => station.height)) ? (["taper"] as const) : []),
    ...(several(stations.map((station) => station.clock)) ? (["outOfRound"] as const) : []),
  ];
}

/**
 * Writes what is to be measured: definitions with the limits, nominals with the middle of the preferred band as target,
 * and one item for each bore and kind (for each station, of its clearance). `features` are the ids of the bores.
 */
export function writeCharacteristics(
  root: Element,
  ids: Ids,
  { bores, limits }: Result,
  {
    standard,
    features,
    study,
  }: { readonly standard: number; readonly features: readonly number[]; readonly study: boolean },
): Characteristic[] {
  const kinds = kindsOf(bores, study);
  const characteristics = root.ele("Characteristics");
  writeText(characteristics, "FormalStandardId", String(standard));
  const definitions = characteristics.ele("CharacteristicDefinitions", { n: kinds.length });
  const definitionIds = kinds.map((kind) => {
    const id = ids.next();
    const definition = definitions.ele("UserDefinedLinearCharacteristicDefinition", { id });
    writeText(definition, "Name", KINDS[kind].name);
    if (isClearance(kind)) {
      const tolerance = definition.ele("Tolerance");
      writeLength(tolerance, "MaxValue", limits.highNm);
      writeLength(tolerance, "MinValue", limits.lowNm);
      writeText(tolerance, "DefinedAsLimit", "true");
    } else writeText(definition, "NonTolerance", "MEASURED");
    writeText(definition, "WhatToMeasure", KINDS[kind].measures);
    return id;
  });
  const nominals = characteristics.ele("CharacteristicNominals", { n: kinds.length });
  const nominalIds = new Map(
    kinds.map((kind, index) => [kind, writeNominal(nominals, ids, kind, definitionIds[index] ?? 0, limits)]),
  );
  const written = bores.flatMap((bore, index) => {
    const of = (kind: Kind, station: Station | null) => ({
      id: ids.next(),
      bore,
      kind,
      station,
      feature: features[index] ?? 0,
    });
    return kinds.flatMap((kind) =>
      kind === "station" ? bore.stations.map((station) => of(kind, station)) : [of(kind, null)],
    );
  });
  const items = characteristics.ele("CharacteristicItems", { n: written.length });
  for (const { id, bore, kind, station, feature } of written) {
    const item = items.ele("UserDefinedLinearCharacteristicItem", { id });
    const where = station === null ? KINDS[kind].name : `${station.height} ${station.clock}`;
    writeText(item, "Name", token(`${bore.name} ${where}`));
    writeIds(item, "FeatureItemIds", [feature]);
    writeText(item, "CharacteristicNominalId", String(nominalIds.get(kind)));
  }
  return written;
}

function writeNominal(nominals: Element, ids: Ids, kind: Kind, definition: number, limits: Result["limits"]): number {
  const id = ids.next();
  const nominal = nominals.ele("UserDefinedLinearCharacteristicNominal", { id });
  const { preferredLowNm: low, preferredHighNm: high } = limits;
  const preferred = isClearance(kind) && low !== null && high !== null ? { low, high } : null;
  // The standard knows limits, and no band inside them that one aims for.
  if (preferred !== null) {
    writeAttributes(nominal, [
      ["preferred low, mm", millimetres(preferred.low)],
      ["preferred high, mm", millimetres(preferred.high)],
    ]);
  }
  writeText(nominal, "CharacteristicDefinitionId", String(definition));
  writeText(nominal, "Name", KINDS[kind].name);
  if (preferred !== null) writeLength(nominal, "TargetValue", toNm((preferred.low + preferred.high) / 2));
  return id;
}

/** Writes what was measured, one measurement a characteristic. `devices` are the ids of the gauges. */
export function writeMeasurements(
  parent: Element,
  ids: Ids,
  result: Result,
  characteristics: readonly Characteristic[],
  {
    devices,
    study,
    centringNm,
  }: { readonly devices: readonly number[]; readonly study: boolean; readonly centringNm: number },
): void {
  const list = parent.ele("MeasuredCharacteristics").ele("CharacteristicMeasurements", { n: characteristics.length });
  for (const characteristic of characteristics) {
    const measurement = list.ele("UserDefinedLinearCharacteristicMeasurement", { id: ids.next() });
    writeAttributes(measurement, aboutMeasurement(characteristic));
    writeText(
      measurement.ele("Status"),
      "CharacteristicStatusEnum",
      study ? "NOT_ANALYZED" : statusOf(characteristic, result, centringNm),
    );
    writeText(measurement, "CharacteristicItemId", String(characteristic.id));
    writeIds(measurement, "MeasurementDeviceIds", devices);
    writeValues(measurement, characteristic);
  }
}

/** Taper and out-of-round have no limits of their own: they are measured and not judged. */
function statusOf({ bore, kind, station }: Characteristic, result: Result, centringNm: number): QifStatus {
  if (station !== null) return stationStatus(result, bore, station, centringNm);
  return kind === "bore" ? boreStatus(bore) : "NOT_ANALYZED";
}

function writeValues(measurement: Element, { bore, kind, station }: Characteristic): void {
  const write = (name: string, length: number | null, attributes?: Readonly<Record<string, string>>) => {
    if (length !== null) writeLength(measurement, name, length, attributes);
  };
  if (station !== null) {
    write("Value", station.clearanceNm, { combinedUncertainty: millimetres(combinedOf(station)) });
  } else if (kind === "bore") {
    write("MaxValue", bore.clearanceMaxNm);
    write("MinValue", bore.clearanceMinNm);
  } else write("Value", kind === "taper" ? bore.taperNm : bore.outOfRoundNm);
}

/** Combined standard uncertainty, nm, whole: the root sum of squares of the budget. Source: GUM (JCGM 100:2008) 5.1.2. */
function combinedOf(station: Station): number {
  return Math.round(Math.hypot(...station.budget.map((line) => line.contributionNm)));
}

function aboutMeasurement({ bore, kind, station }: Characteristic): [string, string][] {
  if (station !== null) return aboutStation(station);
  if (kind === "bore") {
    return [
      ["verdict", bore.verdict],
      ["in the preferred band", String(bore.preferred)],
      ...only("confidence", bore.confidence?.toFixed(4)),
      ...only("lifter", bore.lifter),
    ];
  }
  return expanded(kind === "taper" ? bore.taperUncertaintyNm : bore.outOfRoundUncertaintyNm);
}

function aboutStation(station: Station): [string, string][] {
  const kept: [string, string] = ["sweeps kept", String(station.sweeps.filter((sweep) => sweep.use === "kept").length)];
  if (station.uncertaintyNm === null) return [kept];
  return [
    kept,
    ...expanded(station.uncertaintyNm),
    ["coverage", String(station.coverage)],
    ["effective degrees of freedom", station.degreesOfFreedom?.toFixed(2) ?? "infinite"],
  ];
}

const expanded = (length: number | null) =>
  only("expanded uncertainty, mm", length === null ? null : millimetres(length));

function only(name: string, value: string | null | undefined): [string, string][] {
  return value === null || value === undefined ? [] : [[name, value]];
}
