import { describe, expect, test } from "vitest";
import type { HostEvent } from "../../core/bridge/messages.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording } from "../../core/session/recording.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { type Film, filmOf } from "../../renderer/replay/film.ts";
import { marksOf, stretchesOf } from "../../renderer/replay/marks.ts";
import { Player } from "../../renderer/replay/player.ts";
import { createDesk } from "../../renderer/store/store.ts";
import { walkFeed } from "../session/walkFeed.ts";

const job = { format: "borewright/job", version: 1, walk: ["1I", "1E", "3I"], returnCheckEvery: 2 };
const { text } = walkFeed(job, simulateFeed(parseJob(job), { seed: 7, readingsPerSecond: 10 }).lines);
const recorded = Recording.read(text);

function film(): Film {
  const steps = filmOf(text);
  for (;;) {
    const next = steps.next();
    if (next.done === true) return next.value;
  }
}
const shown = film();
const storage = { getItem: () => null, setItem: () => undefined };

function replay() {
  const player = new Player(shown, { id: "s.bwsession", name: "A block" });
  const desk = createDesk();
  desk.attach(player.bridge, storage);
  const state = () => desk.store.getState();
  return { player, state };
}

/** What the screens are drawn from: the view and the readings of the last 20 s. */
function drawn({ player, state }: ReturnType<typeof replay>) {
  const { view, trace, session } = state();
  const readings = [...trace.values()].flatMap((ring) => ring.readings());
  return { view, readings: readings.filter(({ tMs }) => tMs > player.tMs - 20_000), id: session?.id };
}

describe("a replay", () => {
  test("ends with what the session shows when it is opened", () => {
    const { player, state } = replay();
    player.seek(shown.endMs);
    expect(state().view).toEqual(recorded.recording.view());
    expect(player.atEnd).toBe(true);
  });

  test("shows the same wherever one jumps as when it is played up to there", () => {
    const played = replay();
    const jumped = replay();
    jumped.player.seek(shown.endMs);
    for (const share of [0.9, 0.3, 0.5, 0.02, 0.7]) {
      const tMs = shown.endMs * share;
      played.player.seek(0);
      while (played.player.tMs < tMs) played.player.advance(Math.min(1_000, tMs - played.player.tMs));
      jumped.player.seek(tMs);
      expect(drawn(jumped)).toEqual(drawn(played));
    }
  });

  test("goes from sweep to sweep, forwards and back, and says when there is none", () => {
    const { player, state } = replay();
    const times: number[] = [];
    while (player.stepSweep(1)) times.push(player.tMs);
    const sweeps = shown.moments.filter(({ outcomes }) => outcomes.some(({ type }) => type === "sweep"));
    expect(times).toEqual(sweeps.map(({ tMs }) => tMs));
    expect(state().lastOutcomes.some(({ outcome }) => outcome.type === "sweep")).toBe(true);
    const back: number[] = [];
    while (player.stepSweep(-1)) back.push(player.tMs);
    expect(back).toEqual(times.slice(0, -1).reverse());
  });

  test("tells every reading and every outcome once, in order, at any speed", () => {
    const { player } = replay();
    const told: HostEvent[] = [];
    player.bridge.listen((event) => told.push(event));
    const from = told.length;
    while (!player.atEnd) player.advance(64 * 16);
    const events = told.slice(from);
    const first = told.slice(0, from).flatMap((event) => (event.type === "outcome" ? [event.outcome] : []));
    const outcomes = events.flatMap((event) => (event.type === "outcome" ? [event.outcome] : []));
    expect([...first, ...outcomes]).toEqual(shown.moments.flatMap((moment) => moment.outcomes));
    const readings = events.flatMap((event) => (event.type === "readings" ? event.readings : []));
    expect(readings.map(({ tMs }) => tMs)).toEqual(shown.readings.map(({ tMs }) => tMs));
  });

  test("can be looked at, not changed", async () => {
    const { player, state } = replay();
    const answer = await player.bridge.call("session.act", { action: { type: "strike" } });
    expect(answer).toMatchObject({ ok: false, code: "replay" });
    expect(state().session?.readOnly).toBe(true);
  });

  test("marks every station, zero and lifter on its line, which runs through without a gap", () => {
    const marks = marksOf(shown);
    const count = (kind: string) => marks.filter((mark) => mark.kind === kind).length;
    expect(count("station")).toBe(6);
    expect(count("lifter")).toBe(3);
    expect(count("zero")).toBe(recorded.recording.run.references.length);
    const stretches = stretchesOf(shown);
    expect(stretches.filter(({ isBore }) => isBore).map(({ name }) => name)).toEqual(
      expect.arrayContaining(["1I", "1E", "3I"]),
    );
    for (const [index, { fromMs }] of stretches.entries()) {
      if (index > 0) expect(fromMs).toBeGreaterThanOrEqual((stretches[index - 1] as { toMs: number }).toMs);
    }
  });
});
