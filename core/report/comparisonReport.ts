import type { BoreFinding, FitInput } from "../fit/finding.ts";
import { type Nm, toNm } from "../length/nm.ts";
import { smallLength } from "../remedy/bothUnits.ts";
import { type BoreChange, boreChanges, type ChangeGroup } from "../remedy/change/boreChanges.ts";
import type { SetLifters } from "../remedy/change/setLifters.ts";
import { stationChanges } from "../remedy/change/stationChanges.ts";
import type { Job } from "../session/job.ts";
import type { BrokenSeal, Recording } from "../session/recording.ts";
import { type PlannedBore, plannedBores } from "./comparisonPlan.ts";
import type { Comparison } from "./comparisonSchema.ts";
import { comparisonText } from "./comparisonText.ts";
import { remedySession } from "./remedyReport.ts";
import type { Remedy } from "./remedySchema.ts";

/** A session as it is compared: as read from its file, or open. */
export interface ComparedSession {
  readonly header: { readonly created: string };
  readonly recording: Recording;
  readonly broken?: readonly BrokenSeal[];
  readonly differences?: readonly string[];
}

/** What a person can say beside the two sessions. */
export interface ComparisonWish {
  /** What was planned after the earlier session; its own remedy unless given, null for no plan at all. */
  readonly plan?: Pick<Remedy, "bores" | "block"> | null;
  /** The later session's lifters are others than the earlier one's that bear the same names. */
  readonly newLifters?: boolean;
}

/** Thrown for two sessions that can not be compared; the message says why and what was expected. */
export class ComparisonError extends Error {
  override readonly name = "ComparisonError";
}

/**
 * A later session of a block laid over an earlier one: what was cut or worn away at each place, with its uncertainty, and
 * whether that is what was planned. Lengths in nm at 20 °C; a change is positive where the bore is larger now.
 * @throws ComparisonError for sessions the wrong way round, the same one twice, layouts in which the bores have other
 * places, or no bore or place that both have.
 */
export function compareSessions(
  before: ComparedSession,
  after: ComparedSession,
  wish: ComparisonWish = {},
): Comparison {
  const jobs = { before: before.recording.job, after: after.recording.job };
  requireOrder(before, after);
  requireSameBlock(jobs.before, jobs.after);
  const inputs = { before: before.recording.run.fitInput(), after: after.recording.run.fitInput() };
  const plan = wish.plan === undefined ? remedySession(before.recording) : wish.plan;
  const planned = plan === null ? null : plannedBores(plan);
  const { stations, lifters } = stationChanges(inputs.before, inputs.after, {
    newLifters: wish.newLifters === true,
    doubts: doubts(jobs, inputs.before, plan),
  });
  const { bores, groups } = boreChanges(stations, (bore) => planned?.get(bore)?.cuts !== true);
  const found = {
    before: new Map(before.recording.run.findings().map((finding) => [finding.name, finding])),
    after: new Map(after.recording.run.findings().map((finding) => [finding.name, finding])),
  };
  const anyCut = [...(planned?.values() ?? [])].some(({ cuts }) => cuts);
  return {
    format: "borewright/comparison",
    version: 1,
    before: headOf(before),
    after: headOf(after),
    bores: bores.map((bore) => boreShown(bore, found, planned, anyCut)),
    levels: groups.map(levelShown),
    notes: notesOf({ before, after, inputs, lifters, groups, bores, anyCut }),
  };
}

function requireOrder(before: ComparedSession, after: ComparedSession): void {
  const [then, now] = [before, after].map(({ header }) => Date.parse(header.created)) as [number, number];
  if (then === now) {
    throw new ComparisonError(
      `Both sessions were begun at ${before.header.created}: it is the same one twice, or one derived from the other. Expected one from before the work and one from after it.`,
    );
  }
  if (then > now) {
    throw new ComparisonError(
      `The sessions are the wrong way round: the earlier one was begun at ${before.header.created}, the later one at ${after.header.created}. Expected the earlier one first: swap them.`,
    );
  }
}

