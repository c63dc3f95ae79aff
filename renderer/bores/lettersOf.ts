import type { CSSProperties } from "react";

/** How many letters a figure has, for the style sheet to fit it into its room. */
export function lettersOf(text: string): CSSProperties {
  return { "--letters": Math.max(3, text.length) } as CSSProperties;
}
