import { Fragment, type ReactNode } from "react";
import type { WhatIfInput } from "../../core/bridge/messages.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import { LengthError, parseLength } from "../../core/length/parseLength.ts";
import { type Remedy, remedySchema } from "../../core/report/remedySchema.ts";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import { Button } from "../parts/Button.tsx";
import { classNames } from "../parts/classNames.ts";
import { Field } from "../parts/Field.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { NameButton } from "../parts/NameButton.tsx";
import table from "../parts/table.module.css";
import { type Answer, useAnswer, useMeasured } from "../parts/useAnswer.ts";
import { DeskPlan } from "../plan/DeskPlan.tsx";
import { TurnButton } from "../plan/TurnButton.tsx";
import { VerdictPicture } from "../plan/VerdictMark.tsx";
import { BlockPlans } from "./BlockPlans.tsx";
import { BoreOptions } from "./BoreOptions.tsx";
import { deedAt, firstToLookAt, KIND_TITLES, KIND_WORDS, type RemedyBore, takenOption } from "./kinds.ts";
import { longBank } from "./longBank.ts";
import styles from "./remedy.module.css";
import type { RemedyDesk } from "./remedyDesk.ts";
import { withTakes } from "./takes.ts";

/**
 * The remedies under what is tried on the desk. Nothing is asked while the body size makes no sense, nor before a part
 * of the place shows them: the host has a walk to listen to, and they are the longest of its sums.
 */
export function useRemedy(desk: RemedyDesk, whatIf: WhatIfInput | null): Answer<Remedy> {
  const measured = useMeasured();
  const body = desk.body.trim();
  const wanted = desk.sheet === "bores" || desk.sheet === "shop";
  const input =
    wanted && bodyError(body) === null
      ? { notes: desk.notes, ...(body === "" ? {} : { lifter: body }), ...(whatIf === null ? {} : { whatIf }) }
      : null;
  return useAnswer("session.remedy", input as never, measured, ({ remedy }) => {
    const parsed = remedySchema.safeParse(remedy);
    return parsed.success ? parsed.data : null;
  });
}

/** Why a body size can not be read; null for one that can, and for none. */
export function bodyError(text: string): string | null {
  if (text.trim() === "") return null;
  try {
    return parseLength(text) > 0 ? null : "Expected a size above zero.";
  } catch (error) {
    if (!(error instanceof LengthError)) throw error;
    return `${error.message.charAt(0).toUpperCase()}${error.message.slice(1)}.`;
  }
}

export interface RemedySheetProps {
  readonly job: Job;
  readonly view: SessionView;
  readonly desk: RemedyDesk;
  readonly change: (part: Partial<RemedyDesk>) => void;
  readonly answer: Answer<Remedy>;
}

/** What can be done with each bore, side by side, and with the block as a whole. */
export function OptionsSheet({ job, view, desk, change, answer }: RemedySheetProps): ReactNode {
  const remedy = answer.value;
  const wrong = bodyError(desk.body) ?? (desk.body.trim() === "" ? null : answer.refused);
  return (
    <>
      <div className={styles.bodyField} data-print="no">
        <Field
          label="Body size for larger lifters and bushes, with its unit"
          value={desk.body}
          placeholder="every standard size above"
          autoComplete="off"
          onChange={({ target }) => change({ body: target.value })}
          error={wrong}
          hint="Such as 0.8750 in or 22.225 mm; empty for the sizes in common use, and a bush back to the present lifter."
        />
      </div>
      <div role="status" className={styles.status}>
        {answer.refused === null || wrong !== null ? null : (
          <p className={styles.refused}>
            <span aria-hidden="true">▲ </span>
            <strong>No remedy can be worked out.</strong> {answer.refused}
          </p>
        )}
        {answer.busy && remedy === null ? <p className={styles.soft}>Working out what can be done…</p> : null}
      </div>
      {remedy === null ? null : <Options job={job} view={view} desk={desk} change={change} remedy={remedy} />}
    </>
  );
}

function Options({
  job,
  view,
  desk,
  change,
  remedy,
}: Omit<RemedySheetProps, "answer"> & { readonly remedy: Remedy }): ReactNode {
  const bore = remedy.bores.find(({ name }) => name === desk.bore) ?? firstToLookAt(remedy);
  const choose = (name: string) => change({ bore: name });
  const followed = withTakes(remedy, desk.takes);
  const take = (name: string, key: string | null) => {
    const { [name]: _, ...others } = desk.takes;
    change({ takes: key === null ? others : { ...others, [name]: key } });
  };
  return (
    <>
      <BlockPlans remedy={followed} byHand={followed !== remedy} />
      {followed === remedy ? null : (
        <div>
          <Button onClick={() => change({ takes: {} })}>Back to the plan</Button>
        </div>
      )}
      {bore === undefined ? null : (
        <BoreOptions remedy={remedy} bore={bore} takes={desk.takes} onTake={(key) => take(bore.name, key)} />
      )}
      <div className={styles.beside}>
        <section aria-labelledby="every-heading" className={styles.part}>
          <h2 id="every-heading">Every bore, as the plan has it</h2>
          <EveryBore remedy={followed} chosen={bore?.name ?? null} onChoose={choose} />
        </section>
        <KindsPlan job={job} view={view} remedy={followed} chosen={bore?.name ?? null} onChoose={choose} />
      </div>
      {(remedy.notes ?? []).map((note) => (
        <p key={note} className={styles.soft}>
          {note}
        </p>
      ))}
      <Cautions cautions={remedy.cautions ?? []} />
    </>
  );
}

