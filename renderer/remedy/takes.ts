import type { Remedy } from "../../core/report/remedySchema.ts";
import { cuts, type RemedyBore, type RemedyOption, takenOption } from "./kinds.ts";

/** What a person takes for single bores in place of the plan's choice: the key of an option, by bore. */
export type Takes = Readonly<Record<string, string>>;

/** Tells the options of one bore apart. */
export function optionKey({ kind, lifter, lifterNm, finishHighNm }: RemedyOption): string {
  return `${kind} ${lifter ?? ""} ${lifterNm} ${finishHighNm ?? ""}`;
}

/**
 * Why an option can not be taken beside what the plan does to the other bores; null when it can. A bore may always be
 * left as it is: that is the person's to decide.
 */
export function whyNotTaken(remedy: Remedy, bore: RemedyBore, option: RemedyOption): string | null {
  if (!option.possible && option.kind !== "leave") return option.why;
  const other = remedy.block.plan.find(({ bore: name, lifter }) => name !== bore.name && lifter === option.lifter);
  if (option.lifter === undefined || other === undefined) return null;
  return other.moves === true ? `By the plan lifter ${option.lifter} goes into ${other.bore}.` : null;
}

/** What is taken for a bore: by the person, else by the plan. */
export function optionFor(remedy: Remedy, takes: Takes, bore: RemedyBore): RemedyOption | null {
  const key = takes[bore.name];
  const own = key === undefined ? undefined : bore.options.find((option) => optionKey(option) === key);
  return own !== undefined && whyNotTaken(remedy, bore, own) === null ? own : takenOption(remedy, bore);
}

/**
 * The remedy with what the person takes in its plan, for the sheet and the table. Sizes are those of the options as they
 * came; whole-block figures other than counts are left out, since they are not worked out for it.
 */
export function withTakes(remedy: Remedy, takes: Takes): Remedy {
  const own = remedy.bores.flatMap((bore) => {
    const option = optionFor(remedy, takes, bore);
    const planned = takenOption(remedy, bore);
    if (option === null || (planned !== null && optionKey(option) === optionKey(planned))) return [];
    return [{ bore, option }];
  });
  if (own.length === 0) return remedy;
  const changed = new Map(own.map(({ bore, option }) => [bore.name, option]));
  const plan = remedy.bores.flatMap(({ name }): Remedy["block"]["plan"] => {
    const option = changed.get(name);
    if (option === undefined) return remedy.block.plan.filter(({ bore }) => bore === name);
    if (option.kind === "leave") return [];
    const { kind, lifter, lifterNm, finishLowNm, finishHighNm, removeNm, removeAtLargestNm } = option;
    return [
      {
        bore: name,
        kind,
        ...(lifter === undefined ? {} : { lifter }),
        lifterNm,
        moves: kind === "pair",
        finishLowNm,
        finishHighNm,
        removeNm,
        ...(removeAtLargestNm === undefined ? {} : { removeAtLargestNm }),
        clearanceLowNm: option.clearanceLowNm ?? null,
        clearanceHighNm: option.clearanceHighNm ?? null,
        measureOn: option.measureOn ?? null,
      },
    ];
  });
  const left = own.filter(({ option }) => option.kind === "leave" && !option.possible);
  const { plan: _, boresTouched: __, metalNm: ___, allFit, open = [], near = [], ...rest } = remedy.block;
  const stillOpen = [
    ...open.filter(({ bore }) => !changed.has(bore)),
    ...left.map(({ bore }) => ({ bore: bore.name, why: "left as it is by choice" })),
  ];
  // Of what was chosen by hand and is not cut, nobody has worked out how surely it would be found again.
  const narrow = [
    ...near.filter((bore) => !changed.has(bore)),
    ...own.flatMap(({ bore, option }) => (option.possible && !cuts(option.kind) ? [bore.name] : [])),
  ];
  return {
    ...remedy,
    bores: remedy.bores.map((bore) => {
      const option = changed.get(bore.name);
      return option === undefined ? bore : { ...bore, chosen: option.kind };
    }),
    block: {
      ...rest,
      plan,
      boresTouched: plan.filter(({ kind }) => cuts(kind)).length,
      ...(allFit === undefined ? {} : { allFit: stillOpen.length === 0 && narrow.length === 0 }),
      near: narrow,
      open: stillOpen,
    },
  };
}
