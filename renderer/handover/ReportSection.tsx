import { type ReactNode, useMemo, useRef, useState } from "react";
import { download } from "../findings/download.ts";
import { Button } from "../parts/Button.tsx";
import { useStore } from "../store/store.ts";
import styles from "./handover.module.css";

/** The report, to look at, to print or to keep. */
export function ReportSection({ name }: { readonly name: string }): ReactNode {
  const call = useStore((state) => state.actions.call);
  const unit = useStore((state) => state.settings.unit);
  const seenFrom = useStore((state) => state.settings.seenFrom);
  const [html, setHtml] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const shown = useMemo(() => (html === null ? null : undress(html)), [html]);
  const frame = useRef<HTMLIFrameElement>(null);
  const show = async () => {
    setBusy(true);
    const unitFirst = unit === "in" || unit === "tenths" ? "in" : "um";
    const answer = await call("session.report", { unitFirst, seenFrom });
    setBusy(false);
    if (answer !== null) setHtml(answer.html);
  };
  return (
    <section className={styles.part} aria-labelledby="report-heading">
      <h2 id="report-heading">The report</h2>
      <p>
        Everything on paper: gauges and their checks, every clearance, the rule, notices, what to do, lines to sign.
      </p>
      <div className={styles.buttons}>
        <Button disabled={busy} onClick={() => void show()}>
          {busy ? "Writing it" : html === null ? "Show the report" : "Write it again"}
        </Button>
        {html === null ? null : (
          <>
            <Button onClick={() => frame.current?.contentWindow?.print()}>Print it, or save it as PDF</Button>
            <Button onClick={() => download(`${name}.report.html`, html)}>Keep it as a page (HTML)</Button>
          </>
        )}
      </div>
      {shown === null ? null : (
        <iframe
          ref={frame}
          className={styles.report}
          title="Report"
          // No script runs in it; this page may print it.
          sandbox="allow-same-origin allow-modals"
          srcDoc={shown.html}
          onLoad={({ currentTarget }) => putOnStyles(currentTarget, shown.css)}
        />
      )}
    </section>
  );
}

/** A document without the styles that are written into it, and those styles. */
interface Undressed {
  readonly html: string;
  readonly css: string;
}

/**
 * The page's content policy, which the report inherits, lets no style in that is written into a document. What the report
 * brings along is our own and is put on from here once it is there.
 */
function undress(report: string): Undressed {
  const styles: string[] = [];
  // By the text: a parser would apply the policy already. Quotes in what people wrote are escaped, so none is met here.
  const bare = report.replace(/<style>(.*?)<\/style>/gs, (_, css: string) => {
    styles.push(css);
    return "";
  });
  return { html: bare.replaceAll(' style="', ' data-style="'), css: styles.join("\n") };
}

function putOnStyles({ contentDocument: document, contentWindow: window }: HTMLIFrameElement, css: string): void {
  if (document === null || window === null) return;
  const sheet = new (window as Window & typeof globalThis).CSSStyleSheet();
  sheet.replaceSync(css);
  document.adoptedStyleSheets = [sheet];
  for (const element of document.querySelectorAll<HTMLElement>("[data-style]")) {
    element.style.cssText = element.dataset.style ?? "";
  }
}
