import type { ReactNode } from "react";
import { formatLength, formatTenths } from "../../core/length/formatLength.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import type { ReportedComponent, StudyReport } from "../../core/report/studyReport.ts";
import { classNames } from "../parts/classNames.ts";
import { lengthText } from "../parts/figure/printLength.ts";
import type { ShownUnit } from "../store/settings.ts";
import { useStore } from "../store/store.ts";
import { ReadingsPlot } from "./ReadingsPlot.tsx";
import styles from "./study.module.css";

type Study = NonNullable<StudyReport["study"]>;
type Walk = NonNullable<StudyReport["walk"]>;

/** A deviation is small beside what a display shows, so it has a digit more: in micrometres, or in tenths (0.0001 in). */
function deviationText(nm: number, unit: ShownUnit): string {
  return isInch(unit) ? formatTenths(toNm(nm), 2) : formatLength(toNm(nm), "um", 2);
}
const isInch = (unit: ShownUnit) => unit === "in" || unit === "tenths";
const deviationUnit = (unit: ShownUnit) => (isInch(unit) ? "tenths" : "µm");
const percent = (share: number | null) => (share === null ? "–" : `${(100 * share).toFixed(1)} %`);

const ROWS = [
  { key: "repeatability", title: "Repeatability", says: "one person again" },
  { key: "reproducibility", title: "Reproducibility", says: "between people" },
  { key: "people", title: "of it people", says: "" },
  { key: "interaction", title: "of it interaction", says: "people with bores" },
  { key: "gauge", title: "Gauge, both", says: "" },
  { key: "bores", title: "Bores", says: "" },
  { key: "total", title: "Total", says: "" },
] as const;

/** A whole study: both methods side by side, and every reading. */
export function StudyTables({ report, study }: { readonly report: StudyReport; readonly study: Study }): ReactNode {
  const [byVariance, byRange] = study.methods;
  const unit = useStore((state) => state.settings.unit);
  const { people, bores, repeats } = study;
  return (
    <>
      <section aria-labelledby="study-result" className={styles.part}>
        <h2 id="study-result">{headline(report, study)}</h2>
        <p className={styles.soft}>
          {people.length} {people.length === 1 ? "person" : "people"}, {bores.length} bores, {repeats} repeats
          {report.bandNm === null
            ? "; no band given, so its share is not known"
            : `; allowed band ${lengthText(report.bandNm as Nm, unit)} wide`}
          . The headline is by analysis of variance, deviations are standard deviations. The share of the band is six
          standard deviations over its width. Shares of the study do not add up to 100 %.
          {report.source === "" ? null : ` Source: ${report.source}.`}
        </p>
        <div className={styles.scroll}>
          <table className={styles.table}>
            <caption className="unseen">Components of the study by both methods</caption>
            <thead>
              <tr>
                <td />
                <th scope="colgroup" colSpan={4}>
                  Analysis of variance, {deviationUnit(unit)}
                </th>
                <th scope="colgroup" colSpan={3} className={styles.second}>
                  Average and range, {deviationUnit(unit)}
                </th>
              </tr>
              <tr>
                <th scope="col">Component</th>
                <th scope="col">Deviation</th>
                <th scope="col">95 % interval</th>
                <th scope="col">Of study</th>
                <th scope="col">Of band</th>
                <th scope="col" className={styles.second}>
                  Deviation
                </th>
                <th scope="col">Of study</th>
                <th scope="col">Of band</th>
              </tr>
            </thead>
            <tbody>
              {ROWS.map(({ key, title, says }) => (
                <tr key={key} data-strong={key === "gauge"}>
                  <th scope="row" className={title.startsWith("of it") ? styles.inner : undefined}>
                    {title}
                    {says === "" ? null : <span className={styles.says}> {says}</span>}
                  </th>
                  <Cells of={byVariance[key]} interval />
                  {key === "people" || key === "interaction" ? (
                    <td colSpan={3} className={classNames(styles.second, styles.notSeen)}>
                      not seen
                    </td>
                  ) : (
                    <Cells of={byRange[key]} />
                  )}
                </tr>
              ))}
              <tr data-strong>
                <th scope="row">Distinct categories</th>
                <td>{byVariance.categories ?? "no scatter"}</td>
                <td colSpan={3} />
                <td className={styles.second}>{byRange.categories ?? "no scatter"}</td>
                <td colSpan={2} />
              </tr>
            </tbody>
          </table>
        </div>
        <p className={styles.soft}>
          {byVariance.pooled
            ? "The interaction of people and bores could be chance and was taken into repeatability. "
            : "People and bores interact: some people read some bores otherwise than the rest. "}
          Averages and ranges see no interaction and give no intervals, so the two methods differ on the same readings.
          {people.length === 1 ? " With one person, reproducibility is not seen." : null} With few people or bores the
          intervals are wide: so few can not tell more.
        </p>
      </section>
      <ReadingsPlot study={study} />
    </>
  );
}

function headline(report: StudyReport, study: Study): string {
  const { gauge, categories } = study.methods[0];
  const share =
    report.bandNm === null
      ? `The gauge takes ${percent(gauge.shareOfStudy)} of the study's variation`
      : `The gauge takes ${percent(gauge.shareOfBand)} of the band`;
  if (categories === null) return `${share}; no reading differed from its fellows`;
  return categories === 1
    ? `${share}; it can not tell these bores apart`
    : `${share}; ${categories} distinct categories among these bores`;
}

function Cells({ of, interval = false }: { readonly of: ReportedComponent; readonly interval?: boolean }): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  return (
    <>
      <td className={interval ? undefined : styles.second}>{deviationText(of.deviationNm, unit)}</td>
      {interval ? <td>{intervalText(of.interval, unit)}</td> : null}
      <td>{percent(of.shareOfStudy)}</td>
      <td>{percent(of.shareOfBand)}</td>
    </>
  );
}

function intervalText(of: ReportedComponent["interval"], unit: ShownUnit): string {
  return of === null ? "–" : `${deviationText(of.lowNm, unit)} to ${deviationText(of.highNm, unit)}`;
}

/** The repeatability that comes free with a walk. */
export function WalkTable({ walk }: { readonly walk: Walk }): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const rows = [
    { title: "Sweeps in the bores", of: walk.bores, groups: "stations" },
    { title: "Sweeps in the micrometer", of: walk.zeros, groups: "zeros and return checks" },
  ];
  return (
    <section aria-labelledby="walk-repeatability" className={styles.part}>
      <h2 id="walk-repeatability">Repeatability of this session's sweeps</h2>
      <div className={styles.scroll}>
        <table className={styles.table}>
          <caption className="unseen">Standard deviation of single sweeps</caption>
          <thead>
            <tr>
              <th scope="col">Single sweeps</th>
              <th scope="col">Deviation, {deviationUnit(unit)}</th>
              <th scope="col">95 % interval</th>
              <th scope="col">Degrees of freedom</th>
              <th scope="col">Pooled over</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ title, of, groups }) => (
              <tr key={title}>
                <th scope="row">{title}</th>
                {of.degreesOfFreedom === 0 ? (
                  <td colSpan={4}>nothing repeated yet</td>
                ) : (
                  <>
                    <td>{deviationText(of.deviationNm, unit)}</td>
                    <td>{intervalText(of.interval, unit)}</td>
                    <td>{of.degreesOfFreedom}</td>
                    <td>
                      {of.groups} {groups}
                    </td>
                  </>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {walk.notes.map((note) => (
        <p key={note} className={styles.soft}>
          {note}
        </p>
      ))}
    </section>
  );
}
