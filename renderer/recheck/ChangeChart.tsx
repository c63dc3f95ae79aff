import { type ReactNode, useId } from "react";
import type { Nm } from "../../core/length/nm.ts";
import type { Comparison } from "../../core/report/comparisonSchema.ts";
import { lengthText, printLength } from "../parts/figure/printLength.ts";
import { useStore } from "../store/store.ts";
import { changeScale } from "./changeScale.ts";
import styles from "./recheck.module.css";

const HEIGHT = 300;
const TOP = 16;
const FOOT = 46;
const LEFT = 84;
/** So far it is made smaller before it scrolls. */
const LEAST = 0.86;

/** The change of every station with its uncertainty about a line of no change, bore beside bore. */
export function ChangeChart({
  bores,
  chosen,
  onChoose,
}: {
  readonly bores: Comparison["bores"];
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  const id = useId();
  const unit = useStore((state) => state.settings.unit);
  const most = Math.max(1, ...bores.map(({ stations }) => stations.length));
  const column = Math.max(34, most * 9 + 14);
  const width = LEFT + 12 + column * Math.max(1, bores.length);
  const scale = changeScale(bores, unit === "in" || unit === "tenths");
  const plot = HEIGHT - TOP - FOOT;
  const y = (nm: number) => TOP + plot * (1 - (nm - scale.fromNm) / (scale.toNm - scale.fromNm));
  return (
    <div className={styles.chartBox}>
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing, not a set of fields. */}
      <svg
        viewBox={`0 0 ${width} ${HEIGHT}`}
        className={styles.chart}
        style={{ minWidth: `${Math.round(width * LEAST)}px` }}
        role="group"
        aria-labelledby={`${id}-title`}
      >
        <title id={`${id}-title`}>Change of every station, bore beside bore</title>
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: lines and letters, nothing here takes the focus. */}
        <g aria-hidden="true">
          {scale.marksNm.map((nm) => (
            <g key={nm}>
              <path d={`M ${LEFT} ${y(nm)} H ${width - 12}`} className={nm === 0 ? styles.zero : styles.mark} />
              <text x={LEFT - 8} y={y(nm) + 5} textAnchor="end" className={styles.chartFigure}>
                {printLength(nm as Nm, unit, "difference", true).text.replace("-", "−")}
              </text>
            </g>
          ))}
        </g>
        {bores.map((bore, index) => {
          const middle = LEFT + column * (index + 0.5);
          return (
            // biome-ignore lint/a11y/useSemanticElements: SVG has no button of its own.
            <g
              key={bore.name}
              role="button"
              tabIndex={0}
              aria-label={labelOf(bore, (nm) => lengthText(nm as Nm, unit, "difference", true))}
              aria-pressed={bore.name === chosen}
              className={styles.chartBore}
              onClick={() => onChoose(bore.name)}
              onKeyDown={(event) => {
                if (event.key !== "Enter" && event.key !== " ") return;
                event.preventDefault();
                onChoose(bore.name);
              }}
            >
              <rect
                x={middle - column / 2 + 1}
                y={2}
                width={column - 2}
                height={HEIGHT - 4}
                className={styles.chartColumn}
              />
              {bore.stations.map(({ height, clock, changeNm, uncertaintyNm }, nth) => {
                if (changeNm === null) return null;
                const at = middle + (nth - (bore.stations.length - 1) / 2) * 9;
                const u = uncertaintyNm ?? 0;
                const seen = Math.abs(changeNm) > u;
                return (
                  <g key={`${height} ${clock}`}>
                    <path d={`M ${at} ${y(changeNm - u)} V ${y(changeNm + u)}`} className={styles.whisker} />
                    {clock === "axial" ? (
                      <circle cx={at} cy={y(changeNm)} r={4} className={seen ? styles.seen : styles.unseen} />
                    ) : (
                      <rect
                        x={at - 4}
                        y={y(changeNm) - 4}
                        width={8}
                        height={8}
                        className={seen ? styles.seen : styles.unseen}
                      />
                    )}
                  </g>
                );
              })}
              {bore.attention ? (
                <text x={middle} y={HEIGHT - 28} className={styles.chartName}>
                  ▲
                </text>
              ) : null}
              <text x={middle} y={HEIGHT - 12} className={styles.chartName} data-chosen={bore.name === chosen}>
                {bore.name}
              </text>
            </g>
          );
        })}
      </svg>
    </div>
  );
}

function labelOf(
  { name, change, changeMinNm, changeMaxNm, attention }: Comparison["bores"][number],
  print: (nm: number) => string,
): string {
  const range = changeMinNm === null || changeMaxNm === null ? "" : `, ${print(changeMinNm)} to ${print(changeMaxNm)}`;
  return `${name}: ${change}${range}${attention ? ", to look at" : ""}`;
}
