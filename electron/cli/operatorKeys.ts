import type { StationPlace } from "../../core/block/layout.ts";
import type { OperatorAction } from "../../core/bridge/messages.ts";
import { LengthError, parseLength } from "../../core/length/parseLength.ts";
import { isLifter, type Job } from "../../core/session/job.ts";

/** Thrown for a typed line that means nothing; the message says what was expected. */
export class KeyError extends Error {
  override readonly name = "KeyError";
}

/**
 * Reads what an operator types during a walk: `take`, `strike`, `back`, `hold`, `go on`, `go 5I [upper axial]`,
 * `step zero [1I]`, `step step-check [0.0010 in]`, `temperature 21.5 20.8`, `note …`.
 * @throws KeyError
 */
export function parseKeys(typed: string, job: Job): OperatorAction {
  const [word = "", ...rest] = typed.trim().split(/\s+/);
  switch (word) {
    case "take":
    case "strike":
    case "back":
      return { type: word };
    case "hold":
      return { type: "hold", on: true };
    case "go":
      return rest[0] === "on" ? { type: "hold", on: false } : parseGo(rest, job);
    case "step":
      return parseStep(rest, job);
    case "temperature":
      return { type: "temperature", blockC: celsius(rest[0]), lifterC: celsius(rest[1]) };
    case "note":
      return { type: "note", text: rest.join(" ").slice(0, 2000) };
    default:
      throw new KeyError(
        `found "${word}"; expected take, strike, back, hold, go on, go BORE, step NAME, temperature or note`,
      );
  }
}

function parseGo(words: readonly string[], job: Job): OperatorAction {
  const [bore = "", height, clock] = words;
  if (!job.walk.includes(bore))
    throw new KeyError(`found "${bore}"; expected a bore of the walk: ${job.walk.join(", ")}`);
  if (height === undefined) return { type: "go", bore };
  const place = job.stations.find((station) => station.height === height && (clock ?? station.clock) === station.clock);
  if (place === undefined) {
    throw new KeyError(
      `found "${[height, clock].join(" ").trim()}"; expected one of ${job.stations.map(print).join(", ")}`,
    );
  }
  return { type: "go", bore, station: { ...place } };
}

const print = (place: StationPlace) => `${place.height} ${place.clock}`;

function parseStep(words: readonly string[], job: Job): OperatorAction {
  const [step, ...rest] = words;
  switch (step) {
    case "lifters":
    case "bores":
      return { type: "step", step };
    case "zero":
    case "return": {
      const lifter = rest[0];
      if (lifter !== undefined && !isLifter(job, lifter)) {
        throw new KeyError(`found lifter "${lifter}"; expected a lifter, named after its bore, such as ${job.walk[0]}`);
      }
      return { type: "step", step, ...(lifter === undefined ? {} : { lifter }) };
    }
    case "step-check":
      return { type: "step", step, ...(rest.length === 0 ? {} : { openedNm: parseOpened(rest.join(" ")) }) };
    default:
      throw new KeyError(`found step "${step ?? ""}"; expected lifters, zero, step-check, bores or return`);
  }
}

/** How far the micrometer was opened, nm. @throws KeyError unless it is a length above zero and at most 5 mm. */
export function parseOpened(text: string): number {
  try {
    const value = parseLength(text);
    if (value > 0 && value <= 5_000_000) return value;
  } catch (error) {
    if (!(error instanceof LengthError)) throw error;
    throw new KeyError(error.message);
  }
  throw new KeyError(`found "${text}"; expected a length above zero and at most 5 mm`);
}

function celsius(text: string | undefined): number {
  const value = Number(text);
  if (text === undefined || !Number.isFinite(value) || value < -40 || value > 150) {
    throw new KeyError("expected two temperatures in degrees Celsius: of the block, of the lifters");
  }
  return value;
}
