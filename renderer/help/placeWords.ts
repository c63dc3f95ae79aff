import type { Place } from "../store/place.ts";

/** What happens at each place, in the order of the work: said by the help and by a place that has nothing in it yet. */
export const PLACE_WORDS: Readonly<Record<Place, string>> = {
  Start: "Begin a job, go on with a session, take in a file, or try it with simulated gauges.",
  Job: "Say which block, which lifters, which limits and which gauges. Every other choice has a default; the maker's sheet comes before the limits that ship.",
  Gauges:
    "Choose the port of each gauge and press its data button three times: the text as it came stands beside what was understood of it.",
  Lifters:
    "Measure each lifter on its full-diameter bands; the micrometer's data button writes the figure down, one row a lifter. One that stands apart is marked.",
  Zero: "Set the micrometer to a lifter, lock it, and rock the bore gauge in it. The smallest reading is the zero. The step check then proves sign, unit and gain.",
  Bores:
    "The walk, hands on the gauge: the bore and the station are named, the gauge is rocked until the tone, the next one opens by itself. Now and then the zero is proved again.",
  Findings:
    "Every clearance with its uncertainty, the verdict of each bore under the rule that is stated, taper and out-of-round, and what would decide what is undecided.",
  Remedy:
    "Which lifter goes in which bore; for the bores that remain, the ways out side by side with finished sizes; and a sheet for the machine shop.",
  Recheck:
    "A session computed again from its raw lines, under the same or other limits; watched again on a line of time; or laid over an earlier session of the same block.",
  Study: "How far a gauge repeats and how far people agree on it, beside the band that it must decide.",
  Handover:
    "One file for the next builder with every raw reading, sealed; a report for paper; tables. A parcel that you were given is checked here.",
  Settings:
    "Choose unit, look and size of the figures, hear every tone before the work, and give keys or a foot switch to the controls of the walk. They are kept for the next start and change no measurement.",
};
