import type { ReactNode } from "react";
import styles from "./inRoomOf.module.css";

/**
 * Words that change, in the room that the longest of them takes, broken into lines as that is: nothing beside them
 * moves when they change. The longest is not there for those who listen.
 */
export function InRoomOf({ longest, children }: { readonly longest: string; readonly children: string }): ReactNode {
  return (
    <span className={styles.room} data-longest={longest}>
      <span>{children}</span>
    </span>
  );
}
