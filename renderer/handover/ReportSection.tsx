import { type ReactNode, useMemo, useRef, useState } from "react";
import type { MethodInput } from "../../core/bridge/messages.ts";
import { download } from "../findings/download.ts";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import { useStore } from "../store/store.ts";
import styles from "./handover.module.css";
import { usualPaper } from "./usualPaper.ts";

/** The report, to look at, to print or to keep. */
export function ReportSection({ name }: { readonly name: string }): ReactNode {
  const call = useStore((state) => state.actions.call);
  const unit = useStore((state) => state.settings.unit);
  const writesPdf = useStore((state) => state.info?.writesPdf ?? false);
  const seenFrom = useStore((state) => state.settings.seenFrom);
  const [html, setHtml] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const shown = useMemo(() => (html === null ? null : undress(html)), [html]);
  const frame = useRef<HTMLIFrameElement>(null);
  const choices = { unitFirst: unit === "in" || unit === "tenths" ? "in" : "um", seenFrom } as const;
  const show = async () => {
    setBusy(true);
    const answer = await call("session.report", choices);
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
            <Button onClick={() => frame.current?.contentWindow?.print()}>
              {writesPdf ? "Print it" : "Print it, or save it as PDF"}
            </Button>
            <Button onClick={() => download(`${name}.report.html`, html)}>Keep it as a page (HTML)</Button>
          </>
        )}
      </div>
      {writesPdf ? <PdfPart choices={choices} /> : null}
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

const PAPERS = [
  { value: "A4", text: "A4" },
  { value: "Letter", text: "Letter" },
] as const;

/** The report written as a PDF by the host, where it can. */
function PdfPart({ choices }: { readonly choices: Omit<MethodInput<"session.reportPdf">, "paper"> }): ReactNode {
  const call = useStore((state) => state.actions.call);
  const set = useStore((state) => state.actions.set);
  const paper = useStore((state) => state.settings.paper) ?? usualPaper(navigator.language);
  const [busy, setBusy] = useState(false);
  const [written, setWritten] = useState<string | null>(null);
  const write = async () => {
    setBusy(true);
    setWritten(null);
    const answer = await call("session.reportPdf", { ...choices, paper });
    setBusy(false);
    if (answer !== null) setWritten(answer.path === null ? "Nothing was written." : `Written: ${answer.path}`);
  };
  return (
    <>
      <Choices label="Paper" value={paper} options={PAPERS} onChoose={(chosen) => set({ paper: chosen })} />
      <div className={styles.buttons}>
        <Button disabled={busy} onClick={() => void write()}>
          {busy ? "Writing it" : "Save it as a PDF"}
        </Button>
        <p role="status">{written}</p>
      </div>
    </>
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
