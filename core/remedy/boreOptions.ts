import type { BoreFinding, FitInput } from "../fit/finding.ts";
import type { LifterFit, LifterFits, SizedBore } from "../fit/lifterFits.ts";
import { fittedLifter } from "../fit/stationFit.ts";
import { type Nm, toNm } from "../length/nm.ts";
import { isFar } from "../pairing/pairingPool.ts";
import { doubledDeviation } from "../pairing/pairingTarget.ts";
import { diameterText, smallRange } from "./bothUnits.ts";
import { type Finish, finishFor } from "./finish.ts";
import { boughtLifter, isStandIn, type LifterIn, lifterNow, measuredLifter, statedDiameter } from "./lifterIn.ts";
import type { RemedyKind, RemedyOption } from "./remedyOption.ts";
import { largerBodies } from "./standardBodies.ts";
import { UNKNOWN } from "./unknowns.ts";

/** Everything the options of one bore are made from. */
export interface BoreInHand {
  readonly input: FitInput;
  readonly fits: LifterFits;
  readonly bore: SizedBore;
  readonly finding: BoreFinding;
  /** Lifters that may go in this bore, by name, its present one among them. */
  readonly allowed: readonly string[];
}

const NOTHING = toNm(0);

/** The bore as it is, with the lifter it has. */
export function leaveOption({ input, bore, finding }: BoreInHand): RemedyOption {
  const lifter = lifterNow(input, bore, finding);
  const { verdict, clearanceMinNm, clearanceMaxNm } = finding;
  return {
    ...uncut("leave", bore, lifter),
    possible: verdict === "fits",
    why: whyLeave(finding),
    clearanceLowNm: clearanceMinNm,
    clearanceHighNm: clearanceMaxNm,
  };

  function whyLeave({ advice, wear }: BoreFinding): string {
    if (verdict === "fits") return finding.preferred ? "It fits, in the preferred band." : "It fits.";
    if (verdict === "undecided")
      return `Undecided, so it can not be left before it is decided. ${advice ?? ""}`.trimEnd();
    const range = smallRange(clearanceMinNm ?? 0, clearanceMaxNm ?? 0);
    const limits = smallRange(input.limits.lowNm, input.limits.highNm);
    return [`${capital(verdict)}: ${range}; allowed ${limits}.`, ...(wear === null ? [] : [wear])].join(" ");
  }
}

/** The bore as it is, with another measured lifter. */
export function pairOption({ input, bore }: BoreInHand, lifter: string, fit: LifterFit): RemedyOption {
  const range = smallRange(fit.clearanceMinNm, fit.clearanceMaxNm);
  const verdict = fit.verdict === "fits" && fit.preferred ? "fits, in the preferred band" : fit.verdict;
  return {
    ...uncut("pair", bore, measuredLifter(lifter, input.lifters.get(lifter) as Nm)),
    possible: fit.verdict === "fits",
    why: `Lifter ${lifter} would leave ${range}: ${verdict}.`,
    clearanceLowNm: fit.clearanceMinNm,
    clearanceHighNm: fit.clearanceMaxNm,
  };
}

/**
 * The best other lifter for this bore by itself: one that fits before one that is undecided, then preferred, then nearest
 * to the middle of the preferred band. Others may want it too: the plan for the block settles that.
 */
export function bestPairOption(hand: BoreInHand): RemedyOption {
  const { input, fits, bore, finding } = hand;
  const now = finding.lifter;
  if (now === null || isStandIn(input, bore, finding)) {
    return { ...uncut("pair", bore, lifterNow(input, bore, finding)), why: whyNone() };
  }
  const others = hand.allowed
    .filter((lifter) => lifter !== now)
    .map((lifter) => ({ lifter, fit: fits.of(bore.name, lifter) }));
  const [best] = others.sort(
    (a, b) =>
      rank(b.fit) - rank(a.fit) ||
      Math.abs(doubledDeviation(a.fit, input.limits)) - Math.abs(doubledDeviation(b.fit, input.limits)),
  );
  if (best === undefined) {
    return {
      ...uncut("pair", bore, lifterNow(input, bore, finding)),
      why: "No other measured lifter may go in this bore.",
    };
  }
  const option = pairOption(hand, best.lifter, best.fit);
  return option.possible ? option : { ...option, why: `No other lifter is found to fit. The nearest: ${option.why}` };

  function whyNone(): string {
    if (input.lifters.size === 0) return "No lifter was measured, so there is none to choose from.";
    if (fittedLifter(input, bore.name).name === null)
      return "Its own lifter was not measured, so it can not be compared with others: measure it first.";
    return "It is not known which measured lifter the micrometer was set to, so no other can be compared: zero again and name it.";
  }
}

