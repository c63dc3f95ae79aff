import type { Clock, StationPlace } from "../block/layout.ts";
import { toNm } from "../length/nm.ts";
import type { Job } from "../session/job.ts";
import type { SessionRun } from "../session/sessionRun.ts";
import { zeroAt } from "../zero/zeroAt.ts";
import type { StudyCell, StudyTable } from "./studyTable.ts";

/** Most stations that a bore of a job may have. */
const MOST_STATIONS = 24;
const TRIAL = /^(.+), repeat ([1-9]\d?)$/;

/** Who measures, and how often each bore. */
export interface StudyPlan {
  readonly people: readonly string[];
  readonly repeats: number;
  readonly clock: Clock;
}

/**
 * The stations of a study's job: at every bore each person in turn, and then each again, so that nobody repeats his own
 * reading at once unless he is alone. A study is so an ordinary session, whose stations say who measured.
 */
export function studyStations({ people, repeats, clock }: StudyPlan): StationPlace[] {
  return Array.from({ length: repeats }, (_, repeat) =>
    people.map((person) => ({ height: `${person}, repeat ${repeat + 1}`, clock })),
  ).flat();
}

/** Why people and repeats make no study that can be run, as a sentence; null when they do. */
export function whyNoStudy(people: readonly string[], repeats: number): string | null {
  if (people.length === 0) return "Nobody is named; name at least one person.";
  const twice = people.find((person, index) => people.indexOf(person) !== index);
  if (twice !== undefined) return `${twice} is named twice; name each person once.`;
  const long = people.find((person) => person.length > 25);
  if (long !== undefined) return `"${long}" is too long; use at most 25 letters.`;
  if (!Number.isInteger(repeats) || repeats < 2) return "Each bore is measured at least twice by everyone.";
  if (people.length * repeats > MOST_STATIONS) {
    return `${people.length} people × ${repeats} repeats are ${people.length * repeats} a bore; at most ${MOST_STATIONS} fit.`;
  }
  return null;
}

/** The plan of a study's job, read back from its stations; null when the job is of an ordinary walk. */
export function studyPlanOf(job: Pick<Job, "stations">): StudyPlan | null {
  const people: string[] = [];
  let repeats = 0;
  for (const { height } of job.stations) {
    const match = TRIAL.exec(height);
    if (match === null) return null;
    const [, person = "", repeat] = match;
    if (!people.includes(person)) people.push(person);
    repeats = Math.max(repeats, Number(repeat));
  }
  const plan = { people, repeats, clock: job.stations[0]?.clock ?? "axial" };
  const expected = studyStations(plan);
  const same = expected.every((place, index) => {
    const found = job.stations[index];
    return found !== undefined && found.height === place.height && found.clock === place.clock;
  });
  return same && expected.length === job.stations.length && repeats >= 2 ? plan : null;
}

/**
 * The readings of a study's session so far: gain × (station value − the zero in force at its time), nm; a reading whose zero
 * moved or is missing is left out. Null when the session is of an ordinary walk.
 */
export function studyTableOf(run: SessionRun): StudyTable | null {
  const plan = studyPlanOf(run.job);
  if (plan === null) return null;
  const { limits, walk, title } = run.job;
  const { stations, references, gain } = run.fitInput();
  const cells = walk.flatMap((bore) =>
    plan.people.map((person): StudyCell => {
      const valuesNm = stations.flatMap(({ bore: at, place, tMs, valueNm }) => {
        if (at !== bore || TRIAL.exec(place.height)?.[1] !== person) return [];
        const zero = zeroAt(references, tMs);
        return zero.state === "held" || zero.state === "unchecked" ? [toNm(gain * (valueNm - zero.valueNm))] : [];
      });
      return { person, bore, valuesNm };
    }),
  );
  return {
    title,
    source: "a session recorded as a gauge study",
    people: plan.people,
    bores: walk,
    repeats: plan.repeats,
    bandNm: toNm(limits.highNm - limits.lowNm),
    cells,
  };
}
