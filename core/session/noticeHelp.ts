import { canDecide } from "../fit/canDecide.ts";
import { toNm } from "../length/nm.ts";
import { judgeStep } from "../zero/stepCheck.ts";
import { parseJob } from "./jobFile.ts";
import type { NoticeCode } from "./notice.ts";
import { noticeText } from "./noticeText.ts";

/** What the help says of a notice. Facts of the trade in it are common practice, no source. */
export interface NoticeHelp {
  /** The trouble in a few words. */
  readonly title: string;
  /** What was seen in the data, and what it puts in doubt. */
  readonly means: string;
  /** Where the cause may lie, the likeliest first, each with how to tell. */
  readonly causes: readonly string[];
  /** What to do, in order. */
  readonly remedy: readonly string[];
  /** When it goes away. */
  readonly over: string;
}

export const NOTICE_HELP: Readonly<Record<NoticeCode, NoticeHelp>> = {
  "polarity-reversed": {
    title: "The gauge counts the wrong way",
    means:
      "The sign of every reading is turned round: a bore that is too large looks too tight. Bore gauges and their indicators differ in which way means larger, and many have a switch for it.",
    causes: [
      "The direction switch of the indicator was pressed: open the locked micrometer a little and see whether the reading grows.",
      "The profile was learnt from another gauge: compare it at Gauges with the display.",
    ],
    remedy: [
      "Accept the correction that the step check offers, or flip the switch on the indicator. One of the two, never both.",
      "Take the zero again and do the step check again.",
    ],
    over: "It goes away when a step check passes.",
  },
  "unit-mismatch": {
    title: "Inches are read as millimetres, or the other way round",
    means: "Readings are 25.4 times too large or too small for this gauge, this lifter and these limits.",
    causes: [
      "The unit key of the gauge was pressed: look at its display.",
      "The job says another unit than the gauge sends: compare both at Gauges, raw text beside what was understood.",
    ],
    remedy: [
      "Switch the gauge back, or accept the unit that the step check offers.",
      "What was measured before that is void: take the zero again and measure on.",
    ],
    over: "It goes away when the unit is corrected, a line in the right unit comes, or a step check passes.",
  },
  "zero-moved": {
    title: "The zero has moved",
    means:
      "The gauge no longer reads in the micrometer what it read when it was zeroed. Somewhere since the last check that held, every clearance is off by up to that much, and nobody can say where.",
    causes: [
      "The gauge was knocked, or an anvil or extension came loose: try each by hand.",
      "The micrometer was not locked, or was knocked: measure the lifter it was set to again.",
      "Dirt on a contact or a face: wipe both and rock once more.",
      "Gauge or micrometer has warmed in the hand: let it lie, then check again.",
    ],
    remedy: [
      "Find the cause and put it right.",
      "Take a new zero. The bores since the last check that held are due again; the walk leads to them.",
    ],
    over: "It goes away when the last bore that was due again has been measured.",
  },
  "too-quick": {
    title: "Rocked too quickly",
    means:
      "The display showed fewer than four readings on the way through square. The smallest of so few lies above the true minimum, so the sweep is not kept.",
    causes: ["The hand is brisk, or this display refreshes slowly: watch how often its last digit changes."],
    remedy: ["Rock more slowly; a second and a half to and fro suits most displays. A smaller swing helps as well."],
    over: "It goes away with the next sweep that is kept.",
  },
  "contact-lost": {
    title: "The reading jumped",
    means:
      "The reading changed further between two moments than rocking can change it, so a contact left the wall for an instant. The sweep is set aside.",
    causes: [
      "A contact ran over an oil hole or a groove: look where it stands.",
      "The gauge was tilted until a contact lifted, or was taken out in the middle of a sweep.",
      "A plunger that sticks: press it in by hand and let it come back.",
    ],
    remedy: ["Turn or raise the gauge until both contacts are clear of the hole, and sweep again."],
    over: "It goes away with the next sweep that is kept.",
  },
  "no-agreement": {
    title: "The sweeps do not agree",
    means:
      "Twelve sweeps, and no few in a row that repeat. The smallest number of all proves nothing: a gauge off the axis reads short, and so does a spike.",
    causes: [
      "Dirt, swarf or oil in the bore or on a contact: wipe both.",
      "The centring foot does not sit: the reading wanders as the gauge is turned.",
      "A loose anvil or a worn contact: it shows in the micrometer as well.",
      "The bore is scored or out of round just here: look at it under a lamp.",
    ],
    remedy: [
      "Clean bore and contacts and sweep on; or strike and begin the station again.",
      "Put the gauge in the micrometer: if it does not repeat there, it is the gauge.",
    ],
    over: "It goes away when the station closes or is begun again.",
  },
  outlier: {
    title: "One sweep lay far out",
    means:
      "Among five or more sweeps one lies further off than chance puts it once in a hundred times (Grubbs' test at 1 %). It is set aside and stays in the record.",
    causes: ["A sweep off the axis, over an edge, or begun on the way in."],
    remedy: ["Nothing, if it stays alone. If it keeps happening, see to the centring and to clean contacts."],
    over: "It goes away with the next sweep that is kept.",
  },
  "same-place": {
    title: "Perhaps at the next station already",
    means:
      "A station was good and the gauge went on being rocked without a stop, so later sweeps may belong to the next station while they are counted to this one.",
    causes: ["The gauge was moved on while rocking: nothing in the readings marks such a move."],
    remedy: [
      "After the tone hold the gauge still, or take it out, for a moment: that opens the next station.",
      "If sweeps of the next station were counted here, go back one station and measure it again.",
    ],
    over: "It goes away when the next station opens.",
  },
  frozen: {
    title: "The gauge repeats one value",
    means: "The reading has stood still for three seconds while the gauge should be moving. Nothing is kept from it.",
    causes: [
      "A hold or minimum function is on: look for its mark on the display.",
      "The plunger sticks, or its travel is at an end: press it by hand.",
      "The gauge lies still in the bore, or its transmitter has gone to sleep: move it.",
    ],
    remedy: ["Switch the hold off, free the plunger or wake the gauge, then sweep again."],
    over: "It goes away with the next sweep that is kept.",
  },
  "out-of-range": {
    title: "Below anything a bore can be",
    means: "The reading is far below the zero: no bore that takes this lifter reads so. Nothing is kept from it.",
    causes: [
      "The plunger is stuck at the inner end of its travel: press it and let it come back.",
      "The indicator was zeroed or preset since the zero was taken: a return check shows it.",
      "The wrong anvil, or an anvil that has slipped.",
    ],
    remedy: ["Free the contacts. If the indicator was preset, take a new zero."],
    over: "It goes away when a reading that a bore can give comes.",
  },
  "not-understood": {
    title: "A line that is not a reading",
    means:
      "The gauge sent text that its line format does not explain. It is kept in the record, counted and shown, and never guessed at.",
    causes: [
      "Speed or framing of the port is wrong: the raw text at Gauges is nonsense throughout.",
      "A plug is loose, or the battery of the gauge is low: some lines are broken.",
      "The gauge reports an error or an empty display: look at it.",
    ],
    remedy: [
      "At Gauges press the data button three times and let the program work out speed and format.",
      "Change the battery, seat the plug, and send once more.",
    ],
    over: "It goes away with the next line that is understood.",
  },
  "odd-lifter": {
    title: "One lifter stands apart",
    means:
      "Its diameter lies further from those of its fellows than their scatter explains. Either it was measured wrongly, or it is another lifter.",
    causes: [
      "The micrometer stood on a groove, a hole or an edge: use the full-diameter bands.",
      "It is worn, or of another make or size: compare it with its neighbours by eye and by hand.",
    ],
    remedy: ["Take it back and measure it again. If the figure stays, believe it, and look at it before it is used."],
    over: "It goes away when the lifter is measured again and suits its fellows.",
  },
  "odd-bore": {
    title: "One bore stands apart",
    means:
      "Its diameter lies further from those of its fellows than their scatter explains. Either it was measured wrongly, or it was worn or machined differently.",
    causes: [
      "Dirt, or a gauge that was not centred: clean it and measure it again.",
      "Wear, a bush, or an earlier repair: look at it.",
    ],
    remedy: ["Measure it again. If it stays, the verdict stands; Remedy says what can be done."],
    over: "It goes away when the bore is measured again and suits its fellows.",
  },
  "turn-out": {
    title: "A lifter one turn of the micrometer off",
    means:
      "The diameter differs from what is expected by just one turn of a thimble, 0.025 in or 0.5 mm: the sleeve was read one line out, or the display was preset wrongly.",
    causes: ["Read sleeve and thimble again.", "Close the micrometer and see that it shows zero."],
    remedy: ["Preset the micrometer if it needs it, take the lifter back, and measure it again."],
    over: "It goes away when the lifter is measured again.",
  },
  "same-bore": {
    title: "The same bore twice?",
    means:
      "Every station of this bore repeats the one before it, closer than two bores of this block do by chance. One bore may have been measured twice and the other not at all. No notice does not prove the contrary: the bores of a new block are too alike for this to be seen at two stations a bore.",
    causes: ["The gauge went back into the bore it had come from: follow the plan, and mark bores that are done."],
    remedy: ["Go back to the bore that is named, make sure which one it is, and measure it again."],
    over: "It goes away when the bore is measured again and differs, or when more bores show that such repeats are common here.",
  },
  "step-failed": {
    title: "The step check did not give the step",
    means:
      "The micrometer was opened by a known step, and the gauge did not answer with that step. Its sign, its unit, its gain or a hold function is not what the profile says.",
    causes: [
      "The sentence says which: the wrong way is polarity, 25.4 times is the unit, nothing at all is a hold.",
      "The step was not set well: come up to the graduation from below, and lock.",
    ],
    remedy: [
      "Accept the correction that is offered, or set the gauge right; not both.",
      "Close the micrometer on the lifter, take the zero again, and do the step check again.",
    ],
    over: "It goes away when a step check passes or a correction is accepted.",
  },
  temperature: {
    title: "Temperatures differ or drift",
    means:
      "Block and lifter are more than 2 °C apart, or the readings wander with time as they do while something warms. In an aluminium block one degree is worth far more than in an iron one.",
    causes: [
      "The block came from a wash, the sun or a cold store: touch it and the bench.",
      "Gauge or micrometer is held in a warm hand, or lies under a lamp.",
    ],
    remedy: [
      "Let block, lifters, micrometer and gauge lie in one room until they are alike; a bare block takes hours.",
      "Enter both temperatures at Zero: the clearance is then referred to 20 °C and the uncertainty follows.",
    ],
    over: "It goes away when temperatures within 2 °C are entered, or when the trend no longer shows.",
  },
  "coarse-gauge": {
    title: "This gauge cannot decide this band",
    means:
      "The uncertainty to be expected leaves less than half of the allowed band in which a bore could be called a fit. Many bores will come out undecided, however carefully you work.",
    causes: ["The sentence names the largest part of the uncertainty: that is where something can be gained."],
    remedy: [
      "A finer graduation, temperatures measured, more sweeps a station: whichever part is the largest.",
      "If the maker's figure for the indicator's error is better than assumed, enter it in the job.",
    ],
    over: "It stands for as long as job and gauge are these.",
  },
  "link-lost": {
    title: "A gauge is no longer there",
    means: "Its port went away. Nothing was lost: what had come is kept, and the walk waits.",
    causes: [
      "A plug is out, an adapter was moved, or a cable is broken: follow it from the gauge to the computer.",
      "The computer put the port to sleep.",
    ],
    remedy: ["Plug it in again. The program finds it by itself and goes on."],
    over: "It goes away when the gauge is back.",
  },
  "torn-tail": {
    title: "The last record was torn",
    means:
      "The file ended in the middle of a record, as it does when the power goes. That piece was set aside beside the file; everything before it is whole and sealed.",
    causes: ["A power cut, a crash or a full disk while the last record was being written."],
    remedy: ["Look where the walk stands and go on. At most the last sweep is missing, and it is asked for again."],
    over: "It stands in the record as something that happened.",
  },
  "seal-broken": {
    title: "The seal is broken",
    means:
      "Each record is sealed with the one before it, and here a seal does not hold: the file was changed after it was written, or damaged.",
    causes: [
      "Someone edited the file, or a program saved it anew.",
      "The disk or a copy damaged it: compare with another copy.",
    ],
    remedy: [
      "Recheck names the line. Look for a copy or a parcel whose seal holds and work from that.",
      "What stands before the line can still be read; nothing can be added to a file whose seal is broken.",
    ],
    over: "It does not go away: the file is what it is.",
  },
  "return-due": {
    title: "A return check is due",
    means:
      "So many bores have been measured since the zero was last proved, or the work was interrupted for long. If the zero has moved, all of them are in doubt, so it is looked at now and then.",
    causes: ["The job says after how many bores, and it is asked for after an interruption and at the end."],
    remedy: ["Put the gauge back in the locked micrometer and rock it, as for the zero. The walk goes on by itself."],
    over: "It goes away when the return check is taken.",
  },
  "order-of-work": {
    title: "One thing before another",
    means:
      "A reading came for which something else must be there first, so it was not used, or its bore is not proved.",
    causes: [
      "There is no zero yet.",
      "Every lifter has been measured already.",
      "A new zero was taken before the old one was checked: the bores that rest on the old one can be proved by nothing.",
    ],
    remedy: ["The sentence says what comes first. Bores without a return check are measured again."],
    over: "It goes away when that has been done.",
  },
};