/** Opened by honing to suit `lifter`; with the lifter it has, unless another is meant. */
export function honeOption(
  hand: BoreInHand,
  lifter: LifterIn = lifterNow(hand.input, hand.bore, hand.finding),
): RemedyOption {
  return cutOption("hone", hand, lifter, finishFor(hand.input, hand.bore, lifter, true));
}

/** Opened for a lifter with a body of so many nm, which is still to be bought. */
export function bodyOption(hand: BoreInHand, bodyNm: Nm): RemedyOption {
  const lifter = boughtLifter(bodyNm);
  const option = cutOption("body", hand, lifter, finishFor(hand.input, hand.bore, lifter, true));
  const larger = bodyNm > statedDiameter(hand.bore, lifterNow(hand.input, hand.bore, hand.finding));
  return larger
    ? option
    : { ...option, possible: false, why: `${diameterText(bodyNm)} is no larger body than the present one.` };
}

/** Bored out, bushed, and the bush finished inside to suit `lifter`. */
export function bushOption(
  hand: BoreInHand,
  lifter: LifterIn = lifterNow(hand.input, hand.bore, hand.finding),
): RemedyOption {
  return cutOption("bush", hand, lifter, finishFor(hand.input, hand.bore, lifter, false));
}

/** A bush for a lifter that is still to be bought. */
export function bushForBody(hand: BoreInHand, bodyNm: Nm): RemedyOption {
  return bushOption(hand, boughtLifter(bodyNm));
}

/**
 * Every way to deal with a bore by itself, least effort first. `ownBody` is a lifter body (nm) that the user asks about,
 * for a bush and as a larger body.
 */
export function boreOptions(hand: BoreInHand, ownBody: Nm | null = null): readonly RemedyOption[] {
  return [
    leaveOption(hand),
    bestPairOption(hand),
    honeOption(hand),
    ...largerBodies(hand.input.nominalLifterNm, ownBody).map((body) => bodyOption(hand, body)),
    bushOption(hand),
    ...(ownBody === null ? [] : [bushForBody(hand, ownBody)]),
  ];
}

function rank({ verdict, preferred }: LifterFit): number {
  if (verdict === "fits") return preferred ? 3 : 2;
  return verdict === "undecided" ? 1 : 0;
}

function uncut(kind: RemedyKind, bore: SizedBore, lifter: LifterIn): RemedyOption {
  return {
    kind,
    lifterNm: statedDiameter(bore, lifter),
    lifter: lifter.name,
    finishLowNm: null,
    finishHighNm: null,
    removeNm: NOTHING,
    removeAtLargestNm: NOTHING,
    possible: false,
    why: "",
    clearanceLowNm: null,
    clearanceHighNm: null,
    measureOn: null,
    unknown: UNKNOWN[kind],
  };
}

function cutOption(kind: RemedyKind, { bore, input }: BoreInHand, lifter: LifterIn, finish: Finish): RemedyOption {
  const option = uncut(kind, bore, lifter);
  const doubt = misread(bore, lifter, option.lifterNm, input);
  // No bore is honed by so much; what a bush is for may be as large.
  if (doubt !== null && kind === "hone") return { ...option, why: doubt };
  const middle = (finish.lowNm + finish.highNm) / 2;
  const opened = kind !== "bush" && finish.possible;
  const some = finish.highNm >= finish.lowNm;
  return {
    ...option,
    finishLowNm: some ? finish.lowNm : null,
    finishHighNm: some ? finish.highNm : null,
    removeNm: opened ? toNm(middle - bore.minNm) : NOTHING,
    removeAtLargestNm: opened ? toNm(middle - bore.maxNm) : NOTHING,
    possible: finish.possible,
    why: [...(doubt === null ? [] : [doubt]), finish.why, ...restsOn(lifter, option.lifterNm)].join(" "),
    clearanceLowNm: some ? finish.clearanceLowNm : null,
    clearanceHighNm: some ? finish.clearanceHighNm : null,
    measureOn: finish.possible ? finish.measureOn : null,
  };
}

/** Why bore and lifter can not both be what they read; null where they can. */
function misread(bore: SizedBore, lifter: LifterIn, lifterNm: Nm, { limits }: BoreInHand["input"]): string | null {
  if (lifter.known !== "measured" || !isFar(bore, lifterNm, limits)) return null;
  return `It measures ${diameterText(bore.minNm)} and lifter ${lifter.name ?? ""} ${diameterText(lifterNm)}: one of the two is misread, by a turn of the micrometer perhaps. Read both again before any metal is cut.`;
}

/** What a finished size rests on where the lifter itself was not measured. */
function restsOn({ known }: LifterIn, lifterNm: Nm): readonly string[] {
  if (known === "measured") return [];
  const which = known === "stands in" ? "Its lifter was not measured" : "That lifter is still to be bought";
  return [
    `${which}: stated for one of ${diameterText(lifterNm)}. Measure it first, and move the finished size by as much as it differs.`,
  ];
}

const capital = (text: string) => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
