import { type ReactNode, useState } from "react";
import { spokenBore } from "../../core/block/spokenBore.ts";
import type { BoreFinding, Verdict } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import { type Comparison, comparisonSchema } from "../../core/report/comparisonSchema.ts";
import type { SessionView } from "../../core/session/view.ts";
import { Check } from "../parts/Choices.tsx";
import { classNames } from "../parts/classNames.ts";
import { Choice, Field } from "../parts/Field.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { printLength } from "../parts/figure/printLength.ts";
import { NameButton } from "../parts/NameButton.tsx";
import table from "../parts/table.module.css";
import { useAnswer, useMeasured } from "../parts/useAnswer.ts";
import { DeskPlan } from "../plan/DeskPlan.tsx";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { found, outcome, when } from "../start/sessionWords.ts";
import { useJob } from "../store/sessionJob.ts";
import { type SessionEntry, useStore } from "../store/store.ts";
import { ChangeChart } from "./ChangeChart.tsx";
import { earlierFirst } from "./earlierFirst.ts";
import styles from "./recheck.module.css";

/** So many sessions are offered at once; a word finds the others. */
const OFFERED = 60;
const MANY = 8;

/** This session laid over an earlier one of the same block: what changed, how sure, and whether it was planned. */
export function ComparePanel({ session, view }: { readonly session: string; readonly view: SessionView }): ReactNode {
  const sessions = useStore((state) => state.sessions);
  const block = useJob()?.block ?? "";
  const [asked, setAsked] = useState("");
  const [earlier, setEarlier] = useState("");
  const [newLifters, setNewLifters] = useState(false);
  const measured = useMeasured();
  const answer = useAnswer(
    "session.compare",
    earlier === "" ? null : { earlier, newLifters },
    measured,
    ({ comparison }) => {
      const parsed = comparisonSchema.safeParse(comparison);
      return parsed.success ? parsed.data : null;
    },
  );
  const others = earlierFirst(sessions ?? [], session, block);
  const matching = found(others, asked);
  const offered = matching.slice(0, OFFERED);
  const chosen = others.find(({ id }) => id === earlier);
  return (
    <section aria-labelledby="compare-heading" className={styles.compare}>
      <h2 id="compare-heading">Before and after</h2>
      <p className={styles.soft}>
        Lay this session over an earlier one of the same block, from before the machine shop had it: what was cut or
        worn away, and whether it was planned.
      </p>
      {sessions === null ? (
        <p className={styles.soft}>Looking for sessions…</p>
      ) : others.length === 0 ? (
        <p>
          There is no other session to compare with. Open the earlier one's file on Start, and it stands in the list.
        </p>
      ) : (
        <div className={styles.choose}>
          {others.length < MANY ? null : (
            <Field
              label="Find the earlier session"
              hint="by job, block, day or outcome"
              type="search"
              value={asked}
              autoComplete="off"
              onChange={({ target }) => setAsked(target.value)}
            />
          )}
          <Choice
            label="Earlier session"
            value={earlier}
            options={[
              { value: "", text: offered.length === 0 ? `none says “${asked}”` : "choose one" },
              ...(chosen === undefined || offered.includes(chosen)
                ? []
                : [{ value: earlier, text: entryText(chosen) }]),
              ...offered.map((entry) => ({ value: entry.id, text: entryText(entry) })),
            ]}
            onChange={({ target }) => setEarlier(target.value)}
          />
        </div>
      )}
      {earlier === "" ? null : (
        <Check
          label="The lifters are a new set: others than those of the same names then"
          checked={newLifters}
          onChange={setNewLifters}
        />
      )}
      <div role="status">
        {answer.refused === null ? null : (
          <p className={styles.refused}>
            <span aria-hidden="true">▲ </span>
            <strong>They can not be compared.</strong> {answer.refused}
          </p>
        )}
        {answer.busy && answer.value === null && earlier !== "" ? <p className={styles.soft}>Reading both…</p> : null}
      </div>
      {answer.value === null ? null : (
        <Changes comparison={answer.value} view={view} earlierSimulated={chosen?.simulated === true} />
      )}
    </section>
  );
}

