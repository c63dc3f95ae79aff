import type { StudyReading } from "../../core/fit/gaugeStudy.ts";
import type { Random } from "./simulatedBlock.ts";

/** True standard deviations of a simulated study. */
export interface Truth {
  readonly part: number;
  readonly appraiser: number;
  readonly interaction: number;
  readonly repeatability: number;
}

/** A study of parts by people who differ as `truth` says, every reading drawn anew. */
export function simulateStudy(random: Random, truth: Truth, parts = 10, appraisers = 4, trials = 3): StudyReading[] {
  const people = Array.from({ length: appraisers }, () => truth.appraiser * random.normal());
  return Array.from({ length: parts }, (_, part) => {
    const size = truth.part * random.normal();
    return people.flatMap((person, appraiser) => {
      const together = size + person + truth.interaction * random.normal();
      return Array.from({ length: trials }, () => ({
        part: `${part}`,
        appraiser: `${appraiser}`,
        value: together + truth.repeatability * random.normal(),
      }));
    });
  }).flat();
}
