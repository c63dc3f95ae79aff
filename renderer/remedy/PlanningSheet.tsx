import type { ReactNode } from "react";
import type { WhatIfInput } from "../../core/bridge/messages.ts";
import { MATERIALS } from "../../core/fit/materials.ts";
import type { Nm } from "../../core/length/nm.ts";
import { type Planning, type PlanningFigure, planningSchema } from "../../core/report/planningSchema.ts";
import { Button } from "../parts/Button.tsx";
import { classNames } from "../parts/classNames.ts";
import { Details } from "../parts/Details.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import table from "../parts/table.module.css";
import { useAnswer, useMeasured } from "../parts/useAnswer.ts";
import { type AssumptionName, type PlanningDraft, readPlanning } from "./planningDraft.ts";
import styles from "./remedy.module.css";
import type { RemedyDesk } from "./remedyDesk.ts";

type Assumption = Planning["assumptions"][number];

/** Estimates for planning: running clearance, leak past the lifter, tilt; with what they assume, which can be changed. */
export function PlanningSheet({
  desk,
  change,
  whatIf,
}: {
  readonly desk: RemedyDesk;
  readonly change: (part: Partial<RemedyDesk>) => void;
  readonly whatIf: WhatIfInput | null;
}): ReactNode {
  const measured = useMeasured();
  const { assumptions, errors } = readPlanning(desk.planning);
  const input = { assumptions, ...(whatIf === null ? {} : { whatIf }) };
  const { value, refused, busy } = useAnswer("session.planning", input, measured, ({ planning }) => {
    const parsed = planningSchema.safeParse(planning);
    return parsed.success ? parsed.data : null;
  });
  const say = (name: AssumptionName, text: string) => change({ planning: { ...desk.planning, [name]: text } });
  return (
    <>
      <p>
        <strong>Estimates, every figure here.</strong> Nothing of it was measured; what a maker's sheet says comes
        first.
      </p>
      <div role="status" className={styles.status}>
        {refused === null ? null : (
          <p className={styles.refused}>
            <span aria-hidden="true">▲ </span>
            <strong>No figures can be given.</strong> {refused}
          </p>
        )}
        {busy && value === null ? <p className={styles.soft}>Working the figures out…</p> : null}
      </div>
      {value === null ? null : <Figures planning={value} />}
      {value === null && refused === null ? null : (
        <Assumptions
          assumptions={value?.assumptions ?? null}
          draft={desk.planning}
          errors={errors}
          say={say}
          onBack={() => change({ planning: {} })}
        />
      )}
      {value?.notes.map((note) => (
        <p key={note} className={styles.soft}>
          {note}
        </p>
      ))}
    </>
  );
}

function Figures({ planning }: { readonly planning: Planning }): ReactNode {
  const { block, middleOfBand, bores } = planning;
  return (
    <section aria-labelledby="figures-heading" className={styles.part}>
      <h2 id="figures-heading">Running clearance, leak and tilt: estimates</h2>
      <FigureTable
        caption="Estimates for the middle of the band and for this block"
        rows={[
          { title: "Middle of the band, to compare with", figure: middleOfBand },
          ...(block === null
            ? []
            : [
                { title: `Tightest place, ${block.smallest.bore}`, figure: block.smallest },
                { title: `Middle one of the bores, ${block.middle.bore}`, figure: block.middle },
                { title: `Loosest place, ${block.largest.bore}`, figure: block.largest },
              ]),
        ]}
      />
      {bores.length === 0 ? null : (
        <Details summary="Bore by bore">
          <FigureTable
            caption="Estimates bore by bore, at the middle of each one's clearances"
            rows={bores.map(({ name, middle }) => ({ title: name, figure: middle }))}
          />
        </Details>
      )}
    </section>
  );
}

