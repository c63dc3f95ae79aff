import { type ReactNode, useState } from "react";
import { LINE_FORMATS } from "../../core/gauge/lineFormats.ts";
import type { GaugeRole, LineFormatName, Sends } from "../../core/gauge/profile.ts";
import type { TeachView } from "../../core/gauge/teach/teachView.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import { LengthError, parseLength } from "../../core/length/parseLength.ts";
import type { GaugeUnit } from "../../core/length/unit.ts";
import type { JobGauge } from "../../core/session/job.ts";
import { keepGauges, useDraft } from "../job/draft.ts";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { gaugeName } from "../parts/gaugeName.ts";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import styles from "./GaugesPlace.module.css";

const UNITS: readonly { readonly value: GaugeUnit | "?"; readonly text: string }[] = [
  { value: "in", text: "Inches" },
  { value: "mm", text: "Millimetres" },
];
const SENDS: readonly { readonly value: Sends; readonly text: string }[] = [
  { value: "stream", text: "Readings all the time" },
  { value: "press", text: "One reading a press" },
  { value: "held", text: "A press sends the minimum it held" },
];
const WHENCE = {
  lines: "as its lines say",
  digits: "by the number of its decimals: look at the display",
  hand: "as you said",
} as const;

/** What was found, each part to be corrected, and one press that takes it. */
export function TaughtSection({
  teach,
  path,
  role,
}: {
  readonly teach: TeachView;
  readonly path: string;
  readonly role: GaugeRole;
}): ReactNode {
  const job = useJob();
  const readOnly = useStore((state) => state.session?.readOnly ?? true);
  const call = useStore((state) => state.actions.call);
  const changeGauge = useDraft((draft) => draft.changeGauge);
  const [resolution, setResolution] = useState<string | null>(null);
  const [sends, setSends] = useState<Sends | null>(null);
  const [format, setFormat] = useState<LineFormatName | null>(null);
  const [done, setDone] = useState<string | null>(null);
  const { unit } = teach;
  const found = unit === null || teach.resolutionNm === null ? "" : stepText(teach.resolutionNm, unit);
  const step = readStep(resolution ?? found);
  const sending = sends ?? teach.sends ?? "press";
  const line = format ?? teach.format ?? "auto";
  const own = readOnly ? undefined : job?.gauges.find((gauge) => gauge.role === role);
  const accept = async () => {
    if (unit === null || step.nm === null) return;
    const serial = { ...teach.setting, ...(teach.settleMs === 0 ? {} : { settleMs: teach.settleMs }) };
    changeGauge(role, {
      unit,
      resolution: stepText(step.nm, unit),
      line,
      serial,
      ...(role === "bore" ? { sends: sending } : {}),
    });
    const gauges = useDraft.getState().file.gauges ?? [];
    keepGauges(window.localStorage, gauges);
    const gauge = own?.id ?? gauges.find((one) => one.role === role)?.id ?? (role === "bore" ? "bore" : "mic");
    const settings = { path, ...teach.setting, settleMs: teach.settleMs };
    const name = gaugeName({ role }).toLowerCase();
    setDone(null);
    if (own !== undefined && (await call("gauge.connect", { gauge, settings })) === null) return;
    if (
      (await call("profile.keep", {
        gauge,
        settings,
        taught: { role, unit, resolutionNm: step.nm, sends: sending },
      })) === null
    ) {
      return;
    }
    const differs = own === undefined ? null : differences(own, { unit, resolutionNm: step.nm, sends: sending });
    setDone(
      own === undefined
        ? `Kept as the ${name} of the next job; its port is then connected by itself.`
        : `Kept, and connected as the ${name}.${differs === null ? "" : ` ${differs}`}`,
    );
  };
  return (
    <div className={styles.found}>
      <div className={styles.fields}>
        <Choices
          label={`Its display counts in${teach.unitFrom === null ? "" : ` (${WHENCE[teach.unitFrom]})`}`}
          value={unit ?? "?"}
          options={UNITS}
          onChoose={(chosen) => {
            setResolution(null);
            if (chosen !== "?") void call("gauge.teachHand", { unit: chosen });
          }}
          hint={
            unit === null
              ? "Its lines name no unit and four decimals may be either: choose what the display shows."
              : undefined
          }
        />
        <Field
          label="Smallest step of its display"
          value={resolution ?? found}
          onChange={(event) => setResolution(event.target.value)}
          error={unit === null ? null : step.wrong}
          autoComplete="off"
        />
        {role === "bore" ? (
          <Choice
            label="It sends"
            value={sending}
            options={SENDS}
            onChange={(event) => setSends(event.target.value as Sends)}
          />
        ) : null}
        <Choice
          label="Its lines are"
          value={line}
          options={[
            ...LINE_FORMATS.map(({ name, title }) => ({ value: name, text: title })),
            { value: "auto", text: "worked out anew each time" },
          ]}
          onChange={(event) => setFormat(event.target.value as LineFormatName)}
        />
      </div>
      <div className={styles.row}>
        <Button kind="main" disabled={unit === null || step.nm === null} onClick={() => void accept()}>
          Take it for the {gaugeName({ role }).toLowerCase()}
        </Button>
        <p role="status">{done}</p>
      </div>
    </div>
  );
}

function stepText(nm: number, unit: GaugeUnit): string {
  return `${formatLength(nm as Nm, unit, 6)
    .replace(/0+$/, "")
    .replace(/\.$/, ".0")} ${unit}`;
}

function readStep(text: string): { readonly nm: Nm | null; readonly wrong: string | null } {
  try {
    const nm = parseLength(text);
    return nm > 0 && nm <= 1_000_000 ? { nm, wrong: null } : { nm: null, wrong: "expected a step above 0, up to 1 mm" };
  } catch (error) {
    if (error instanceof LengthError) return { nm: null, wrong: error.message };
    throw error;
  }
}

/** Where the open session's job says another thing of the gauge, which a session never changes afterwards. */
function differences(own: JobGauge, taught: Pick<JobGauge, "unit" | "resolutionNm" | "sends">): string | null {
  const parts = [
    own.unit === taught.unit ? null : "unit",
    own.resolutionNm === taught.resolutionNm ? null : "smallest step",
    own.role !== "bore" || own.sends === taught.sends ? null : "way of sending",
  ].filter((part) => part !== null);
  if (parts.length === 0) return null;
  return `▲ The job of this session says another ${parts.join(" and ")}, and stays as it was recorded: begin a new job, which takes the gauge as it is taught.`;
}
