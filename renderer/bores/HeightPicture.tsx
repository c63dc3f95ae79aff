import type { StationPlace } from "../../core/block/layout.ts";
import styles from "./bores.module.css";

/** How far down the bore a height lies, by the word it goes by: 0 its upper end, 1 its lower end. */
const DOWN: ReadonlyMap<string, number> = new Map([
  ["top", 0.15],
  ["upper", 0.2],
  ["middle", 0.5],
  ["mid", 0.5],
  ["centre", 0.5],
  ["center", 0.5],
  ["lower", 0.8],
  ["bottom", 0.85],
]);

/** Where the height of a station lies in its bore, 0 to 1 from above; null where its name alone does not tell. */
export function downTheBore({ height }: StationPlace): number | null {
  return DOWN.get(height.trim().toLowerCase()) ?? null;
}

/** The bore cut open, the gauge's two contacts at the height of the station. Nothing where its name does not tell. */
export function HeightPicture({ place }: { readonly place: StationPlace }) {
  const down = downTheBore(place);
  if (down === null) return null;
  const y = 3 + 26 * down;
  return (
    <svg viewBox="0 0 40 32" className={styles.heightPicture} aria-hidden="true">
      <path d="M 1 2 H 9 V 30 H 1 M 39 2 H 31 V 30 H 39" />
      <path d={`M 13 ${y} H 27 M 14.5 ${y - 4} L 10 ${y} L 14.5 ${y + 4} M 25.5 ${y - 4} L 30 ${y} L 25.5 ${y + 4}`} />
    </svg>
  );
}
