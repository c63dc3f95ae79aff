import { createLineReader } from "../../core/gauge/lineReader.ts";
import { Recording } from "../../core/session/recording.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";
import { sha256 } from "../../electron/host/sha256.ts";
import { type LongSession, longSession, sixtyThousand } from "./longSession.ts";
import { byTurns, fixed } from "./measure.ts";

function parseAll({ rows }: LongSession): void {
  let count = 0;
  for (const row of rows) count += Object.keys(JSON.parse(row) as object).length;
  if (count === 0) throw new Error("nothing was parsed");
}

function read({ text }: LongSession) {
  const found = Recording.read(text, { hash: sha256 });
  if (found.broken.length > 0 || found.differences.length > 0) throw new Error("the session does not recheck");
  return found;
}

/** Reading a session again, seals, events and every figure, beside parsing its lines as JSON and nothing more. */
export function recheckRow(name: string, session: LongSession, runs = 5) {
  const [readMs, parseMs] = byTurns(
    () => void read(session),
    () => parseAll(session),
    runs,
  );
  return {
    session: name,
    readings: session.readings,
    records: session.rows.length,
    "ms recheck": fixed(readMs, 0),
    "ms JSON.parse": fixed(parseMs, 1),
    "µs a reading": fixed((1000 * readMs) / session.readings, 2),
    ratio: fixed(readMs / parseMs, 1),
  };
}

export function recheckTable() {
  return [
    recheckRow("8 bores, 2 places, 50/s", longSession({ bores: 8, places: 2, perSecond: 50 })),
    recheckRow("16 bores, 6 places, 100/s", sixtyThousand()),
  ];
}

/**
 * What reading a session again takes before anything is measured: its lines as JSON, then each line's seal, which stands
 * on the one before, then the gauges' lines as lengths. No recheck of this format can take less.
 */
export function floorTable() {
  const session = sixtyThousand();
  const { job } = read(session).recording;
  const records = (row: string) => JSON.parse(row) as { type?: string; gauge?: string; line?: string; seal?: string };
  const seals = () => {
    let seal = "";
    for (const row of session.rows) {
      const record = records(row);
      sha256(seal + row);
      seal = record.seal ?? "";
    }
  };
  const lengths = () => {
    const readers = new Map(job.gauges.map((gauge) => [gauge.id, createLineReader(gauge)]));
    let seal = "";
    let understood = 0;
    for (const row of session.rows) {
      const { type, gauge = "", line = "", ...record } = records(row);
      sha256(seal + row);
      seal = record.seal ?? "";
      if (type === "line" && readers.get(gauge)?.read(line).ok === true) understood += 1;
    }
    if (understood === 0) throw new Error("no line was understood");
  };
  const works = [
    ["lines as JSON", () => parseAll(session)],
    ["and their seals", seals],
    ["and the gauges' lines as lengths", lengths],
    ["the whole recheck", () => void read(session)],
  ] as const;
  return works.map(([what, work]) => {
    const [ms, parseMs] = byTurns(work, () => parseAll(session), 7);
    return { what, ms: fixed(ms, 0), "ms JSON.parse": fixed(parseMs, 1), ratio: fixed(ms / parseMs, 1) };
  });
}

/** A million readings: only when asked for by name, since the walk alone takes minutes to simulate. */
export function millionTable() {
  const session = longSession({ bores: 64, places: 24, perSecond: 100 });
  return [recheckRow("64 bores, 24 places, 100/s", session, 2), reducerRow("the same", session, 2)];
}

function reducerRow(name: string, session: LongSession, runs = 5) {
  const { inputs, recording } = read(session);
  const [runMs, parseMs] = byTurns(
    () => {
      const run = new SessionRun(recording.job);
      for (const input of inputs) run.apply(input);
      if (run.findings().length === 0) throw new Error("nothing was found");
    },
    () => parseAll(session),
    runs,
  );
  return {
    session: name,
    events: inputs.length,
    "ms reducer and findings": fixed(runMs, 0),
    "ms JSON.parse": fixed(parseMs, 1),
    ratio: fixed(runMs / parseMs, 1),
  };
}

export const reducerTable = () => [reducerRow("16 bores, 6 places, 100/s", sixtyThousand())];

/** How the time of a reading grows with readings, bores and passes: it should not. */
export function growthTable() {
  const sizes = [
    { bores: 4, places: 1, perSecond: 10 },
    { bores: 8, places: 2, perSecond: 50 },
    { bores: 16, places: 2, perSecond: 50 },
    { bores: 32, places: 2, perSecond: 50 },
    { bores: 64, places: 2, perSecond: 50 },
    { bores: 8, places: 2, perSecond: 50, passesPerStation: 20 },
    { bores: 8, places: 2, perSecond: 50, passesPerStation: 40 },
  ];
  return sizes.map((size) => {
    const { bores, places, perSecond, passesPerStation = 5 } = size;
    return recheckRow(
      `${bores} bores, ${places} places, ${perSecond}/s, ${passesPerStation} passes`,
      longSession(size),
      3,
    );
  });
}