function FigureTable({
  caption,
  rows,
}: {
  readonly caption: string;
  readonly rows: readonly { readonly title: string; readonly figure: PlanningFigure }[];
}): ReactNode {
  return (
    <div className={table.scroll}>
      <table className={classNames(table.table, styles.table, styles.figures)}>
        <caption className="unseen">{caption}</caption>
        <thead>
          <tr>
            <th scope="col">Where</th>
            <th scope="col" className={styles.right}>
              Clearance at 20 °C
            </th>
            <th scope="col" className={styles.right}>
              Running, estimate
            </th>
            <th scope="col" className={styles.right}>
              Leak beside the middle of the band, estimate
            </th>
            <th scope="col" className={styles.right}>
              Leak, estimate
            </th>
            <th scope="col" className={styles.right}>
              Tilt it allows, estimate
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ title, figure }) => (
            <tr key={title}>
              <th scope="row" className={styles.words}>
                <strong>{title}</strong>
                {isPlain(figure) ? null : <span className={styles.small}>{figure.text}</span>}
              </th>
              <td className={styles.right}>
                <Figure length={figure.clearanceNm as Nm} />
              </td>
              <td className={styles.right}>
                <Figure length={figure.runningNm as Nm} />
                <span className={styles.small}>
                  ± <Figure length={figure.runningHalfWidthNm as Nm} />
                </span>
              </td>
              <td className={styles.right}>{figure.leakTimesMiddle === null ? "–" : times(figure.leakTimesMiddle)}</td>
              <td className={styles.right}>
                {figure.leakMlPerMin === null ? "–" : `${figure.leakMlPerMin.toPrecision(3)} mL/min`}
              </td>
              <td className={styles.right}>
                {figure.tiltDegrees.toFixed(3)}°
                <span className={styles.small}>{figure.tiltMilliradians.toFixed(2)} mrad</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The columns say it all; otherwise the sentence says what is wrong. */
function isPlain({ runningNm, leakMlPerMin, leakTimesMiddle }: PlanningFigure): boolean {
  return runningNm > 0 && leakMlPerMin !== null && leakTimesMiddle !== null;
}

/** How many times as much, with two digits: an estimate carries no more. */
function times(ratio: number): string {
  return `${ratio === 0 ? "0" : ratio.toPrecision(2)} ×`;
}

function Assumptions({
  assumptions,
  draft,
  errors,
  say,
  onBack,
}: {
  readonly assumptions: readonly Assumption[] | null;
  readonly draft: PlanningDraft;
  readonly errors: Readonly<Partial<Record<AssumptionName, string>>>;
  readonly say: (name: AssumptionName, text: string) => void;
  readonly onBack: () => void;
}): ReactNode {
  return (
    <section aria-labelledby="assumptions-heading" className={styles.part}>
      <div className={styles.partHead}>
        <h2 id="assumptions-heading">What the figures assume</h2>
        {Object.values(draft).every((text) => text === "") ? null : (
          <Button onClick={onBack}>Back to the defaults</Button>
        )}
      </div>
      <div className={styles.assumptions}>
        {assumptions?.map((one) => (
          <AssumptionField
            key={one.name}
            one={one}
            text={draft[one.name] ?? ""}
            error={errors[one.name]}
            say={(text) => say(one.name, text)}
          />
        ))}
      </div>
    </section>
  );
}

function AssumptionField({
  one,
  text,
  error,
  say,
}: {
  readonly one: Assumption;
  readonly text: string;
  readonly error: string | undefined;
  readonly say: (text: string) => void;
}): ReactNode {
  const label = capital(one.unit === "" ? one.title : `${one.title}, ${one.unit}`);
  const hint = `${capital(one.mark === "given" ? "given here" : one.mark)}. ${one.text}`;
  if (one.name === "blockMaterial" || one.name === "lifterMaterial") {
    const known = Object.keys(MATERIALS);
    const own = String(one.value);
    const options = [...known, ...(known.includes(own) ? [] : [own])];
    return (
      <Choice
        label={label}
        value={text === "" ? own : text}
        options={options.map((id) => ({ value: id, text: id }))}
        onChange={({ target }) => say(target.value)}
        error={error}
        hint={hint}
      />
    );
  }
  return (
    <Field
      label={label}
      value={text}
      placeholder={String(one.value)}
      autoComplete="off"
      onChange={({ target }) => say(target.value)}
      error={error}
      hint={hint}
    />
  );
}

const capital = (text: string) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
