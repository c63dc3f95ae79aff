import { type ReactNode, useState } from "react";
import { spokenBore, spokenPlace } from "../../core/block/spokenBore.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";
import type { FeelView } from "../../core/session/feel.ts";
import type { Job } from "../../core/session/job.ts";
import { LimitsBar } from "../bores/LimitsBar.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { lengthText } from "../parts/figure/printLength.ts";
import { Sweeps } from "../parts/Sweeps.tsx";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { useStore } from "../store/store.ts";
import { BudgetTable } from "./BudgetTable.tsx";
import { FeelSheet } from "./FeelSheet.tsx";
import styles from "./findings.module.css";
import { lifterInWords, otherLifter } from "./lifterWords.ts";
import { confidenceInWords, percentText } from "./ruleInWords.ts";

/** One bore in full: its verdict and why, its form, and the uncertainty budget of one of its stations. */
export function BoreSheet({
  finding,
  job,
  feel,
  onChoose,
}: {
  readonly finding: BoreFinding;
  readonly job: Job;
  readonly feel: readonly FeelView[];
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const [asked, setAsked] = useState(0);
  const station = finding.stations[Math.min(asked, finding.stations.length - 1)];
  return (
    <section className={styles.boreSheet} aria-labelledby="bore-heading">
      <h2 id="bore-heading" className={styles.boreHeading}>
        <VerdictPicture verdict={finding.verdict} preferred={finding.preferred} size="1.8rem" />
        <span>
          {spokenBore(finding.name)}: {finding.verdict}
          {finding.preferred ? ", preferred" : ""}
        </span>
      </h2>
      {otherLifter(finding) === null ? null : (
        <p className={styles.pairedLine}>
          <span aria-hidden="true">◄ </span>Lifter <strong>{otherLifter(finding)}</strong> goes in here: every clearance
          below is against it.
        </p>
      )}
      <dl className={styles.facts}>
        <div>
          <dt>Smallest</dt>
          <dd>
            <Figure length={finding.clearanceMinNm} />
          </dd>
        </div>
        <div>
          <dt>Largest</dt>
          <dd>
            <Figure length={finding.clearanceMaxNm} />
          </dd>
        </div>
        <div>
          <dt>Taper</dt>
          <dd>
            <WithUncertainty value={finding.taperNm} uncertainty={finding.taperUncertaintyNm} />
          </dd>
        </div>
        <div>
          <dt>Out-of-round</dt>
          <dd>
            <WithUncertainty value={finding.outOfRoundNm} uncertainty={finding.outOfRoundUncertaintyNm} />
          </dd>
        </div>
        <div className={styles.factWords}>
          <dt>Against lifter</dt>
          <dd>{lifterInWords(finding)}</dd>
        </div>
        <div>
          <dt>Confidence</dt>
          <dd>{confidenceInWords(finding)}</dd>
        </div>
        {finding.tooTightProbability !== null && finding.tooLooseProbability !== null ? (
          <div>
            <dt>Below, above limits</dt>
            <dd>
              {percentText(finding.tooTightProbability)}, {percentText(finding.tooLooseProbability)}
            </dd>
          </div>
        ) : null}
      </dl>
      {finding.advice === null ? null : (
        <p className={styles.advice}>
          <strong>What would decide it: </strong>
          {finding.advice}
        </p>
      )}
      {finding.wear === null ? null : <p>{finding.wear}</p>}
      {finding.verdict === "not measured" && finding.stations.length > 0 ? (
        <p className={styles.advice}>
          {finding.stations.length} of {job.stations.length} stations measured
          {finding.stations.some((one) => one.clearanceNm === null)
            ? "; no zero stands for some of them, so they are due again."
            : "; a verdict comes with the last of them."}
        </p>
      ) : null}
      {station === undefined ? (
        <p>Nothing is measured in this bore yet.</p>
      ) : (
        <>
          <fieldset className={styles.stationChoice}>
            <legend>Station</legend>
            {finding.stations.map((one, index) => (
              <label key={`${one.place.height} ${one.place.clock}`}>
                <input type="radio" name="station" checked={one === station} onChange={() => setAsked(index)} />
                <span>{spokenPlace(one.place)}</span>
              </label>
            ))}
          </fieldset>
          <LimitsBar
            limits={job.limits}
            value={station.clearanceNm}
            live={null}
            print={(length) => lengthText(length, unit)}
          />
          <div className={styles.stationFacts}>
            <p>
              <Figure length={station.clearanceNm} none="no clearance stands" /> ±{" "}
              <Figure length={station.uncertaintyNm} /> at {Math.round(station.coverage * 100)} %
            </p>
            <Sweeps sweeps={station.station.sweeps} />
          </div>
          {station.clearanceNm === null ? (
            <p className={styles.advice}>No zero in force holds for this station. Measure it again.</p>
          ) : (
            <BudgetTable station={station} />
          )}
        </>
      )}
      <FeelSheet finding={finding} feel={feel} bores={job.walk} onNext={onChoose} />
    </section>
  );
}

function WithUncertainty({
  value,
  uncertainty,
}: {
  readonly value: BoreFinding["taperNm"];
  readonly uncertainty: BoreFinding["taperNm"];
}): ReactNode {
  if (value === null) return <Figure length={null} none="not measured" />;
  return (
    <>
      <Figure length={value} bare /> ± <Figure length={uncertainty} />
    </>
  );
}