/** The same names must mean the same bores, and something must be measured in both. */
function requireSameBlock(before: Job, after: Job): void {
  const places = new Map(before.layout.bores.map((bore) => [bore.name, bore]));
  const elsewhere = after.layout.bores.find((bore) => {
    const then = places.get(bore.name);
    return then !== undefined && (then.bank !== bore.bank || then.along !== bore.along);
  });
  if (elsewhere !== undefined) {
    throw new ComparisonError(
      `Bore ${elsewhere.name} is in another place: the earlier session has the layout "${before.layout.title}", the later one "${after.layout.title}". Expected two sessions of one block, with one layout.`,
    );
  }
  if (!after.walk.some((bore) => before.walk.includes(bore))) {
    throw new ComparisonError(
      `No bore is in both walks: the earlier session has ${listed(before.walk)}, the later one ${listed(after.walk)}. Expected two sessions of one block.`,
    );
  }
  if (!after.stations.some((place) => before.stations.some((other) => isSame(place, other)))) {
    const shown = (job: Job) => listed(job.stations.map(({ height, clock }) => `${height} ${clock}`));
    throw new ComparisonError(
      `No place in the bores was measured in both sessions: the earlier one has ${shown(before)}, the later one ${shown(after)}. Expected at least one of the same name and direction.`,
    );
  }
}

type Place = Job["stations"][number];
const isSame = (one: Place, other: Place) => one.height === other.height && one.clock === other.clock;

const MOST_LISTED = 6;

function listed(names: readonly string[]): string {
  const more = names.length - MOST_LISTED;
  return more > 1 ? `${names.slice(0, MOST_LISTED).join(", ")} and ${more} more` : names.join(", ");
}

/** Lifters that need not be what they were in the earlier session, and why. */
function doubts(
  jobs: { readonly before: Job; readonly after: Job },
  { fitted }: FitInput,
  plan: ComparisonWish["plan"],
): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const goes = new Map([
    ...(fitted ?? []),
    ...(plan?.block.plan ?? []).map(({ bore, lifter }) => [bore, lifter] as const),
  ]);
  for (const [bore, lifter] of goes) {
    if (lifter === undefined || lifter === bore) continue;
    found.set(
      bore,
      "may be another one than then, since lifters were to change places and are named after their bores",
    );
  }
  for (const [name, { used }] of Object.entries(jobs.after.lifters)) {
    if (used === true && jobs.before.lifters[name]?.used !== true) {
      found.set(name, "has run since the earlier session and may have worn");
    }
  }
  return found;
}

function headOf({ header, recording }: ComparedSession): Comparison["before"] {
  return { title: recording.job.title, block: recording.job.block, created: header.created };
}

type Findings = Readonly<Record<"before" | "after", ReadonlyMap<string, BoreFinding>>>;

function boreShown(
  bore: BoreChange,
  found: Findings,
  planned: ReadonlyMap<string, PlannedBore> | null,
  anyCut: boolean,
): Comparison["bores"][number] {
  const { name, stations, change, besideOthers } = bore;
  const changes = stations.flatMap((station) => (station.change === null ? [] : [station.change.valueNm]));
  const plan = planned?.get(name) ?? null;
  const [before, after] = [found.before.get(name), found.after.get(name)];
  const verdicts = { before: before?.verdict ?? "not measured", after: after?.verdict ?? "not measured" } as const;
  const { text, attention } = comparisonText({ bore, plan, hasPlan: planned !== null, anyCut, verdicts, after });
  const cut = plan?.cuts === true ? plan : null;
  return {
    name,
    stations: stations.map(({ place, beforeNm, afterNm, change: own, expandedNm }) => ({
      height: place.height,
      clock: place.clock,
      ...changeShown(beforeNm, afterNm, own?.valueNm ?? null),
      uncertaintyNm: rounded(expandedNm),
    })),
    changeMinNm: changes.length === 0 ? null : toNm(Math.min(...changes)),
    changeMaxNm: changes.length === 0 ? null : toNm(Math.max(...changes)),
    besideOthersNm: rounded(besideOthers?.valueNm ?? null),
    besideOthersUncertaintyNm: rounded(besideOthers?.expandedNm ?? null),
    change,
    verdictBefore: verdicts.before,
    verdictAfter: verdicts.after,
    planned: plan?.kind ?? null,
    ...(cut?.finishLowNm == null ? {} : { finishLowNm: cut.finishLowNm }),
    ...(cut?.finishHighNm == null ? {} : { finishHighNm: cut.finishHighNm }),
    text,
    attention,
  };
}

const rounded = (nm: number | null): Nm | null => (nm === null ? null : toNm(nm));

