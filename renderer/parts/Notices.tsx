import type { ReactNode } from "react";
import type { Notice } from "../../core/session/notice.ts";
import { NOTICE_HELP } from "../../core/session/noticeHelp.ts";
import { openHelpOn } from "../help/helpDesk.ts";
import { Button } from "./Button.tsx";
import styles from "./Notices.module.css";

export interface NoticesProps {
  /** As in the view: newest last. */
  readonly notices: readonly Notice[];
  /** Shows those cured as well, marked as over. */
  readonly cured?: boolean;
  /** Said when there is nothing; nothing is shown without it. */
  readonly none?: string;
}

/** What the data raised, newest first: where it was and what to do. */
export function Notices({ notices, cured = false, none }: NoticesProps): ReactNode {
  const shown = notices.filter((notice) => cured || notice.curedMs === undefined).toReversed();
  if (shown.length === 0) return none === undefined ? null : <p className={styles.none}>{none}</p>;
  return (
    <ul className={styles.notices} aria-label="Notices">
      {shown.map((notice) => (
        <li
          key={`${notice.tMs} ${notice.code} ${notice.gauge ?? ""} ${noticePlace(notice)}`}
          className={styles.notice}
          data-cured={notice.curedMs !== undefined}
        >
          <span className={styles.mark} aria-hidden="true">
            {notice.curedMs === undefined ? "▲" : "△"}
          </span>
          <p>
            {noticePlace(notice) === "" ? null : <strong>{noticePlace(notice)}: </strong>}
            {notice.text}
            {notice.curedMs === undefined ? null : <em> Over.</em>}
          </p>
          <Button
            className={styles.why}
            kind="quiet"
            aria-label={`Help: ${NOTICE_HELP[notice.code].title}`}
            onClick={() => openHelpOn(notice.code)}
          >
            Help
          </Button>
        </li>
      ))}
    </ul>
  );
}

/** Where a notice belongs, such as "5I upper axial"; empty for the block as a whole. */
export function noticePlace(notice: Notice): string {
  return [notice.bore, notice.height, notice.clock].filter((part) => part !== undefined).join(" ");
}
