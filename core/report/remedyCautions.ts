/** What every remedy says beside its figures, on screen, on paper and in print. */
export const REMEDY_CAUTIONS: readonly string[] = [
  "The lifter or cam maker's sheet and the machinist's judgement come first. Figures here are estimates for planning.",
  "Limits without a sheet, lifter body sizes and what to look at beside the size are common practice, no source.",
  "Two contacts can not see three-lobed form: where it is suspected, have the bore looked at another way.",
  "Honing throws grit and mist: eye protection, and nothing breathed in. No gloves and no loose sleeves at a spinning tool.",
  "Solvents burn and go through skin: air, gloves, no flame. Compressed air drives chips into eyes and skin: eye and hearing protection, and never towards a person.",
  "A block is heavy: lifting gear, and nobody under it.",
  "Keep grit out of oil ways and bearings; after cutting, oil holes are re-opened and their edges broken, and everything is washed before it is measured again.",
  "Local rules and licensed practice come first.",
  "This says how bores compare with stated limits. It never says that an engine is safe to run.",
];