/** Rounded so that the change is the one diameter less the other, as they are shown. */
function changeShown(beforeNm: number | null, afterNm: number | null, changeNm: number | null) {
  const then = rounded(beforeNm);
  const change = rounded(changeNm);
  const now = then === null || change === null ? rounded(afterNm) : toNm(then + change);
  return { beforeNm: then, afterNm: now, changeNm: change };
}

function levelShown({ bores, level }: ChangeGroup): NonNullable<Comparison["levels"]>[number] {
  return {
    bores: [...bores],
    from: [...(level?.from ?? [])],
    changeNm: rounded(level?.valueNm ?? null),
    uncertaintyNm: rounded(level?.expandedNm ?? null),
  };
}

function notesOf(about: {
  readonly before: ComparedSession;
  readonly after: ComparedSession;
  readonly inputs: Readonly<Record<"before" | "after", FitInput>>;
  readonly lifters: readonly SetLifters[];
  readonly groups: readonly ChangeGroup[];
  readonly bores: readonly BoreChange[];
  readonly anyCut: boolean;
}): string[] {
  const { before, after, inputs, lifters, groups, bores, anyCut } = about;
  const jobs = { before: before.recording.job, after: after.recording.job };
  const notes: string[] = [];
  if (before.recording.simulated || after.recording.simulated) {
    notes.push("Simulated gauges: nothing was measured, and this proves nothing about a block.");
  }
  const plain = (name: string) => name.trim().toLowerCase();
  if (plain(jobs.before.block) !== plain(jobs.after.block)) {
    const named = (job: Job) => (job.block.trim() === "" ? "does not name its block" : `is of block "${job.block}"`);
    notes.push(
      `The earlier session ${named(jobs.before)}, the later one ${named(jobs.after)}. If they are not one and the same block, nothing here holds.`,
    );
  }
  for (const [which, { broken = [], differences = [] }] of [
    ["earlier", before],
    ["later", after],
  ] as const) {
    const [seal] = broken;
    if (seal !== undefined) notes.push(`The seal of the ${which} session is broken at line ${seal.line}: ${seal.why}.`);
    if (differences.length > 0) {
      notes.push(`The raw lines of the ${which} session do not give what was recorded: recheck it first.`);
    }
  }
  notes.push(...lifters.map(({ text }) => text));
  notes.push(...onlyInOne("Bore", jobs.before.walk, jobs.after.walk));
  const shown = ({ stations }: Job) => stations.map(({ height, clock }) => `${height} ${clock}`);
  notes.push(...onlyInOne("Place", shown(jobs.before), shown(jobs.after)));
  for (const part of ["block", "lifter"] as const) {
    const [then, now] = [inputs.before.materials[part], inputs.after.materials[part]];
    if (then.id !== now.id || then.alpha !== now.alpha) {
      notes.push(
        `The ${part} is of ${then.id} in the earlier session and of ${now.id} in the later one: one of them is wrong, and away from 20 °C it shows as a change.`,
      );
    }
  }
  for (const { bores: group, level } of groups) notes.push(levelText(group, level, groups.length > 1));
  if (!anyCut && bores.some(({ change }) => change === "larger")) {
    notes.push(
      "Nothing was to be cut after the earlier session, so a bore that is larger now is worn, or was worked on.",
    );
  }
  return notes;
}

function levelText(bores: readonly string[], level: ChangeGroup["level"], several: boolean): string {
  const which = several ? `Of the bores measured with ${listed(bores)}, those` : "Those";
  if (level === null) {
    return `${which} that nothing was to be done to are too few, or moved together by more than the settings of the micrometer explain: each bore is judged by itself, by all of its errors.`;
  }
  return `${which} that nothing was done to (${listed(level.from)}) show ${smallLength(level.valueNm)} ± ${smallLength(level.expandedNm)} alike, as much as setting the micrometer twice explains: each bore is judged beside them.`;
}

function onlyInOne(what: string, before: readonly string[], after: readonly string[]): string[] {
  const gone = before.filter((name) => !after.includes(name));
  const fresh = after.filter((name) => !before.includes(name));
  const say = (names: readonly string[], which: string) =>
    names.length === 0
      ? []
      : [`${what}${names.length === 1 ? "" : "s"} ${listed(names)}: only in the ${which} session.`];
  return [...say(gone, "earlier"), ...say(fresh, "later")];
}
