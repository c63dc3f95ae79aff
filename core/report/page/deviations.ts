import type { Result } from "../result.ts";
import { stepCheckText } from "./gaugesAndChecks.ts";
import { bothUnits, type UnitFirst } from "./lengths.ts";
import { type Markup, markup, personal } from "./markup.ts";
import { type ReportInput, type ResultStation, unitFirstOf } from "./reportInput.ts";
import { elapsed } from "./times.ts";

/** One departure from the method as planned: what kind, and the particulars. */
export interface Deviation {
  readonly what: string;
  /** One or more sentences, each a line of its own. */
  readonly lines: readonly string[];
}

const plural = (count: number, word: string) => `${count} ${word}${count === 1 ? "" : "s"}`;

/** Everything in which the work departed from the method as planned, in the order a reader asks for it. */
export function deviationsOf(input: ReportInput): Deviation[] {
  return [
    seals(input),
    notMeasured(input),
    sweepsLeftOut(input),
    typedByHand(input),
    zeros(input),
    notProven(input),
    temperature(input),
    lifters(input),
    otherRules(input),
    handling(input),
  ].flat();
}

function seals({ record, result }: ReportInput): Deviation[] {
  const found: Deviation[] = [];
  if (result.seal === "broken" || record.broken.length > 0) {
    found.push({
      what: "Seal broken",
      lines: [
        "The record was changed after it was written, or damaged. What follows is what its lines say now.",
        ...record.broken.map(({ line, why }) => `Line ${line}: ${why}.`),
      ],
    });
  }
  if (result.differences.length > 0) {
    found.push({ what: "Record and raw lines differ", lines: result.differences });
  }
  return found;
}

function notMeasured({ result }: ReportInput): Deviation[] {
  const found: Deviation[] = [];
  const open = (station: ResultStation) => station.clearanceNm === null;
  const skipped = result.bores.filter((bore) => bore.stations.every((station) => station.sweeps.length === 0));
  const partly = result.bores.filter((bore) => !skipped.includes(bore) && bore.stations.some(open));
  if (skipped.length > 0) {
    found.push({ what: "Bores not measured", lines: [`${skipped.map((bore) => bore.name).join(", ")}.`] });
  }
  if (partly.length > 0) {
    found.push({
      what: "Bores measured in part",
      lines: partly.map(
        (bore) =>
          `${bore.name}: no clearance at ${bore.stations
            .filter(open)
            .map((station) => `${station.height} ${station.clock}`)
            .join(", ")}.`,
      ),
    });
  }
  if (!result.complete) {
    found.push({
      what: "Walk not complete",
      lines: ["A walk is complete when every station is closed and a return check after the last bore has held."],
    });
  }
  return found;
}

function sweepsLeftOut(input: ReportInput): Deviation[] {
  const first = unitFirstOf(input);
  const lists = (use: "struck" | "set aside") =>
    input.result.bores.flatMap((bore) =>
      bore.stations.flatMap((station) => {
        const own = station.sweeps.filter((sweep) => sweep.use === use);
        if (own.length === 0) return [];
        const each = own.map((sweep) => sweepText(sweep, first)).join("; ");
        return [`${bore.name} ${station.height} ${station.clock}: ${each}.`];
      }),
    );
  const count = (use: "struck" | "set aside") =>
    input.result.bores
      .flatMap((bore) => bore.stations.flatMap((station) => station.sweeps))
      .filter((s) => s.use === use).length;
  return (["struck", "set aside"] as const).flatMap((use) => {
    const lines = lists(use);
    const by = use === "struck" ? "by the operator" : "by the program, with a reason";
    return lines.length === 0
      ? []
      : [
          {
            what: `Sweeps ${use}`,
            lines: [`${plural(count(use), "sweep")} ${use} ${by}; none of them is in a value.`, ...lines],
          },
        ];
  });
}

/** Readings that no gauge sent: only their agreement speaks for them. */
function typedByHand({ result }: ReportInput): Deviation[] {
  const places = result.bores.flatMap((bore) =>
    bore.stations.flatMap((station) =>
      station.sweeps.some((sweep) => sweep.typed === true) ? [`${bore.name} ${station.height} ${station.clock}`] : [],
    ),
  );
  const sweeps = result.bores
    .flatMap((bore) => bore.stations.flatMap((station) => station.sweeps))
    .filter((sweep) => sweep.typed === true).length;
  const zeros = result.zeros.reduce((sum, zero) => sum + (zero.typed ?? 0), 0);
  const lifters = result.lifters.filter((lifter) => (lifter.typed ?? 0) > 0).map((lifter) => lifter.name);
  if (sweeps + zeros + lifters.length === 0) return [];
  const all = result.bores
    .flatMap((bore) => bore.stations)
    .every((station) => station.sweeps.every((sweep) => sweep.typed === true));
  return [
    {
      what: "Readings typed by a person",
      lines: [
        "They were read from a dial or display and typed; no gauge sent them, and only their agreement speaks for them.",
        ...(sweeps === 0
          ? []
          : [`${plural(sweeps, "sweep")} in the bores: ${all ? "every station" : places.join(", ")}.`]),
        ...(zeros === 0 ? [] : [`${plural(zeros, "sweep")} of the zeros and return checks.`]),
        ...(lifters.length === 0 ? [] : [`Lifters ${lifters.join(", ")}.`]),
      ],
    },
  ];
}

type ResultSweep = ResultStation["sweeps"][number];

