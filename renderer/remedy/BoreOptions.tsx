import { type ReactNode, useState } from "react";
import { spokenBore } from "../../core/block/spokenBore.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { Remedy } from "../../core/report/remedySchema.ts";
import { Button } from "../parts/Button.tsx";
import { Check } from "../parts/Choices.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import table from "../parts/table.module.css";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { cuts, KIND_TITLES, type RemedyBore, type RemedyOption, takenOption } from "./kinds.ts";
import styles from "./remedy.module.css";
import { optionFor, optionKey, type Takes, whyNotTaken } from "./takes.ts";

interface Row {
  readonly title: string;
  readonly of: (option: RemedyOption, bore: RemedyBore) => ReactNode;
}

/** Everything that can be done with one bore, side by side, possible or not and why. */
export function BoreOptions({
  remedy,
  bore,
  takes,
  onTake,
}: {
  /** As the host gave it. */
  readonly remedy: Remedy;
  readonly bore: RemedyBore;
  readonly takes: Takes;
  /** Takes an option for the bore; null goes back to the plan's. */
  readonly onTake: (key: string | null) => void;
}): ReactNode {
  const planned = takenOption(remedy, bore);
  const taken = optionFor(remedy, takes, bore);
  const [everyBody, setEveryBody] = useState(false);
  const bodies = bore.options.filter(({ kind }) => kind === "body");
  const shown = bore.options.filter(
    (option) => everyBody || option.kind !== "body" || same(option, taken) || option === bodies[0],
  );
  // The plan's own, where it is none of them.
  const options = planned === null || shown.some((option) => same(option, planned)) ? shown : [planned, ...shown];
  return (
    <section className={styles.boreOptions} aria-labelledby="options-heading">
      <h2 id="options-heading" className={styles.boreHeading}>
        <VerdictPicture verdict={bore.verdict} size="1.8rem" />
        <span>
          {spokenBore(bore.name)}: {bore.verdict}
        </span>
      </h2>
      {bore.diameterMinNm === null ? null : (
        <p>
          Now <Figure length={bore.diameterMinNm as Nm} kind="diameter" bare /> to{" "}
          <Figure length={bore.diameterMaxNm as Nm | null} kind="diameter" /> at 20 °C.
        </p>
      )}
      {bore.advice ? <p className={styles.advice}>{bore.advice}</p> : null}
      {bodies.length < 2 ? null : <Check label="Every larger body size" checked={everyBody} onChange={setEveryBody} />}
      {bore.options.length === 0 ? (
        <p className={styles.soft}>
          {bore.verdict === "not measured"
            ? "It is not measured at every station under a zero that holds, so nothing can be said of it."
            : "Nothing is worked out for it."}
        </p>
      ) : (
        <div className={table.scroll}>
          <table className={styles.sideBySide}>
            <caption className="unseen">What can be done with {spokenBore(bore.name)}, side by side</caption>
            <thead>
              <tr>
                <td />
                {options.map((option) => (
                  <th
                    key={optionKey(option)}
                    scope="col"
                    data-taken={same(option, taken)}
                    data-possible={option.possible}
                  >
                    {KIND_TITLES[option.kind]}
                    <span className={styles.small}>
                      {same(option, taken)
                        ? same(option, planned)
                          ? "► the plan"
                          : "► taken by hand"
                        : option.possible
                          ? "possible"
                          : "✕ not possible"}
                    </span>
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {ROWS.map(({ title, of }) => (
                <tr key={title}>
                  <th scope="row">{title}</th>
                  {options.map((option) => (
                    <td key={optionKey(option)} data-taken={same(option, taken)} data-possible={option.possible}>
                      {of(option, bore)}
                    </td>
                  ))}
                </tr>
              ))}
              <tr>
                <th scope="row">For the sheet</th>
                {options.map((option) => (
                  <td key={optionKey(option)} data-taken={same(option, taken)} data-possible={option.possible}>
                    <Take
                      option={option}
                      taken={same(option, taken)}
                      why={whyNotTaken(remedy, bore, option)}
                      onTake={() => onTake(same(option, planned) ? null : optionKey(option))}
                    />
                  </td>
                ))}
              </tr>
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}

/** Two of a bore's options are the same one. */
function same(option: RemedyOption, other: RemedyOption | null): boolean {
  return other !== null && optionKey(option) === optionKey(other);
}

function Take({
  option,
  taken,
  why,
  onTake,
}: {
  readonly option: RemedyOption;
  readonly taken: boolean;
  readonly why: string | null;
  readonly onTake: () => void;
}): ReactNode {
  if (taken) return <strong>taken</strong>;
  if (!option.possible && option.kind !== "leave") return none;
  if (why !== null) return <span className={styles.small}>{why}</span>;
  return (
    <Button aria-label={`Take this: ${KIND_TITLES[option.kind]}`} onClick={onTake}>
      Take this
    </Button>
  );
}

const none = <span aria-hidden="true">–</span>;

const ROWS: readonly Row[] = [
  {
    title: "For lifter",
    of: ({ lifter, lifterNm, kind }) => (
      <>
        {lifter === undefined ? null : <strong>{lifter} </strong>}
        <Figure length={lifterNm as Nm} kind="diameter" />
        {lifter === undefined && kind === "body" ? <span className={styles.small}>still to be bought</span> : null}
      </>
    ),
  },
  {
    title: "Finish between",
    of: ({ finishLowNm, finishHighNm, possible }) =>
      finishLowNm === null || finishHighNm === null || !possible ? (
        none
      ) : (
        <>
          <Figure length={finishLowNm as Nm} kind="diameter" />
          <br />
          and <Figure length={finishHighNm as Nm} kind="diameter" />
        </>
      ),
  },
  {
    title: "Not to pass",
    of: ({ finishHighNm }) =>
      finishHighNm === null ? none : <strong>{<Figure length={finishHighNm as Nm} kind="diameter" />}</strong>,
  },
  {
    title: "Remove on diameter, to the middle of it",
    of: ({ kind, removeNm, removeAtLargestNm, possible }) =>
      !cuts(kind) || !possible || removeNm === 0 ? (
        none
      ) : (
        <>
          <Figure length={removeNm as Nm} />
          {removeAtLargestNm === undefined ? null : (
            <span className={styles.small}>
              where it is smallest; <Figure length={removeAtLargestNm as Nm} /> where largest
            </span>
          )}
        </>
      ),
  },
  {
    title: "Clearance it ends at",
    of: ({ clearanceLowNm, clearanceHighNm }) =>
      clearanceLowNm === null ||
      clearanceLowNm === undefined ||
      clearanceHighNm === null ||
      clearanceHighNm === undefined ? (
        none
      ) : (
        <>
          <Figure length={clearanceLowNm as Nm} bare /> to <Figure length={clearanceHighNm as Nm} />
        </>
      ),
  },
  {
    title: "Rough order of effort",
    of: ({ effort }) => (
      <>
        <span aria-hidden="true" className={styles.effort}>
          {"▮".repeat(Math.min(6, effort))}
        </span>{" "}
        {effort === 0 ? "0, nothing" : effort}
      </>
    ),
  },
  {
    title: "Measure again with",
    of: ({ measureOn, kind }) =>
      measureOn === null || measureOn === undefined || !cuts(kind)
        ? none
        : measureOn === "its lifter"
          ? "the micrometer set to the lifter that goes in"
          : "the micrometer set to any lifter, as before",
  },
  { title: "Why, or why not", of: ({ why }, { advice }) => (advice ? why.replace(advice, "").trim() : why) },
  {
    title: "Not known here; to be looked at",
    of: ({ unknown }) =>
      unknown.length === 0 ? (
        none
      ) : (
        <ul className={styles.bullets}>
          {unknown.map((one) => (
            <li key={one}>{one}</li>
          ))}
        </ul>
      ),
  },
];
