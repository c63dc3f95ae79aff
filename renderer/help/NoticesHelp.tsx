import { type ReactNode, useEffect, useRef } from "react";
import { NOTICE_CODES, type NoticeCode } from "../../core/session/notice.ts";
import { NOTICE_HELP, noticeSays } from "../../core/session/noticeHelp.ts";
import { Button } from "../parts/Button.tsx";
import { classNames } from "../parts/classNames.ts";
import { useStore } from "../store/store.ts";
import styles from "./HelpPanel.module.css";
import { useHelp } from "./helpDesk.ts";

/** What to do when a notice stands: the ones standing now first, then every other, each with its code. */
export function NoticesHelp(): ReactNode {
  const view = useStore((state) => state.view);
  const chosen = useHelp((state) => state.code);
  const standing = NOTICE_CODES.filter((code) =>
    view?.notices.some((notice) => notice.code === code && notice.curedMs === undefined),
  );
  const others = NOTICE_CODES.filter((code) => !standing.includes(code));
  return (
    <>
      <p>
        A notice says where something is wrong and what to do, and goes away by itself when that is over. Here is how to
        find the cause. Its code stands in the record and in the result.
      </p>
      {standing.length === 0 ? null : <Entries title="Standing now" codes={standing} chosen={chosen} />}
      <Entries title={standing.length === 0 ? "Every notice" : "All the others"} codes={others} chosen={chosen} />
    </>
  );
}

function Entries({
  title,
  codes,
  chosen,
}: {
  readonly title: string;
  readonly codes: readonly NoticeCode[];
  readonly chosen: NoticeCode | null;
}): ReactNode {
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      <ul className={styles.entries}>
        {codes.map((code) => (
          <li key={code}>
            <Entry code={code} open={code === chosen} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Entry({ code, open }: { readonly code: NoticeCode; readonly open: boolean }): ReactNode {
  const asked = useHelp((state) => state.asked);
  const help = NOTICE_HELP[code];
  const button = useRef<HTMLButtonElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked for again, it is shown again.
  useEffect(() => {
    if (!open) return;
    button.current?.focus({ preventScroll: true });
    button.current?.scrollIntoView({ block: "start" });
  }, [open, asked]);
  return (
    <>
      <Button
        ref={button}
        kind="quiet"
        className={classNames(styles.entryTitle, open && styles.chosen)}
        aria-expanded={open}
        aria-controls={`help-${code}`}
        onClick={() => useHelp.setState({ code: open ? null : code })}
      >
        <span>{help.title}</span> <code className={styles.code}>{code}</code>
      </Button>
      <div id={`help-${code}`} hidden={!open} className={styles.entry}>
        {open ? <EntryText code={code} /> : null}
      </div>
    </>
  );
}

function EntryText({ code }: { readonly code: NoticeCode }): ReactNode {
  const help = NOTICE_HELP[code];
  return (
    <>
      {noticeSays(code).map((sentence) => (
        <blockquote key={sentence} className={styles.says}>
          {sentence}
        </blockquote>
      ))}
      <p className={styles.soft}>As it is said, with invented figures.</p>
      <h4>What it means</h4>
      <p>{help.means}</p>
      <h4>Finding the cause</h4>
      <ul className={styles.list}>
        {help.causes.map((cause) => (
          <li key={cause}>{cause}</li>
        ))}
      </ul>
      <h4>What to do</h4>
      <ul className={styles.list}>
        {help.remedy.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ul>
      <p>{help.over}</p>
    </>
  );
}
