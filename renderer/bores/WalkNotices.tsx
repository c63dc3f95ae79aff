import type { ReactNode } from "react";
import type { SessionView } from "../../core/session/view.ts";
import { Notices } from "../parts/Notices.tsx";
import { isTrouble } from "../sound/toneFor.ts";
import styles from "./bores.module.css";

/** Beside the figures there is room for so many notices; the rest are counted and stand in the findings. */
const ROOM = 2;

/** What stands in the way or is worth knowing here, trouble first, with what to do. */
export function WalkNotices({ view }: { readonly view: SessionView }): ReactNode {
  const here = view.here?.bore;
  const standing = view.notices.filter(
    (notice) =>
      notice.curedMs === undefined && (isTrouble(notice.code) || notice.bore === undefined || notice.bore === here),
  );
  const shown = [
    ...standing.filter(({ code }) => !isTrouble(code)),
    ...standing.filter(({ code }) => isTrouble(code)),
  ].slice(-ROOM);
  const more = view.notices.filter((notice) => notice.curedMs === undefined).length - shown.length;
  if (shown.length === 0 && more === 0) return null;
  return (
    <div className={styles.notices} role="status">
      <Notices notices={shown} />
      {more > 0 ? (
        <p className={styles.moreNotices}>
          {more} more {more === 1 ? "notice" : "notices"} under Findings.
        </p>
      ) : null}
    </div>
  );
}
