import type { Film } from "./film.ts";

/** Something worth finding on the time line. */
export interface Mark {
  readonly tMs: number;
  readonly kind: "station" | "zero" | "lifter" | "strike" | "notice";
  /** What happened, in words. */
  readonly text: string;
}

/** Stretches of one bore or one step on the time line, without gaps or overlaps. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
  /** A bore's name, or the step where it is not in a bore. */
  readonly name: string;
  readonly isBore: boolean;
}

/** What the time line marks, in order of time. */
export function marksOf(film: Film): Mark[] {
  return film.moments.flatMap(({ tMs, outcomes }) =>
    outcomes.flatMap((outcome): Mark[] => {
      switch (outcome.type) {
        case "station":
          if (outcome.again) return [];
          return [{ tMs, kind: "station", text: `${outcome.bore} ${outcome.place.height} kept` }];
        case "zero":
          if (outcome.again) return [];
          return [{ tMs, kind: "zero", text: outcome.reference.held ? "zero taken" : "zero moved" }];
        case "lifter":
          return [{ tMs, kind: "lifter", text: `lifter ${outcome.name}` }];
        case "struck":
          return [{ tMs, kind: "strike", text: `${outcome.what} struck${outcome.bore ? `, ${outcome.bore}` : ""}` }];
        case "notice":
          return [{ tMs, kind: "notice", text: outcome.notice.text }];
        default:
          return [];
      }
    }),
  );
}

const STEP_WORDS = { lifters: "lifters", zero: "zero", "step-check": "step check", return: "return", bores: "bores" };

/** The session cut into the bores and steps that were worked on. */
export function stretchesOf(film: Film): Stretch[] {
  const stretches: Stretch[] = [];
  let fromMs = 0;
  let name = "";
  let isBore = false;
  const end = (toMs: number) => {
    if (name !== "" && toMs > fromMs) stretches.push({ fromMs, toMs, name, isBore });
    fromMs = toMs;
  };
  for (const { tMs, view } of film.moments) {
    const bore = view.step === "bores" && !view.complete ? (view.here?.bore ?? null) : null;
    const now = bore ?? (view.step === null || view.step === "bores" ? "" : STEP_WORDS[view.step]);
    if (now === name) continue;
    end(tMs);
    name = now;
    isBore = bore !== null;
  }
  end(film.endMs);
  return stretches;
}
