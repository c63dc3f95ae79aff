import type { StationPlace } from "./layout.ts";

/** A bore's name in words one can say aloud: "5I" → "Cylinder 5, intake"; "5I2" → "Cylinder 5, intake 2". */
export function spokenBore(name: string): string {
  const match = /^(\d+)([IE])(\d*)$/.exec(name);
  if (match === null) return name;
  const which = match[3] === "" ? "" : ` ${match[3]}`;
  return `Cylinder ${match[1]}, ${match[2] === "I" ? "intake" : "exhaust"}${which}`;
}

/** A station in words: "Upper. Along the crank." */
export function spokenPlace(place: StationPlace): string {
  const height = place.height.charAt(0).toUpperCase() + place.height.slice(1);
  return `${height}. ${place.clock === "axial" ? "Along" : "Across"} the crank.`;
}
