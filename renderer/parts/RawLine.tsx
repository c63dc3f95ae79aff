import type { ReactNode } from "react";
import styles from "./RawLine.module.css";

/** A line as it came from a gauge. Control pictures are missing in many fonts, so they are printed as hexadecimal too. */
export function RawLine({ line }: { readonly line: string }): ReactNode {
  const shown = line.replace(/[\u2400-\u2421]/g, (picture) => {
    const code = picture === "\u2421" ? 0x7f : picture.charCodeAt(0) - 0x2400;
    return `‹${code.toString(16).toUpperCase().padStart(2, "0")}›`;
  });
  return <code className={styles.line}>{shown}</code>;
}
