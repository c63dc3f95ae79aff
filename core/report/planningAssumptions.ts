import type { Material } from "../fit/finding.ts";
import { type Nm, toNm } from "../length/nm.ts";
import { LengthError, parseLength } from "../length/parseLength.ts";
import { COLDEST_RUNNING_C, HOTTEST_RUNNING_C } from "../remedy/planning/runningClearance.ts";
import type { Job } from "../session/job.ts";
import { JobError } from "../session/jobError.ts";
import { parseJob } from "../session/jobFile.ts";
import type { Planning } from "./planningSchema.ts";

/** A material by the name it ships under, or with its own expansion, 1e-6 per °C. */
type GivenMaterial =
  | string
  | { readonly name: string; readonly alpha: number; readonly alphaHalfWidth?: number | undefined };

/** Assumptions as a person states them; one left out takes its default. */
export interface GivenAssumptions {
  readonly blockC?: number | undefined;
  readonly lifterC?: number | undefined;
  readonly blockMaterial?: GivenMaterial | undefined;
  readonly lifterMaterial?: GivenMaterial | undefined;
  readonly viscosityPaS?: number | undefined;
  readonly pressureBar?: number | undefined;
  /** With its unit. */
  readonly guidedLength?: string | undefined;
  readonly eccentricity?: number | undefined;
}

/** Assumptions as the figures are computed from them. */
export interface PlanningAssumptions {
  readonly blockC: number;
  readonly lifterC: number;
  readonly blockMaterial: Material;
  readonly lifterMaterial: Material;
  readonly viscosityPaS: number;
  readonly pressurePa: number;
  readonly guidedNm: Nm;
  readonly eccentricity: number;
}

/** Thrown for an assumption that makes no sense: `path` says which, the message what was found and what was expected. */
export class PlanningError extends Error {
  override readonly name = "PlanningError";
  readonly path: string;
  constructor(path: string, message: string) {
    super(`${path}: ${message}`);
    this.path = path;
  }
}

type Shown = Planning["assumptions"][number];

/** A number that is assumed unless another is given: what it is, between what bounds (both included), and why so much. */
interface AssumedNumber {
  readonly title: string;
  readonly unit: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly mark: Shown["mark"];
  readonly text: string;
}

const WARM = {
  unit: "°C",
  value: 90,
  least: COLDEST_RUNNING_C,
  most: HOTTEST_RUNNING_C,
  mark: "our choice",
} as const;

const NUMBERS: Readonly<Record<"blockC" | "lifterC" | "viscosityPaS" | "pressureBar" | "eccentricity", AssumedNumber>> =
  {
    blockC: {
      ...WARM,
      title: "block when running",
      text: "A warm engine at the lifter bores; measured on the engine it is better than guessed.",
    },
    lifterC: {
      ...WARM,
      title: "lifter when running",
      text: "As warm as the block: both stand in the same oil. After a cold start the lifter may be ahead of the block.",
    },
    viscosityPaS: {
      title: "dynamic viscosity of the warm oil",
      unit: "Pa·s",
      value: 0.01,
      least: 0.0005,
      most: 10,
      mark: "our choice",
      text: "Of the order of an engine oil that is warm; the oil maker's sheet gives its own, and it halves or doubles with some twenty degrees.",
    },
    pressureBar: {
      title: "oil pressure along the lifter",
      unit: "bar",
      value: 3,
      least: 0,
      most: 100,
      mark: "our choice",
      text: "Pressure in the gallery over that behind the lifter; the leak is in proportion to it.",
    },
    eccentricity: {
      title: "how far off its axis the lifter runs",
      unit: "",
      value: 1,
      least: 0,
      most: 1,
      mark: "our choice",
      text: "0 is in the middle, 1 against one side, where the cam pushes it and 2.5 times as much leaks.",
    },
  };

const GUIDED = {
  title: "length over which the bore guides the lifter",
  value: "30 mm",
  leastNm: 1_000_000,
  mostNm: 200_000_000,
};

/**
 * The assumptions that planning figures are made from, and how they are shown: each with its mark and its reason.
 * @throws PlanningError for one outside its bounds, a length without its unit, or a material that is not known.
 */
export function planningAssumptions(
  job: Job,
  given: GivenAssumptions,
): { readonly values: PlanningAssumptions; readonly shown: readonly Shown[] } {
  const numbers = Object.fromEntries(
    Object.entries(NUMBERS).map(([name, assumed]) => [
      name,
      numberOf(name, assumed, given[name as keyof typeof NUMBERS]),
    ]),
  ) as Record<keyof typeof NUMBERS, number>;
  const values: PlanningAssumptions = {
    blockC: numbers.blockC,
    lifterC: numbers.lifterC,
    blockMaterial: materialOf("blockMaterial", given.blockMaterial, job.materials.block),
    lifterMaterial: materialOf("lifterMaterial", given.lifterMaterial, job.materials.lifter),
    viscosityPaS: numbers.viscosityPaS,
    pressurePa: numbers.pressureBar * 1e5,
    guidedNm: guidedOf(given.guidedLength ?? GUIDED.value),
    eccentricity: numbers.eccentricity,
  };
  const number = (name: keyof typeof NUMBERS): Shown => {
    const { title, unit, mark, text } = NUMBERS[name];
    return { name, title, value: numbers[name], unit, mark: given[name] === undefined ? mark : "given", text };
  };
  const material = (name: "blockMaterial" | "lifterMaterial", title: string): Shown => ({
    name,
    title,
    value: values[name].id,
    unit: "",
    mark: given[name] === undefined ? "from the job" : "given",
    text: `${values[name].alpha} ± ${values[name].alphaHalfWidth} · 1e-6 per °C (${values[name].source}).`,
  });
  return {
    values,
    shown: [
      number("blockC"),
      number("lifterC"),
      material("blockMaterial", "material of the block"),
      material("lifterMaterial", "material of the lifter"),
      number("viscosityPaS"),
      number("pressureBar"),
      {
        name: "guidedLength",
        title: GUIDED.title,
        value: given.guidedLength ?? GUIDED.value,
        unit: "",
        mark: given.guidedLength === undefined ? "our choice" : "given",
        text: "Measure it on the block: leak and tilt are both in inverse proportion to it.",
      },
      number("eccentricity"),
    ],
  };
}

function numberOf(path: string, { value, least, most, unit }: AssumedNumber, given: number | undefined): number {
  if (given === undefined) return value;
  if (given >= least && given <= most) return given;
  throw new PlanningError(
    path,
    `found ${given}${unit === "" ? "" : ` ${unit}`}; expected ${least} to ${most} ${unit}`.trimEnd(),
  );
}

function guidedOf(text: string): Nm {
  let guidedNm: Nm;
  try {
    guidedNm = parseLength(text);
  } catch (error) {
    if (error instanceof LengthError) throw new PlanningError("guidedLength", error.message);
    throw error;
  }
  if (guidedNm >= GUIDED.leastNm && guidedNm <= GUIDED.mostNm) return toNm(guidedNm);
  throw new PlanningError("guidedLength", `found "${text}"; expected 1 mm to 200 mm`);
}

function materialOf(
  path: "blockMaterial" | "lifterMaterial",
  given: GivenMaterial | undefined,
  otherwise: Material,
): Material {
  if (given === undefined) return otherwise;
  try {
    return parseJob({ format: "borewright/job", version: 1, materials: { block: given } }).materials.block;
  } catch (error) {
    if (!(error instanceof JobError)) throw error;
    const inside = error.path.replace(/^materials\.block/, path);
    throw new PlanningError(inside, error.message.slice(error.path.length + 2));
  }
}
