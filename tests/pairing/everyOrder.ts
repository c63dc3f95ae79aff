import type { RandomBlock } from "./randomBlocks.ts";

/** An order of the lifters as their indices, bore by bore in walking order. */
export type Order = readonly number[];

/**
 * Every order that keeps the rules, found without the solver: bores take lifters one after the other, and each rule is
 * asked of whole orders in the words of the job file. Orders come with the first bore's earliest lifter first.
 */
export function everyOrder(block: RandomBlock, visit: (order: Order) => void): void {
  const { bores, lifters } = block;
  const may = bores.map(({ name }) => lifters.map((lifter) => mayGo(block, name, lifter)));
  const order: number[] = [];
  next();

  function next(): void {
    const allowed = may[order.length];
    if (allowed === undefined) {
      if (keepsRules(block, order)) visit(order);
      return;
    }
    for (let index = 0; index < lifters.length; index += 1) {
      if (allowed[index] !== true || order.includes(index)) continue;
      order.push(index);
      next();
      order.pop();
    }
  }
}

/** What can be said of one lifter in one bore. */
function mayGo({ rules, style, bores }: RandomBlock, bore: string, lifter: string): boolean {
  const rule = rules[lifter] ?? {};
  const tiedPlace = rules[bore]?.pairedWith !== undefined;
  if (tiedPlace !== (rule.pairedWith !== undefined)) return false;
  if (rule.used && style === "flat" && bore !== lifter) return false;
  if (rule.pinned === true && bore !== lifter) return false;
  if (typeof rule.pinned === "string" && bore !== rule.pinned) return false;
  if (rule.keptFrom?.includes(bore)) return false;
  const valve = bores.find(({ name }) => name === bore)?.valve;
  const partner = rule.pairedWith ?? "";
  const mayTurn = rule.mayTurn === true || rules[partner]?.mayTurn === true;
  if (tiedPlace && !mayTurn && valve !== valveOf(lifter, partner)) return false;
  return true;
}

/** Of a spare pair the one measured first is the intake lifter: S1 before S2. */
function valveOf(lifter: string, partner: string): string {
  if (lifter.startsWith("S")) return lifter < partner ? "I" : "E";
  return lifter.includes("I") ? "I" : "E";
}

function keepsRules({ bores, lifters, rules, style }: RandomBlock, order: Order): boolean {
  if (Object.values(rules).every(({ used, pinned, pairedWith }) => !used && !pinned && !pairedWith)) return true;
  const boreOf = (lifter: string) => bores[order.indexOf(lifters.indexOf(lifter))]?.name;
  return lifters.every((lifter) => {
    const { used, pinned, pairedWith, spare } = rules[lifter] ?? {};
    const bore = boreOf(lifter);
    if (used && style === "flat" && !spare && bore !== lifter) return false;
    if (pinned === true && bore !== lifter) return false;
    if (typeof pinned === "string" && bore !== pinned) return false;
    if (pairedWith === undefined) return true;
    const other = boreOf(pairedWith);
    return bore === undefined ? other === undefined : rules[bore]?.pairedWith === other;
  });
}

/**
 * What orders are worth by the words of the contract, least first. Deviations are in half nanometres and squares of them
 * below 2^53, so that all of it is exact.
 */
export function worthInWords({ bores, lifters, limits, fitOf }: RandomBlock): (order: Order) => number[] {
  const { lowNm, highNm, preferredLowNm, preferredHighNm } = limits;
  const third = (highNm - lowNm) / 3;
  const twice =
    preferredLowNm === null && preferredHighNm === null
      ? lowNm + highNm
      : Math.round((preferredLowNm ?? lowNm + third) + (preferredHighNm ?? highNm - third));
  const cells = bores.map(({ name }) =>
    lifters.map((lifter) => {
      const fit = fitOf(name, lifter);
      const deviation = fit.clearanceMinNm + fit.clearanceMaxNm - twice;
      return { deviation, fits: fit.verdict === "fits", preferred: fit.preferred, moves: name !== lifter };
    }),
  );
  return (order) => {
    let [outside, notPreferred, worst, squares, moved] = [0, 0, 0, 0, 0];
    for (let at = 0; at < order.length; at += 1) {
      const cell = cells[at]?.[order[at] as number];
      if (cell === undefined) continue;
      if (!cell.fits) outside += 1;
      if (!cell.preferred) notPreferred += 1;
      worst = Math.max(worst, Math.abs(cell.deviation));
      squares += cell.deviation ** 2;
      if (cell.moves) moved += 1;
    }
    return [outside, notPreferred, worst, squares, moved];
  };
}
