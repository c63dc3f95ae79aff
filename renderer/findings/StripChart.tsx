import { type ReactNode, useId } from "react";
import type { BoreFinding, Limits } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import { spotOf } from "../bores/limitsScale.ts";
import styles from "./findings.module.css";
import { stripScale } from "./stripScale.ts";

export interface StripChartProps {
  /** In the order they stand on the chart. */
  readonly findings: readonly BoreFinding[];
  readonly limits: Limits;
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
  readonly print: (length: Nm) => string;
}

const HEIGHT = 300;
const TOP = 14;
const FOOT = 34;
const LEFT = 92;
const RIGHT = 96;

/** Every station's clearance with its uncertainty against the limits, bore beside bore in the order of the walk. */
export function StripChart({ findings, limits, chosen, onChoose, print }: StripChartProps): ReactNode {
  const id = useId();
  const most = Math.max(1, ...findings.map((finding) => finding.stations.length));
  const column = Math.max(34, most * 9 + 12);
  const width = LEFT + RIGHT + column * Math.max(1, findings.length);
  const scale = stripScale(findings, limits);
  const plot = HEIGHT - TOP - FOOT;
  const y = (nm: number) => TOP + plot * (1 - spotOf(nm, scale).at);
  const x = (index: number) => LEFT + column * (index + 0.5);
  const { preferredLowNm, preferredHighNm, serviceHighNm } = limits;
  const preferred = preferredLowNm !== null && preferredHighNm !== null;
  return (
    <div className={styles.stripBox}>
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing, not a set of fields. */}
      <svg
        viewBox={`0 0 ${width} ${HEIGHT}`}
        className={styles.strip}
        style={{ minWidth: `${width}px` }}
        role="group"
        aria-labelledby={`${id}-title`}
      >
        <title id={`${id}-title`}>
          Clearances of the stations against the limits {print(limits.lowNm)} to {print(limits.highNm)}
        </title>
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: lines and letters, nothing here takes the focus. */}
        <g aria-hidden="true">
          {preferred && (
            <rect
              x={LEFT}
              width={width - LEFT - RIGHT}
              y={y(preferredHighNm)}
              height={y(preferredLowNm) - y(preferredHighNm)}
              className={styles.stripPreferred}
            />
          )}
          <Line at={y(limits.highNm)} width={width} word="largest" figure={print(limits.highNm)} kind="limit" />
          <Line at={y(limits.lowNm)} width={width} word="smallest" figure={print(limits.lowNm)} kind="limit" />
          {preferred && (
            <text
              x={width - RIGHT + 8}
              y={(y(preferredLowNm) + y(preferredHighNm)) / 2 + 5}
              className={styles.stripWord}
            >
              preferred
            </text>
          )}
          {serviceHighNm !== null && spotOf(serviceHighNm, scale).beyond === null && (
            <Line at={y(serviceHighNm)} width={width} word="wear limit" figure={print(serviceHighNm)} kind="service" />
          )}
        </g>
        {findings.map((finding, index) => (
          // biome-ignore lint/a11y/useSemanticElements: SVG has no button of its own.
          <g
            key={finding.name}
            role="button"
            tabIndex={0}
            aria-label={labelOf(finding, print)}
            aria-pressed={finding.name === chosen}
            className={styles.stripBore}
            onClick={() => onChoose(finding.name)}
            onKeyDown={(event) => {
              if (event.key !== "Enter" && event.key !== " ") return;
              event.preventDefault();
              onChoose(finding.name);
            }}
          >
            <rect
              x={x(index) - column / 2 + 1}
              y={2}
              width={column - 2}
              height={HEIGHT - 4}
              className={styles.stripColumn}
            />
            {finding.stations.map((station, nth) => {
              if (station.clearanceNm === null) return null;
              const at = x(index) + (nth - (finding.stations.length - 1) / 2) * 9;
              const spot = spotOf(station.clearanceNm, scale);
              const u = station.uncertaintyNm ?? 0;
              const key = `${station.place.height} ${station.place.clock}`;
              if (spot.beyond !== null) {
                const tip = spot.beyond === "above" ? TOP - 2 : TOP + plot + 2;
                const base = spot.beyond === "above" ? tip + 12 : tip - 12;
                return (
                  <path key={key} d={`M ${at} ${tip} L ${at - 5} ${base} H ${at + 5} Z`} className={styles.stripDot} />
                );
              }
              return (
                <g key={key}>
                  <path
                    d={`M ${at} ${y(station.clearanceNm - u)} V ${y(station.clearanceNm + u)}`}
                    className={styles.stripWhisker}
                  />
                  {station.place.clock === "axial" ? (
                    <circle cx={at} cy={y(station.clearanceNm)} r={4} className={styles.stripDot} />
                  ) : (
                    <rect
                      x={at - 4}
                      y={y(station.clearanceNm) - 4}
                      width={8}
                      height={8}
                      className={styles.stripSquare}
                    />
                  )}
                </g>
              );
            })}
            <text x={x(index)} y={HEIGHT - 12} className={styles.stripName} data-chosen={finding.name === chosen}>
              {finding.name}
            </text>
          </g>
        ))}
      </svg>
    </div>
  );
}

function labelOf(finding: BoreFinding, print: (length: Nm) => string): string {
  const { clearanceMinNm, clearanceMaxNm } = finding;
  if (clearanceMinNm === null || clearanceMaxNm === null) return `${finding.name}: not measured`;
  return `${finding.name}: ${print(clearanceMinNm)} to ${print(clearanceMaxNm)}, ${finding.verdict}`;
}

function Line({
  at,
  width,
  word,
  figure,
  kind,
}: {
  readonly at: number;
  readonly width: number;
  readonly word: string;
  readonly figure: string;
  readonly kind: "limit" | "service";
}): ReactNode {
  return (
    <>
      <path
        d={`M ${LEFT} ${at} H ${width - RIGHT}`}
        className={kind === "limit" ? styles.stripLimit : styles.stripService}
      />
      <text x={LEFT - 8} y={at + 5} textAnchor="end" className={styles.stripFigure}>
        {figure}
      </text>
      <text x={width - RIGHT + 8} y={at + 5} className={styles.stripWord}>
        {word}
      </text>
    </>
  );
}