function entryText(entry: SessionEntry): string {
  return [entry.title || entry.id, entry.block, when(entry.created), outcome(entry)]
    .filter((text) => text !== "")
    .join(", ");
}

function Changes({
  comparison,
  view,
  earlierSimulated,
}: {
  readonly comparison: Comparison;
  readonly view: SessionView;
  readonly earlierSimulated: boolean;
}): ReactNode {
  const [bore, setBore] = useState<string | null>(null);
  const [only, setOnly] = useState(false);
  const thisSimulated = useStore((state) => state.session?.simulated ?? false);
  const attention = comparison.bores.filter((one) => one.attention);
  const shown = only ? attention : comparison.bores;
  const { before, after } = comparison;
  const marks = [earlierSimulated ? "the earlier session" : null, thisSimulated ? "this session" : null].filter(
    (one) => one !== null,
  );
  return (
    <>
      <h3>{headline(comparison)}</h3>
      {marks.length === 0 ? null : (
        <p>
          <strong>SIMULATED gauges:</strong> {marks.join(" and ")}. This proves nothing about a block.
        </p>
      )}
      <dl className={styles.sides}>
        <div>
          <dt>Before</dt>
          <dd>{sideText(before)}</dd>
        </div>
        <div>
          <dt>After, this session</dt>
          <dd>{sideText(after)}</dd>
        </div>
      </dl>
      {attention.length === 0 ? null : (
        <section aria-labelledby="look-heading" className={styles.attention}>
          <h3 id="look-heading">Look at {attention.length === 1 ? "this bore" : "these bores"}</h3>
          <ul className={styles.lines}>
            {attention.map(({ name, text }) => (
              <li key={name}>
                <NameButton name={name} onChoose={setBore} /> {text}
              </li>
            ))}
          </ul>
        </section>
      )}
      <div className={styles.compareTop}>
        <ChangesPlan comparison={comparison} view={view} chosen={bore} onChoose={setBore} />
        <div className={styles.chartSide}>
          <h3>Change of every station</h3>
          <ChangeChart bores={comparison.bores} chosen={bore} onChoose={setBore} />
          <p className={styles.soft}>
            Diameter after less diameter before: above the line, larger. The stroke through each is its 95 %
            uncertainty; a hollow mark is no more than that.
          </p>
        </div>
      </div>
      <Check label="Only bores to look at" checked={only} onChange={setOnly} />
      {shown.length === 0 ? (
        <p>None asks to be looked at.</p>
      ) : (
        <ChangesTable bores={shown} chosen={bore} onChoose={setBore} />
      )}
      {comparison.notes.map((note) => (
        <p key={note} className={styles.soft}>
          {note}
        </p>
      ))}
    </>
  );
}

function sideText({ title, block, created }: Comparison["before"]): string {
  return [title || "no name", block, when(created)].filter((text) => text !== "").join(", ");
}

function headline({ bores }: Comparison): string {
  const larger = bores.filter(({ change }) => change === "larger").length;
  const smaller = bores.filter(({ change }) => change === "smaller").length;
  const attention = bores.filter((one) => one.attention).length;
  const parts = [
    larger === 0 ? null : `${larger} ${larger === 1 ? "bore is" : "bores are"} larger`,
    smaller === 0 ? null : `${smaller} ${smaller === 1 ? "bore is" : "bores are"} smaller`,
  ].filter((one) => one !== null);
  const what = parts.length === 0 ? "No bore changed beyond its uncertainty" : parts.join(", ");
  return attention === 0 ? `${what}; all as planned` : `${what}; ${attention} to look at`;
}

const CHANGE_MARKS: Readonly<Record<Comparison["bores"][number]["change"], string>> = {
  larger: "◁▷",
  smaller: "▷◁",
  "none seen": "=",
  "not known": "?",
};

