import type { ReactNode } from "react";
import type { Clock, StationPlace } from "../../core/block/layout.ts";
import { Check, Choices } from "../parts/Choices.tsx";
import { errorAt, useDraft } from "./draft.ts";
import styles from "./JobPlace.module.css";
import { Section } from "./Section.tsx";

const HEIGHTS = ["upper", "middle", "lower"];
const CLOCKS: readonly { clock: Clock; text: string }[] = [
  { clock: "axial", text: "along the crank" },
  { clock: "cross", text: "across the crank" },
];

export function WalkSection(): ReactNode {
  const { file, error, change } = useDraft();
  const stations = file.stations ?? [];
  const own = Array.isArray(file.walk);
  // A taken job file may name heights in its own words.
  const heights = [...HEIGHTS, ...new Set(stations.map((one) => one.height))].filter(
    (height, index, all) => all.indexOf(height) === index,
  );
  const toggle = (place: StationPlace, on: boolean) => {
    const chosen = (one: StationPlace) =>
      one.height === place.height && one.clock === place.clock
        ? on
        : stations.some((other) => other.height === one.height && other.clock === one.clock);
    change({ stations: heights.flatMap((height) => CLOCKS.map(({ clock }) => ({ height, clock }))).filter(chosen) });
  };
  const wrong = errorAt(error, "stations") ?? errorAt(error, "walk");
  return (
    <Section number={5} title="Walk">
      <Choices
        label="From bore to bore"
        value={own ? "own" : ((file.walk as "bank" | "firing" | undefined) ?? "bank")}
        options={[
          { value: "bank", text: "Bank by bank, front to rear" },
          { value: "firing", text: "In firing order, intake then exhaust" },
          ...(own ? [{ value: "own", text: "As listed in the job file" }] : []),
        ]}
        onChoose={(walk) => {
          if (walk !== "own") change({ walk: walk as "bank" | "firing" });
        }}
      />
      <fieldset className={styles.stations}>
        <legend>Stations of every bore</legend>
        {heights.map((height) => (
          <div key={height} className={styles.stationRow}>
            <span className={styles.height}>{height}</span>
            {CLOCKS.map(({ clock, text }) => (
              <Check
                key={clock}
                label={
                  <>
                    <span className="unseen">{height} </span>
                    {text}
                  </>
                }
                checked={stations.some((one) => one.height === height && one.clock === clock)}
                onChange={(on) => toggle({ height, clock }, on)}
              />
            ))}
          </div>
        ))}
        <p className={styles.note}>Two heights show taper; two directions show out-of-round. Keep off the oil holes.</p>
        {wrong === null ? null : <p className={styles.wrong}>▲ {wrong}</p>}
      </fieldset>
    </Section>
  );
}