/** What can hurt someone or spoil a block, as the host says it. */
export function Cautions({ cautions }: { readonly cautions: readonly string[] }): ReactNode {
  if (cautions.length === 0) return null;
  return (
    <section aria-labelledby="cautions-heading" className={styles.caution}>
      <h2 id="cautions-heading">Cautions</h2>
      <ul className={styles.bullets}>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </section>
  );
}

function KindsPlan({
  job,
  view,
  remedy,
  chosen,
  onChoose,
}: {
  readonly job: Job;
  readonly view: SessionView;
  readonly remedy: Remedy;
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  const long = longBank(job.layout);
  const known = new Map(remedy.bores.map((bore) => [bore.name, bore]));
  const findings = view.bores.map((bore): BoreFinding => {
    const verdict = known.get(bore.name)?.verdict ?? bore.verdict;
    return { ...bore, verdict, preferred: bore.preferred && verdict === "fits" };
  });
  return (
    <section aria-labelledby="kinds-heading" className={styles.planSide}>
      <h2 id="kinds-heading">The plan on the block</h2>
      <DeskPlan
        layout={job.layout}
        findings={findings}
        here={chosen}
        hereWord="shown beside"
        width={[long ? 320 : 420, 640]}
        long={long}
        onChoose={onChoose}
        figures={({ name }) => {
          const deed = deedAt(remedy, { name });
          if (deed === null || deed.kind === "leave") return [];
          const lifter = deed.moves === true ? [`◄ ${deed.lifter}`] : [];
          return deed.kind === "pair" ? lifter : [KIND_WORDS[deed.kind], ...lifter];
        }}
      />
      <p className={styles.soft}>
        The mark is the verdict as it stands; beside a bore stands what the plan does to it, and nothing where it is
        left.
      </p>
      <div data-print="no">
        <TurnButton />
      </div>
    </section>
  );
}

function EveryBore({
  remedy,
  chosen,
  onChoose,
}: {
  readonly remedy: Remedy;
  readonly chosen: string | null;
  readonly onChoose: (bore: string) => void;
}): ReactNode {
  return (
    <div className={table.scroll}>
      <table className={classNames(table.table, styles.table)}>
        <caption className="unseen">Every bore with its verdict and what the plan does to it</caption>
        <thead>
          <tr>
            <th scope="col">Bore</th>
            <th scope="col">Now</th>
            <th scope="col">The plan</th>
            <th scope="col">Finish between, remove</th>
          </tr>
        </thead>
        <tbody>
          {remedy.bores.map((bore) => {
            const open = remedy.block.open?.find((one) => one.bore === bore.name);
            const deed = deedAt(remedy, bore) !== null;
            return (
              <Fragment key={bore.name}>
                <tr data-chosen={bore.name === chosen} data-moves={deed}>
                  <th scope="row" rowSpan={open === undefined ? 1 : 2}>
                    <NameButton name={bore.name} onChoose={onChoose} />
                  </th>
                  <td>
                    <span className={table.verdict}>
                      <VerdictPicture verdict={bore.verdict} />
                      {bore.verdict}
                    </span>
                    {bore.diameterMinNm === null ? null : (
                      <span className={styles.small}>
                        <span className={styles.nowrap}>
                          <Figure length={bore.diameterMinNm as Nm} kind="diameter" bare /> to{" "}
                          <Figure length={bore.diameterMaxNm as Nm | null} kind="diameter" />
                        </span>
                      </span>
                    )}
                  </td>
                  <Planned remedy={remedy} bore={bore} />
                </tr>
                {open === undefined ? null : (
                  <tr data-moves={deed} className={styles.continued}>
                    <td colSpan={3}>
                      <span className={styles.small}>▲ Stays open. {open.why}</span>
                    </td>
                  </tr>
                )}
              </Fragment>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

/** What the plan does to a bore, with its sizes. */
function Planned({ remedy, bore }: { readonly remedy: Remedy; readonly bore: RemedyBore }): ReactNode {
  const taken = takenOption(remedy, bore);
  return (
    <>
      <td>
        {taken === null ? (bore.verdict === "not measured" ? "left out" : "nothing possible") : KIND_TITLES[taken.kind]}
        {taken === null || taken.kind === "leave" ? null : (
          <span className={styles.small}>
            for {taken.lifter === undefined ? "a lifter of" : `lifter ${taken.lifter},`}{" "}
            <Figure length={taken.lifterNm as Nm} kind="diameter" />
          </span>
        )}
        {bore.near === true ? (
          <span className={styles.small}>near what the rule allows: measuring again may find it undecided</span>
        ) : null}
      </td>
      <td className={styles.nowrap}>
        <FinishRange option={taken} />
        {taken === null || taken.finishHighNm === null || taken.removeNm === 0 ? null : (
          <span className={styles.small}>
            remove <Figure length={taken.removeNm as Nm} /> on diameter
          </span>
        )}
      </td>
    </>
  );
}

/** Finished diameters between which a bore must end, or a dash where nothing is cut. */
export function FinishRange({
  option,
}: {
  readonly option: { readonly finishLowNm: number | null; readonly finishHighNm: number | null } | null;
}): ReactNode {
  if (option === null || option.finishLowNm === null || option.finishHighNm === null) return "–";
  return (
    <>
      <Figure length={option.finishLowNm as Nm} kind="diameter" bare /> to{" "}
      <Figure length={option.finishHighNm as Nm} kind="diameter" />
    </>
  );
}
