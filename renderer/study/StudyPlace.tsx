import { type DragEvent, type ReactNode, useEffect, useState } from "react";
import type { MethodOutput } from "../../core/bridge/messages.ts";
import { type StudyReport, studyResultSchema } from "../../core/report/studyReport.ts";
import { download } from "../findings/download.ts";
import { Button } from "../parts/Button.tsx";
import { Details } from "../parts/Details.tsx";
import { FileButton } from "../parts/FileButton.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { placeToGoOn } from "../start/openSession.ts";
import { useStore } from "../store/store.ts";
import { ReadingsPlot } from "./ReadingsPlot.tsx";
import { StudyForm } from "./StudyForm.tsx";
import { StudyTables, WalkTable } from "./StudyTables.tsx";
import styles from "./study.module.css";

type SessionAnswer = MethodOutput<"session.study">;

/** How far the gauge repeats and how far people agree on it: from a study, or from a walk's own sweeps. */
export function StudyPlace(): ReactNode {
  const session = useStore((state) => state.session);
  const { ask, goTo } = useStore((state) => state.actions);
  const said = useSessionStudy();
  const [file, setFile] = useState<{ readonly name: string; readonly report: StudyReport } | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);

  const read = async (chosen: File) => {
    const answer = await ask("study.read", { content: await chosen.text() });
    const report = answer.ok ? studyResultSchema.safeParse(answer.value.report) : null;
    setFile(report?.success ? { name: chosen.name, report: report.data } : null);
    setWrong(
      answer.ok ? (report?.success ? null : "Its result could not be read.") : `${chosen.name}: ${answer.message}`,
    );
  };
  const drop = (event: DragEvent) => {
    event.preventDefault();
    const dropped = event.dataTransfer.files[0];
    if (dropped !== undefined) void read(dropped);
  };
  const table = said?.answer.table ?? null;
  const running = table !== null && said !== null && said.answer.due > 0;
  const report = said?.report ?? null;
  const shown = file?.report ?? report;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a place to drop a file; the button "Open a study file" does the same.
    <div onDragOver={(event) => event.preventDefault()} onDrop={drop}>
      <PlaceFrame
        title="Study"
        next={
          running
            ? `${said.answer.due} of ${table.people.length * table.bores.length * table.repeats} readings are still to come.`
            : "See how far the gauge repeats, and how far people agree on it, beside the band it must decide."
        }
        actions={
          <>
            {running && session !== null ? (
              <Button kind="main" onClick={() => goTo(placeToGoOn(session))}>
                Go on measuring
              </Button>
            ) : null}
            {shown?.study ? (
              <Button onClick={() => download("gauge-study.result.json", `${JSON.stringify(shown, null, 2)}\n`)}>
                Result (JSON)
              </Button>
            ) : null}
            <FileButton label="Study file" accept=".json" onFile={(file) => void read(file)}>
              Open a study file
            </FileButton>
          </>
        }
      >
        <div role="status" className={styles.status}>
          {wrong === null ? null : (
            <p>
              <span aria-hidden="true">▲ </span>
              {wrong}
            </p>
          )}
          {file === null ? null : (
            <p>
              Shown from the file <strong>{file.name}</strong>.{" "}
              <Button kind="quiet" onClick={() => setFile(null)}>
                Put it away
              </Button>
            </p>
          )}
        </div>
        {file?.report.study ? (
          <StudyTables report={file.report} study={file.report.study} />
        ) : (
          <>
            {report?.study ? <StudyTables report={report} study={report.study} /> : null}
            {running ? <ReadingsPlot study={table} /> : null}
            {report?.walk ? <WalkTable walk={report.walk} /> : null}
            {table === null ? (
              <StudyForm />
            ) : (
              <Details summary="Another study">
                <StudyForm />
              </Details>
            )}
          </>
        )}
      </PlaceFrame>
    </div>
  );
}

/** What the open session says of its gauge, asked again whenever a station, a zero or a strike changes it. */
function useSessionStudy(): { readonly answer: SessionAnswer; readonly report: StudyReport | null } | null {
  const id = useStore((state) => state.session?.id ?? null);
  const ask = useStore((state) => state.actions.ask);
  const changed = useStore(
    (state) =>
      state.lastOutcomes.findLast(({ outcome }) => ["station", "zero", "struck"].includes(outcome.type))?.count ?? 0,
  );
  const [said, setSaid] = useState<{ readonly id: string; readonly answer: SessionAnswer } | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked again when `changed` does.
  useEffect(() => {
    if (id === null) return;
    let over = false;
    void ask("session.study", {}).then((answer) => {
      if (!over && answer.ok) setSaid({ id, answer: answer.value });
    });
    return () => {
      over = true;
    };
  }, [id, ask, changed]);
  if (said === null || said.id !== id) return null;
  const report = studyResultSchema.safeParse(said.answer.report);
  return { answer: said.answer, report: report.success ? report.data : null };
}
