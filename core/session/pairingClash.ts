import { isLifter, type Job } from "./job.ts";

/**
 * Why the assignments can not be carried out, as a sentence; null when they can: known bores and lifters, each at most
 * once, and no lifter that stays in a bore is also given to another.
 */
export function pairingClash(
  job: Job,
  assignments: readonly { readonly bore: string; readonly lifter: string }[],
): string | null {
  const lifterOf = new Map<string, string>();
  for (const { bore, lifter } of assignments) {
    if (!job.walk.includes(bore)) return `Found bore "${bore}"; expected a bore of the walk: ${job.walk.join(", ")}.`;
    if (!isLifter(job, lifter))
      return `Found lifter "${lifter}"; expected a lifter, named after its bore, or a spare one.`;
    if (lifterOf.has(bore))
      return `Bore ${bore} is given two lifters, ${lifterOf.get(bore)} and ${lifter}; expected one.`;
    lifterOf.set(bore, lifter);
  }
  const boreOf = new Map<string, string>();
  for (const bore of job.walk) {
    const lifter = lifterOf.get(bore) ?? bore;
    const other = boreOf.get(lifter);
    if (other !== undefined) return `Lifter ${lifter} is given to two bores, ${other} and ${bore}; expected one.`;
    boreOf.set(lifter, bore);
  }
  return null;
}
