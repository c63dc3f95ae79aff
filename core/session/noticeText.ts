import { formatLength } from "../length/formatLength.ts";
import type { Nm } from "../length/nm.ts";
import type { GaugeUnit } from "../length/unit.ts";

const show = (length: Nm, unit: GaugeUnit): string =>
  `${formatLength(length, unit, unit === "in" ? 5 : 4, true)} ${unit}`;

/** The sentences for the person at the bench: what was seen, then what to do. */
export const noticeText = {
  notUnderstood: (gauge: string, line: string, why: string) =>
    `Gauge "${gauge}" sent ${JSON.stringify(line.slice(0, 60))}, which is not a reading (${why}). It was not used; check the cable and the gauge's display.`,
  typedRefused: (gauge: string, line: string, why: string) =>
    `What was typed for gauge "${gauge}", ${JSON.stringify(line.slice(0, 60))}, was not used: ${why}.`,
  unitMark: (gauge: string, mark: GaugeUnit, unit: GaugeUnit) =>
    `Gauge "${gauge}" marks its readings ${mark}, but the job says ${unit}. They are read as ${mark}; switch the gauge or correct the job.`,
  linkLost: (gauge: string, path: string | null, why: string | null = null) => {
    const where = path === null ? "" : ` (${path})`;
    return why === null
      ? `Gauge "${gauge}" is no longer there${where}. Plug its cable in again; the walk waits and goes on by itself.`
      : `Gauge "${gauge}" is not listened to${where}. ${why} The walk waits and goes on by itself.`;
  },
  contactLost: () =>
    "The reading jumped as no rocking can make it: the contact was lost, perhaps over an oil hole. Move the gauge off the hole and sweep again.",
  frozen: (gauge: string) =>
    `Gauge "${gauge}" repeats one value. Check that no hold function is on and that its plunger moves.`,
  tooQuick: () => "That pass was too quick for the gauge's display to follow. Rock slower.",
  outlier: () => "One sweep lay far from its fellows and was set aside. Sweep again, square and centred.",
  noAgreement: () =>
    "Twelve sweeps without agreement. Clean bore and contacts, check that the gauge is centred and away from oil holes; sweep on, or strike and begin the station again.",
  reopened: () =>
    "Looked at again with the later ones, the sweeps that closed this station do not agree. It is open again: sweep on.",
  neverChecked: (bores: readonly string[]) =>
    `A new zero was taken before a return check of the one that ${bores.join(", ")} ${bores.length === 1 ? "rests" : "rest"} on. No check can follow any more: measure ${bores.length === 1 ? "it" : "them"} again, or the walk stays incomplete.`,
  outOfRange: (gauge: string) =>
    `Gauge "${gauge}" reads below anything a bore can be. Check that its contacts are free and that it is zeroed; nothing was kept.`,
  noZero: () => "There is no zero yet, so a reading in a bore says nothing. Take the zero in the micrometer first.",
  liftersDone: () => "Every lifter is measured already; that reading was not used. Go on to the zero, or strike one.",
  zeroMoved: (returnNm: Nm, holdNm: Nm, unit: GaugeUnit) =>
    `The zero has moved by ${show(returnNm, unit)}, more than the ${show(holdNm, unit).replace("+", "")} allowed. The bores since the last check that held are due again, and no verdict stands for them.`,
  returnDue: (interrupted: boolean) =>
    interrupted
      ? "The work was interrupted for long. Put the gauge back in the locked micrometer for a return check first."
      : "A return check is due. Put the gauge back in the locked micrometer.",
  temperature: (blockC: number, lifterC: number) =>
    `Block ${blockC} °C and lifter ${lifterC} °C differ by more than 2 °C. Let them come to one temperature before you trust the clearances.`,
  oddBore: (bore: string, distanceNm: Nm, unit: GaugeUnit) =>
    `Bore ${bore} lies ${show(distanceNm, unit)} from the middle of its fellows, far outside their scatter. Clean and measure it again; if it stays, it is worn or was machined apart.`,
  oddLifter: (lifter: string, distanceNm: Nm, unit: GaugeUnit) =>
    `Lifter ${lifter} lies ${show(distanceNm, unit)} from the middle of its fellows, far outside their scatter. Measure it again on its full-diameter bands; if it stays, it is worn or of another make.`,
  turnOut: (lifter: string, offNm: Nm, turnNm: Nm, unit: GaugeUnit) =>
    `Lifter ${lifter} reads ${show(offNm, unit)} off what is expected of it, one turn of the micrometer (${show(turnNm, unit).replace("+", "")}). Read the sleeve again and measure it once more.`,
  boresTrend: (trendNm: Nm, unit: GaugeUnit) =>
    `The bores read ${show(trendNm, unit)} differently from the first to the last, steadily with time. Is the block or the gauge warming or cooling? Measure both temperatures, and the first bore again.`,
  zeroCreeps: (creepNm: Nm, unit: GaugeUnit) =>
    `The zero has crept by ${show(creepNm, unit)} over the return checks, though each of them held. Something warms or cools: let gauge, micrometer and block come to one temperature, then take the zero again.`,
  polarityReversed: (gauge: string, why: string) =>
    `Gauge "${gauge}" counts the wrong way: ${why}. Flip the switch on the indicator or the polarity here, not both, and take the zero again.`,
  unitMismatch: (gauge: string, sent: string, readAs: string, why: string) =>
    `Gauge "${gauge}" seems to send ${sent} while it is read as ${readAs}: ${why}. Switch the gauge, or correct its unit here, and measure again.`,
  sameBore: (bore: string, before: string) =>
    `${bore} repeats ${before} at every station, closer than two bores of this block do by chance. Was ${before} measured twice? Measure ${bore} again.`,
  elsewhere: (station: string) =>
    `The sweeps since ${station} was good agree with each other but not with it: is the gauge at the next station already? Hold it still or take it out for a moment, then measure the next station.`,
  noStop: (sweeps: number, station: string) =>
    `${sweeps} sweeps since ${station} was good, without a stop; all of them count to it. If the gauge was moved, hold it still or take it out for a moment, then measure the next station.`,
  tornTail: (bytes: number) =>
    `The last record of the file was torn (${bytes} bytes, as after a power cut) and was set aside. Everything before it is whole.`,
  sealBroken: (line: number) => `The seal is broken at line ${line}; it opens for reading only.`,
} as const;
