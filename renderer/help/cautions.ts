/** Where the work can hurt someone, or a figure mislead. The maker's sheet and local rules come before all of it. */
export const CAUTIONS: readonly { readonly about: string; readonly text: string }[] = [
  {
    about: "First",
    text: "The engine's, the cam's and the lifter maker's sheets, and the machinist's judgement, come before anything said here. So do the makers' instructions for machines, stones and fluids, and local rules.",
  },
  {
    about: "Lifting",
    text: "A bare block weighs more than one person can hold. Use lifting gear and a stand made for the load, lock the stand before the block is turned, and keep hands and feet from under it.",
  },
  {
    about: "Cleaning",
    text: "Solvents burn and harm skin and lungs: ventilate, wear gloves and eye protection, keep flames away, and follow the maker's data sheet.",
  },
  {
    about: "Compressed air",
    text: "It drives swarf into eyes and fluid under the skin. Wear eye and hearing protection, keep the pressure low, and point it at nobody.",
  },
  {
    about: "Honing and boring",
    text: "Spinning tools catch gloves, sleeves and hair: none near them. Fix the work, wear eye and hearing protection, and keep dust and mist out of the lungs. Whoever has not learnt it leaves it to one who has.",
  },
  {
    about: "After machining",
    text: "Wash out every trace of abrasive, oil holes included, and measure every bore again before anything is put together.",
  },
  {
    about: "What it cannot know",
    text: "A two-point gauge cannot see three-lobed form. Wall, hardness, cracks, the place of oil holes and the squareness of a bore are not measured here. Figures marked as estimates are for planning.",
  },
  {
    about: "What it never says",
    text: "That an engine is safe to run. It says what was measured, how well, and how that compares with the limits stated.",
  },
];