type Said = readonly [code: NoticeCode, sentence: string];
const tenths = (count: number) => toNm(count * 2540);

/** Every sentence that a notice can say, with invented figures, and the code it is said under. */
const SAID: { readonly [K in keyof typeof noticeText]: Said } = {
  typedRefused: ["not-understood", noticeText.typedRefused("bore", "0.18 in", "far from the zero")],
  notUnderstood: ["not-understood", noticeText.notUnderstood("bore", "+0.0#155", "found # where a digit was expected")],
  unitMark: ["unit-mismatch", noticeText.unitMark("bore", "mm", "in")],
  linkLost: ["link-lost", noticeText.linkLost("bore", null)],
  contactLost: ["contact-lost", noticeText.contactLost()],
  frozen: ["frozen", noticeText.frozen("bore")],
  tooQuick: ["too-quick", noticeText.tooQuick()],
  outlier: ["outlier", noticeText.outlier()],
  noAgreement: ["no-agreement", noticeText.noAgreement()],
  reopened: ["no-agreement", noticeText.reopened()],
  neverChecked: ["order-of-work", noticeText.neverChecked(["1I", "1E"])],
  outOfRange: ["out-of-range", noticeText.outOfRange("bore")],
  noZero: ["order-of-work", noticeText.noZero()],
  liftersDone: ["order-of-work", noticeText.liftersDone()],
  zeroMoved: ["zero-moved", noticeText.zeroMoved(tenths(2), tenths(1), "in")],
  returnDue: ["return-due", noticeText.returnDue(false)],
  temperature: ["temperature", noticeText.temperature(17.5, 21)],
  oddBore: ["odd-bore", noticeText.oddBore("5I", tenths(9), "in")],
  oddLifter: ["odd-lifter", noticeText.oddLifter("5I", tenths(-7), "in")],
  turnOut: ["turn-out", noticeText.turnOut("5I", toNm(635_000), toNm(635_000), "in")],
  boresTrend: ["temperature", noticeText.boresTrend(tenths(4), "in")],
  zeroCreeps: ["temperature", noticeText.zeroCreeps(tenths(2), "in")],
  polarityReversed: [
    "polarity-reversed",
    noticeText.polarityReversed("bore", "it fell when the micrometer was opened"),
  ],
  unitMismatch: [
    "unit-mismatch",
    noticeText.unitMismatch("bore", "millimetres", "inches", "its answer to the step check was 25.4 times off"),
  ],
  sameBore: ["same-bore", noticeText.sameBore("5E", "5I")],
  elsewhere: ["same-place", noticeText.elsewhere("5I upper axial")],
  noStop: ["same-place", noticeText.noStop(6, "5I upper axial")],
  tornTail: ["torn-tail", noticeText.tornTail(41)],
  sealBroken: ["seal-broken", noticeText.sealBroken(118)],
};

/** What a notice of this code says, word for word with invented figures; a code may say one of several things. */
export function noticeSays(code: NoticeCode): readonly string[] {
  const said = Object.values(SAID).flatMap(([own, sentence]) => (own === code ? [sentence] : []));
  // Said by the step check itself, and by what is computed of the gauge.
  if (code === "step-failed") return [stepAnswered(-25_400), stepAnswered(0)];
  if (code === "coarse-gauge") return [cannotDecide()];
  return said;
}

function cannotDecide(): string {
  const job = parseJob({ format: "borewright/job", version: 1 });
  return canDecide({
    limits: job.limits,
    sends: "press",
    sweepsPerStation: job.sweepsPerStation,
    resolutionNm: tenths(5),
    micrometerResolutionNm: tenths(1),
    nominalLifterNm: job.lifter.nominalNm,
    materials: job.materials,
    budget: job.budget,
  }).text;
}

function stepAnswered(answerNm: number): string {
  const step = { beforeNm: toNm(0), openedNm: toNm(25_400), resolutionNm: toNm(1_270), unit: "in" } as const;
  return judgeStep({ ...step, afterNm: toNm(answerNm) }).text;
}