function sweepText({ t, turningPointNm, why }: ResultSweep, first: UnitFirst): string {
  return `${bothUnits(turningPointNm, first)} at ${elapsed(t)}${why === undefined ? "" : `, ${why}`}`;
}

function zeros(input: ReportInput): Deviation[] {
  const { result, job } = input;
  const first = unitFirstOf(input);
  const moved = result.zeros.filter((zero) => zero.kind === "return" && !zero.held);
  const found: Deviation[] = moved.map((zero) => ({
    what: "Zero moved",
    lines: [
      `At ${elapsed(zero.t)} the return check differed by ${bothUnits(zero.returnNm, first)}, more than the ${bothUnits(job.zeroHoldNm, first)} allowed. Stations measured since the check before it count only where they were measured again.`,
    ],
  }));
  const returns = result.zeros.some((zero) => zero.kind === "return");
  if (!returns && result.zeros.length > 0) {
    found.push({
      what: "No return check",
      lines: [
        job.returnCheckEvery === 0
          ? "None was asked for by the job: nothing shows that the zero held."
          : "None was made: nothing shows that the zero held.",
      ],
    });
  }
  return found;
}

function notProven(input: ReportInput): Deviation[] {
  const { stepCheck } = input.result;
  if (stepCheck.state === "passed") return [];
  return [{ what: "Step check", lines: [stepCheckText(input)] }];
}

function temperature({ temperatures, job }: ReportInput): Deviation[] {
  const block = temperatures.some(({ blockC }) => blockC !== null);
  const lifter = temperatures.some(({ lifterC }) => lifterC !== null);
  if (block && lifter) return [];
  const taken =
    block || lifter
      ? `Only that of the ${block ? "block" : "lifters"} was; the other was taken as the same.`
      : `Taken as 20 ± ${job.budget.temperatureHalfWidthC} °C, block and lifters equal.`;
  return [{ what: "Temperature not measured", lines: [taken] }];
}

function lifters({ result, job }: ReportInput): Deviation[] {
  const measured = new Set(result.lifters.map((lifter) => lifter.name));
  if (measured.size === 0) {
    return [
      {
        what: "Lifters not measured",
        lines: ["Every clearance is against the lifter that the micrometer was set to, not against the bore's own."],
      },
    ];
  }
  const missing = job.walk.filter((name) => !measured.has(name));
  const exchanged = result.bores.filter((bore) => typeof bore.lifter === "string" && bore.lifter !== bore.name);
  const found: Deviation[] = [];
  if (missing.length > 0) {
    found.push({
      what: "Lifters not measured",
      lines: [`${missing.join(", ")}: their bores are judged against the lifter that the micrometer was set to.`],
    });
  }
  if (exchanged.length > 0) {
    found.push({
      what: "Lifters in other bores",
      lines: [
        `By the pairing that was accepted: ${exchanged.map((bore) => `lifter ${bore.lifter} in bore ${bore.name}`).join(", ")}.`,
      ],
    });
  }
  return found;
}

function sameLimits(one: Result["limits"], other: Result["limits"]): boolean {
  return (["lowNm", "highNm", "preferredLowNm", "preferredHighNm", "serviceHighNm"] as const).every(
    (key) => one[key] === other[key],
  );
}

function otherRules(input: ReportInput): Deviation[] {
  const { result, job } = input;
  const first = unitFirstOf(input);
  const found: Deviation[] = [];
  if (!sameLimits(result.limits, job.limits)) {
    found.push({
      what: "Other limits than the job's",
      lines: [
        `The work was planned for ${bothUnits(job.limits.lowNm, first)} to ${bothUnits(job.limits.highNm, first)}; this report judges by the limits stated at its head.`,
      ],
    });
  }
  if (result.rule !== job.rule) {
    found.push({
      what: "Another rule than the job's",
      lines: [`The work was planned with the ${job.rule} rule; this report judges by the ${result.rule} one.`],
    });
  }
  return found;
}

function handling({ corrections, notes, resumed }: ReportInput): Deviation[] {
  const found: Deviation[] = [];
  if (corrections.length > 0) {
    found.push({
      what: "Gauge corrected during the work",
      lines: corrections.map(({ t, text }) => `${elapsed(t)}: ${text}`),
    });
  }
  if (resumed.length > 0) {
    found.push({ what: "Work interrupted", lines: [`Taken up again at ${resumed.map(elapsed).join(", ")}.`] });
  }
  if (notes.length > 0) {
    found.push({ what: "Notes of the operator", lines: notes.map(({ t, text }) => `${elapsed(t)}: ${text}`) });
  }
  return found;
}

/** The deviations as a table. */
export function deviations(input: ReportInput): Markup {
  const found = deviationsOf(input);
  if (found.length === 0) {
    return markup`<p>None: every station was measured, the zero held, the step check passed, both temperatures were measured, and no sweep in a bore was struck or set aside.</p>`;
  }
  return markup`<table><thead><tr><th style="width:24%">Deviation</th><th>Particulars</th></tr></thead>
${found.map(({ what, lines }) =>
  lines.length <= 4
    ? markup`<tbody class="whole"><tr><th>${what}</th><td>${lines.map((line, index) => markup`${index === 0 ? null : markup`<br>`}${personal(line)}`)}</td></tr></tbody>`
    : // A long list may go on over the page, a line at a time.
      markup`<tbody>${lines.map((line, index) => markup`<tr><th>${index === 0 ? what : null}</th><td>${personal(line)}</td></tr>`)}</tbody>`,
)}</table>`;
}
