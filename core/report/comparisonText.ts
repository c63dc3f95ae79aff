import type { BoreFinding, Verdict } from "../fit/finding.ts";
import { coverageFactor } from "../fit/gum.ts";
import { toNm } from "../length/nm.ts";
import { diameterText, smallLength, smallRange } from "../remedy/bothUnits.ts";
import type { BoreChange } from "../remedy/change/boreChanges.ts";
import { uncertaintyOf, weighted } from "../remedy/change/errorSources.ts";
import type { PlannedBore } from "./comparisonPlan.ts";

/** What is said of a bore after the work. */
export interface ComparedBore {
  readonly bore: BoreChange;
  /** Null where the plan has nothing for it. */
  readonly plan: PlannedBore | null;
  /** False where no plan is known at all. */
  readonly hasPlan: boolean;
  /** Whether the plan cuts any bore of the block. */
  readonly anyCut: boolean;
  readonly verdicts: { readonly before: Verdict; readonly after: Verdict };
  readonly after: BoreFinding | undefined;
}

interface Said {
  readonly text: string;
  /** Whether the person should look. */
  readonly attention: boolean;
}

const WORK = {
  leave: "nothing",
  pair: "another lifter",
  hone: "honing",
  body: "opening for a larger lifter",
  bush: "a bush",
} as const;

/** Whether the work did what was planned, in whole sentences, and whether someone should look at the bore. */
export function comparisonText(compared: ComparedBore): Said {
  const { bore, plan } = compared;
  const { text, attention } =
    bore.change === "not known"
      ? notKnown(compared)
      : plan?.cuts === true
        ? planned(compared, plan)
        : unplanned(compared);
  const { before, after } = compared.verdicts;
  const verdict =
    after === "not measured" ? [] : [before === after ? `Then and now: ${after}.` : `Then ${before}, now ${after}.`];
  return { text: [text, ...verdict].join(" "), attention };
}

function notKnown({ bore, plan }: ComparedBore): Said {
  const why = [...new Set(bore.stations.flatMap((station) => (station.why === null ? [] : [station.why])))].join(" ");
  const was = plan?.cuts === true ? `Planned was ${WORK[plan.kind]}. ` : "";
  return { text: `${was}The change is not known. ${why}`.trimEnd(), attention: plan?.cuts === true };
}

function planned(compared: ComparedBore, { kind, finishLowNm, finishHighNm }: PlannedBore): Said {
  const { bore, verdicts } = compared;
  const work = capital(WORK[kind]);
  if (bore.change === "none seen") {
    return { text: `${work} was planned, and no change is seen: ${amount(bore)}.`, attention: true };
  }
  if (bore.change === "smaller" && kind !== "bush") {
    return { text: `${work} was planned, and it is smaller: ${amount(bore)}. ${NOT_BACK}`, attention: true };
  }
  const said = [`${work} was planned: ${amount(bore)}${removed(bore)}.`];
  let attention = false;
  const sizes = bore.stations.flatMap(({ change, afterNm, expandedNm }) =>
    change === null || afterNm === null || expandedNm === null ? [] : [{ afterNm, expandedNm }],
  );
  if (finishLowNm !== null && finishHighNm !== null && sizes.length > 0) {
    const largest = sizes.reduce((one, other) => (other.afterNm > one.afterNm ? other : one));
    const smallest = sizes.reduce((one, other) => (other.afterNm < one.afterNm ? other : one));
    const over = largest.afterNm - finishHighNm;
    const under = finishLowNm - smallest.afterNm;
    // Off by less than its uncertainty and found to fit, it needs no second look.
    const matters = (by: number, expandedNm: number) => by > 0 && (by > expandedNm || verdicts.after !== "fits");
    if (over > 0) said.push(`It is ${smallLength(over)} beyond the size not to pass, ${diameterText(finishHighNm)}.`);
    if (under > 0) {
      said.push(`It lacks ${smallLength(under)} of the smallest finished size, ${diameterText(finishLowNm)}.`);
    }
    if (over <= 0 && under <= 0) said.push("It is within the finished sizes.");
    attention = matters(over, largest.expandedNm) || matters(under, smallest.expandedNm);
  }
  return { text: said.join(" "), attention };
}

/** Changes closer than this are printed as one, nm. */
const SAME_NM = 200;

const NOT_BACK =
  "Metal does not grow back: see whether it is the same bore, whether it was bushed, and whether the zero was right.";

function unplanned({ bore, plan, hasPlan, anyCut, after }: ComparedBore): Said {
  const pairing = plan?.kind === "pair" ? " Another lifter was planned for it." : "";
  const was = !hasPlan ? "" : plan === null ? " The plan had nothing for it." : " No metal was to be cut in it.";
  switch (bore.change) {
    case "larger": {
      const wear = after?.wear == null ? "" : ` ${after.wear}`;
      const what = anyCut ? "It was touched, or it wore" : "It wore, or was worked on";
      return { text: `${capital(amount(bore))}.${was} ${what}.${wear}`, attention: true };
    }
    case "smaller":
      return { text: `${capital(amount(bore))}.${was} ${NOT_BACK}`, attention: true };
    default:
      return { text: `No change is seen: ${amount(bore)}.${was}${pairing}`, attention: false };
  }
}

/** By how much, with its uncertainty: beside the bores left alone where there are such. */
function amount({ change, stations, besideOthers }: BoreChange): string {
  const { valueNm, expandedNm } = besideOthers ?? meanChange(stations);
  const size = `${smallLength(Math.abs(valueNm))} ± ${smallLength(expandedNm)}`;
  const way = change === "none seen" ? (toNm(valueNm) < 0 ? "-" : "") : valueNm < 0 ? "smaller by " : "larger by ";
  return `${way}${size}${besideOthers === null ? "" : " beside the bores left alone"}`;
}

function meanChange(stations: BoreChange["stations"]) {
  const changes = stations.flatMap(({ change }) => (change === null ? [] : [change]));
  const mean = weighted(changes.map((size) => ({ size, weight: 1 / changes.length })));
  const { u, degreesOfFreedom } = uncertaintyOf(mean);
  return { valueNm: mean.valueNm, expandedNm: coverageFactor(0.95, degreesOfFreedom) * u };
}

/** How much is gone from place to place, where that differs by more than can be read. */
function removed({ stations }: BoreChange): string {
  const changes = stations.flatMap(({ change }) => (change === null ? [] : [change.valueNm]));
  const [least, most] = [Math.min(...changes), Math.max(...changes)];
  if (least <= 0 || most - least < SAME_NM) return "";
  return `; ${smallRange(least, most)} removed on diameter, place by place`;
}

const capital = (text: string) => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
