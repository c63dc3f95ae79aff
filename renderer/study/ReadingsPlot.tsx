import { type ReactNode, useId, useState } from "react";
import type { StudyReadings } from "../../core/bridge/messages.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { Choices } from "../parts/Choices.tsx";
import { lengthText } from "../parts/figure/printLength.ts";
import { useStore } from "../store/store.ts";
import { dotPlot } from "./dotPlot.ts";
import styles from "./study.module.css";

const HEIGHT = 260;
const TOP = 12;
const FOOT = 30;
const LEFT = 96;
const RIGHT = 12;

/** Every reading of a study by bore and person; people are told apart by shape. */
export function ReadingsPlot({ study }: { readonly study: StudyReadings }): ReactNode {
  const id = useId();
  const unit = useStore((state) => state.settings.unit);
  const [about, setAbout] = useState<"reading" | "bore">("reading");
  const { dots, lowNm, highNm, columns } = dotPlot(study, about);
  const column = Math.max(44, study.people.length * study.repeats * 9);
  const plotWidth = Math.max(560, column * study.bores.length);
  const width = LEFT + plotWidth + RIGHT;
  const plot = HEIGHT - TOP - FOOT;
  const print = (nm: number) => lengthText(toNm(nm) as Nm, unit, "difference", about === "bore").replace("-", "−");
  const values = dots.map((dot) => dot.valueNm);
  const title =
    values.length === 0
      ? "No reading yet"
      : `${values.length === 1 ? "1 reading" : `${values.length} readings`} of ${study.bores.length} bores by ${study.people.join(", ")}, from ${print(Math.min(...values))} to ${print(Math.max(...values))}`;
  const ticks = (values.length === 0 ? [] : [0.04, 0.5, 0.96]).map((at) => ({
    at,
    nm: highNm - at * (highNm - lowNm),
  }));
  return (
    <section aria-labelledby={`${id}-heading`} className={styles.part}>
      <h2 id={`${id}-heading`}>Readings by bore and person</h2>
      <div className={styles.plotHead}>
        <Choices
          label="Shown as"
          value={about}
          options={[
            { value: "reading", text: "Readings" },
            { value: "bore", text: "Off each bore's mean" },
          ]}
          onChoose={setAbout}
        />
        <ul className={styles.legend} aria-label="People">
          {study.people.map((person, index) => (
            <li key={person}>
              <svg viewBox="-8 -8 16 16" className={styles.key} aria-hidden="true">
                <Mark person={index} />
              </svg>
              {person}
            </li>
          ))}
        </ul>
      </div>
      <div className={styles.scroll}>
        <svg
          viewBox={`0 0 ${width} ${HEIGHT}`}
          className={styles.plot}
          style={{ minWidth: `${width}px` }}
          role="img"
          aria-labelledby={`${id}-title`}
        >
          <title id={`${id}-title`}>{title}</title>
          {ticks.map(({ at, nm }) => (
            <g key={at}>
              <path d={`M ${LEFT} ${TOP + at * plot} H ${width - RIGHT}`} className={styles.hair} />
              <text x={LEFT - 8} y={TOP + at * plot + 5} className={styles.tick} textAnchor="end">
                {print(nm)}
              </text>
            </g>
          ))}
          {columns.map(({ bore, x }, index) => (
            <g key={bore}>
              {index === 0 ? null : (
                <path
                  d={`M ${LEFT + (index / columns.length) * plotWidth} ${TOP} V ${HEIGHT - FOOT}`}
                  className={styles.hair}
                />
              )}
              <text x={LEFT + x * plotWidth} y={HEIGHT - 8} className={styles.bore} textAnchor="middle">
                {bore}
              </text>
            </g>
          ))}
          <path d={`M ${LEFT} ${TOP} V ${HEIGHT - FOOT} H ${width - RIGHT}`} className={styles.axis} />
          {dots.map((dot) => (
            <g
              key={`${dot.bore} ${dot.person} ${dot.x}`}
              transform={`translate(${LEFT + dot.x * plotWidth} ${TOP + dot.y * plot})`}
            >
              <Mark person={dot.person} />
            </g>
          ))}
        </svg>
      </div>
    </section>
  );
}

/** A person's mark: disc, ring, square, open square, wedge, open wedge, and so on again. */
function Mark({ person }: { readonly person: number }): ReactNode {
  const open = person % 2 === 1;
  const className = open ? styles.open : styles.full;
  switch (Math.floor(person / 2) % 3) {
    case 0:
      return <circle r={open ? 4 : 4.5} className={className} />;
    case 1:
      return <rect x={-4} y={-4} width={8} height={8} className={className} />;
    default:
      return <path d="M 0 -5 L 5 4 H -5 Z" className={className} />;
  }
}
