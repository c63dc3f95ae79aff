/** The words of the trade as this program uses them, in the order in which the work meets them. */
export const WORDS: readonly { readonly word: string; readonly means: string }[] = [
  { word: "job, session, handover", means: "the plan; the record of doing it; the sealed parcel for the next builder" },
  { word: "line", means: "one text record from a gauge, as it was received" },
  { word: "reading", means: "a line understood: a signed length at a time, from one gauge" },
  { word: "sweep", means: "one rocking pass of the gauge through square; it has one minimum" },
  {
    word: "kept minimum",
    means: "the smallest reading of a sweep; from a stream also the turning point fitted through it",
  },
  {
    word: "station",
    means: "a place in a bore: its height (upper, lower, …) and its clock direction (axial: along the crank; cross)",
  },
  { word: "station value", means: "what the sweeps of a station agree on" },
  {
    word: "reference, zero",
    means: "the station value of the gauge in the micrometer that was set to the lifter",
  },
  { word: "return check", means: "the zero measured again later; the zero held or moved" },
  { word: "step check", means: "the micrometer opened by a known step, to prove sign, unit and gain" },
  { word: "clearance", means: "bore minus lifter, at 20 °C unless said otherwise" },
  {
    word: "limits, preferred band",
    means: "smallest and largest clearance allowed; the band inside them that one aims for",
  },
  {
    word: "taper, out-of-round",
    means: "difference between heights; difference between clock directions",
  },
  { word: "verdict", means: "fits, too tight, too loose, or undecided, under a stated decision rule" },
  {
    word: "guarded, simple",
    means: "the decision rules: a fit only if 95 % sure of it; or the values compared as they are",
  },
  { word: "pairing", means: "which lifter goes in which bore" },
  { word: "remedy", means: "what is to be done to a bore" },
  { word: "tenth", means: "a ten-thousandth of an inch, 0.0001 in or 2.54 µm" },
];