function ChangesPlan({
  comparison,
  view,
  chosen,
  onChoose,
}: {
  readonly comparison: Comparison;
  readonly view: SessionView;
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  const job = useJob();
  const unit = useStore((state) => state.settings.unit);
  if (job === null) return null;
  const known = new Map(comparison.bores.map((bore) => [bore.name, bore]));
  const findings = view.bores.map((bore): BoreFinding => {
    const verdict = known.get(bore.name)?.verdictAfter ?? bore.verdict;
    return { ...bore, verdict, preferred: bore.preferred && verdict === bore.verdict };
  });
  return (
    <figure className={styles.planSide}>
      <DeskPlan
        layout={job.layout}
        findings={findings}
        here={chosen}
        hereWord="looked at"
        width={[520, 760]}
        onChoose={onChoose}
        figures={({ name }) => {
          const bore = known.get(name);
          if (bore === undefined || bore.changeMaxNm === null) return [];
          if (bore.change === "none seen" || bore.change === "not known") return [CHANGE_MARKS[bore.change]];
          const nm = bore.change === "larger" ? bore.changeMaxNm : (bore.changeMinNm ?? bore.changeMaxNm);
          return [printLength(nm as Nm, unit, "difference", true).text.replace("-", "−")];
        }}
      />
      <figcaption className={styles.soft}>
        The mark is the verdict now; beside it the largest change of a bore that changed (
        {printLength(0 as Nm, unit).unit}), and = where none is seen.
      </figcaption>
    </figure>
  );
}

function ChangesTable({
  bores,
  chosen,
  onChoose,
}: {
  readonly bores: Comparison["bores"];
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const unitWord = printLength(0 as Nm, unit).unit;
  return (
    <div className={classNames(table.scroll, styles.scroll)}>
      <table className={classNames(table.table, styles.table)}>
        <caption className="unseen">Diameters before and after, station by station, changes in {unitWord}</caption>
        <thead>
          <tr>
            <th scope="col">Bore</th>
            <th scope="col">Station</th>
            <th scope="col" className={styles.right}>
              Before
            </th>
            <th scope="col" className={styles.right}>
              After
            </th>
            <th scope="col" className={styles.right}>
              Change, {unitWord}
            </th>
            <th scope="col" className={styles.right}>
              U 95 %
            </th>
            <th scope="col">Verdict before</th>
            <th scope="col">Verdict after</th>
          </tr>
        </thead>
        {bores.map((bore) => {
          const rows = Math.max(1, bore.stations.length);
          return (
            <tbody key={bore.name} data-chosen={bore.name === chosen} data-attention={bore.attention}>
              {(bore.stations.length === 0 ? [null] : bore.stations).map((station, index) => (
                <tr key={station === null ? "none" : `${station.height} ${station.clock}`}>
                  {index === 0 ? (
                    <th scope="rowgroup" rowSpan={rows + 1}>
                      <NameButton name={bore.name} spoken={spokenBore(bore.name)} onChoose={onChoose} />
                    </th>
                  ) : null}
                  <td className={styles.nowrap}>{station === null ? "none" : `${station.height} ${station.clock}`}</td>
                  <td className={styles.right}>
                    <Figure
                      length={(station?.beforeNm ?? null) as Nm | null}
                      kind="diameter"
                      bare
                      none="not measured"
                    />
                  </td>
                  <td className={styles.right}>
                    <Figure length={(station?.afterNm ?? null) as Nm | null} kind="diameter" bare none="not measured" />
                  </td>
                  <td className={styles.right}>
                    <strong>
                      <Figure length={(station?.changeNm ?? null) as Nm | null} sign bare none="not known" />
                    </strong>
                  </td>
                  <td className={styles.right}>
                    <Figure length={(station?.uncertaintyNm ?? null) as Nm | null} bare none="not known" />
                  </td>
                  {index === 0 ? (
                    <>
                      <td rowSpan={rows}>
                        <VerdictWord verdict={bore.verdictBefore} />
                      </td>
                      <td rowSpan={rows}>
                        <VerdictWord verdict={bore.verdictAfter} />
                      </td>
                    </>
                  ) : null}
                </tr>
              ))}
              <tr className={styles.continued}>
                <td colSpan={7}>
                  {bore.attention ? <strong>▲ Look at it. </strong> : null}
                  <span aria-hidden="true">{CHANGE_MARKS[bore.change]} </span>
                  {bore.text}
                </td>
              </tr>
            </tbody>
          );
        })}
      </table>
    </div>
  );
}

function VerdictWord({ verdict }: { readonly verdict: Verdict }): ReactNode {
  return (
    <span className={table.verdict}>
      <VerdictPicture verdict={verdict} />
      {verdict}
    </span>
  );
}
