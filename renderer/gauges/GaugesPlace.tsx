import { type ReactNode, useState } from "react";
import type { GaugeRole } from "../../core/gauge/profile.ts";
import { Button } from "../parts/Button.tsx";
import { gaugeName } from "../parts/gaugeName.ts";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { Tabs } from "../parts/Tabs.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import styles from "./GaugesPlace.module.css";
import { JobGaugeSection } from "./JobGaugeSection.tsx";
import { TeachSection } from "./TeachSection.tsx";
import { TrafficSection } from "./TrafficSection.tsx";

const PARTS = [
  { value: "connect", text: "Gauges of the job" },
  { value: "teach", text: "Teach a gauge" },
  { value: "traffic", text: "Raw traffic" },
] as const;
type Part = (typeof PARTS)[number]["value"];

export function GaugesPlace(): ReactNode {
  const job = useJob();
  const view = useStore((state) => state.view);
  const simulated = useStore((state) => state.session?.simulating ?? false);
  const once = useStore((state) => state.session?.simulated ?? false);
  const goTo = useStore((state) => state.actions.goTo);
  const [chosen, setChosen] = useState<Part | null>(null);
  const [role, setRole] = useState<GaugeRole>("bore");
  const missing = (job?.gauges ?? []).filter(
    (gauge) => gauge.source !== "typed" && view?.gauges.find((one) => one.id === gauge.id)?.link !== "open",
  );
  const next =
    job === null
      ? "Begin a job to connect its gauges, or find out first how a gauge speaks."
      : missing.length === 0
        ? "Every gauge is connected. Move each one and see that its reading here follows."
        : `Connect the ${missing.map((gauge) => gaugeName(gauge).toLowerCase()).join(" and the ")}.`;
  const part = chosen ?? (job === null ? "teach" : "connect");
  return (
    <PlaceFrame
      title="Gauges"
      next={next}
      actions={
        job === null ? (
          <Button kind="main" onClick={() => goTo("Job")}>
            New job
          </Button>
        ) : (
          <Button kind={missing.length === 0 ? "main" : "plain"} onClick={() => goTo("Lifters")}>
            On to the lifters
          </Button>
        )
      }
    >
      {simulated ? (
        <p className={styles.simulated}>
          These gauges are simulated. Nothing here was measured, and the session says so wherever it goes.
        </p>
      ) : once ? (
        <p className={styles.simulated}>
          This session was begun with simulated gauges and says so wherever it goes: it proves nothing about a block.
          For a real block, begin a new one.
        </p>
      ) : null}
      <Tabs label="Parts of this place" value={part} options={PARTS} onChoose={setChosen}>
        {part === "connect" ? (
          job === null ? (
            <p>No session is open, so there is no gauge of a job yet.</p>
          ) : (
            <div className={styles.gauges}>
              {job.gauges.map((gauge) => (
                <JobGaugeSection
                  key={gauge.id}
                  gauge={gauge}
                  simulated={simulated}
                  onTeach={() => {
                    setRole(gauge.role);
                    setChosen("teach");
                  }}
                />
              ))}
            </div>
          )
        ) : null}
        {part === "teach" ? <TeachSection role={role} onRole={setRole} /> : null}
        {part === "traffic" ? <TrafficSection /> : null}
      </Tabs>
    </PlaceFrame>
  );
}
