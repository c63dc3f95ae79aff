import type { RemedyKind } from "./remedyOption.ts";

const WALL = "wall left round the bore";
const OIL_HOLE = "where the oil hole breaks in, and its edge";
const LOBED = "three-lobed form: two contacts can not see it";
const FOLLOWS = "location and squareness of the bore: a hone follows the bore that is there";

/** What the tool can not know of a remedy and someone must look at. Common practice, no source. */
export const UNKNOWN: Readonly<Record<RemedyKind, readonly string[]>> = {
  leave: [LOBED],
  pair: [LOBED, "wear of the lifter's face and of its lobe: what has run together stays together"],
  hone: [WALL, OIL_HOLE, FOLLOWS, LOBED],
  body: [
    WALL,
    OIL_HOLE,
    FOLLOWS,
    LOBED,
    "whether the cam, the rockers and the oiling suit a larger lifter body: its maker's sheet",
    "true size of the lifter that is bought",
  ],
  bush: [
    "wall left round the bush",
    "bush, its material and its press fit: its maker's sheet",
    "where the oil hole is to be drilled through the bush",
    "location and squareness: set up anew when it is bored for the bush",
    LOBED,
  ],
};
