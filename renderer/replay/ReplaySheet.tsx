import { type ReactNode, useEffect, useMemo, useState } from "react";
import { BoresPlace } from "../bores/BoresPlace.tsx";
import { LiftersPlace } from "../lifters/LiftersPlace.tsx";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { createDesk, DeskContext, useStore, useStoreApi } from "../store/store.ts";
import { ZeroPlace } from "../zero/ZeroPlace.tsx";
import type { Film } from "./film.ts";
import { Player, SPEEDS } from "./player.ts";
import styles from "./replay.module.css";
import { TimeLine } from "./TimeLine.tsx";
import { useFilm } from "./useFilm.ts";

/** The open session shown again as it was seen at the bench, by the same screens. */
export function ReplaySheet({ onLeave }: { readonly onLeave: () => void }): ReactNode {
  const session = useStore((state) => state.session);
  const film = useFilm();
  const leave = <Button onClick={onLeave}>Leave the replay</Button>;
  if (film.state === "reading") {
    return (
      <PlaceFrame title="Replay" next="Reading the session by the same code as at the bench." actions={leave}>
        <progress value={film.share} aria-label="Session read" className={styles.progress} />
      </PlaceFrame>
    );
  }
  if (film.state === "trouble" || film.film.moments.length === 0) {
    const why = film.state === "trouble" ? film.why : "Nothing has happened in this session yet.";
    return <PlaceFrame title="Replay" next={`There is nothing to show. ${why}`} actions={leave} />;
  }
  return <Replay film={film.film} id={session?.id ?? ""} name={session?.name ?? ""} leave={leave} />;
}

const CHOICES = SPEEDS.map((speed) => ({ value: `${speed}`, text: `${speed}×` }));

function Replay({
  film,
  id,
  name,
  leave,
}: {
  readonly film: Film;
  readonly id: string;
  readonly name: string;
  readonly leave: ReactNode;
}): ReactNode {
  const live = useStoreApi();
  const player = useMemo(() => new Player(film, { id, name }), [film, id, name]);
  const desk = useMemo(createDesk, []);
  const [playing, setPlaying] = useState(false);
  const [speed, setSpeed] = useState("1");

  useEffect(() => {
    // The replay is drawn in the unit and from the end that the person chose, and keeps nothing.
    const stop = desk.attach(player.bridge, { getItem: () => null, setItem: () => undefined });
    const { settings } = live.getState();
    desk.store.setState({ settings, clockMs: player.tMs });
    const stopSettings = live.subscribe((state) => {
      if (state.settings !== desk.store.getState().settings) desk.store.setState({ settings: state.settings });
    });
    return () => {
      stopSettings();
      stop();
    };
  }, [desk, player, live]);

  useEffect(() => {
    if (!playing) return;
    let last: number | null = null;
    let frame = requestAnimationFrame(function tick(at: number) {
      if (last !== null) player.advance((at - last) * Number(speed));
      last = at;
      desk.store.setState({ clockMs: player.tMs });
      if (player.atEnd) setPlaying(false);
      else frame = requestAnimationFrame(tick);
    });
    return () => cancelAnimationFrame(frame);
  }, [desk, player, playing, speed]);

  const seek = (tMs: number) => {
    player.seek(tMs);
    desk.store.setState({ clockMs: player.tMs });
  };
  const step = (direction: 1 | -1) => {
    setPlaying(false);
    player.stepSweep(direction);
    desk.store.setState({ clockMs: player.tMs });
  };
  const play = () => {
    if (player.atEnd) seek(0);
    setPlaying(!playing);
  };
  return (
    <div className={styles.replay}>
      <DeskContext value={desk}>
        <section className={styles.controls} aria-label="Replay">
          <TimeLine film={film} name={name} onSeek={seek} />
          <div className={styles.buttons}>
            <Button kind="main" onClick={play} aria-pressed={playing}>
              {playing ? "Pause" : "Play"}
            </Button>
            <div className={styles.speeds}>
              <Choices label="Speed" value={speed} options={CHOICES} onChoose={setSpeed} />
            </div>
            <Button onClick={() => step(-1)}>Sweep before</Button>
            <Button onClick={() => step(1)}>Next sweep</Button>
            <Button onClick={() => seek(film.endMs)}>All at once</Button>
            {leave}
          </div>
        </section>
        <div className={styles.place}>
          <PlaceThen />
        </div>
      </DeskContext>
    </div>
  );
}

/** The place of work that was on screen at the time. */
function PlaceThen(): ReactNode {
  const step = useStore((state) => state.view?.step ?? null);
  switch (step) {
    case "lifters":
      return <LiftersPlace />;
    case "zero":
    case "step-check":
      return <ZeroPlace />;
    default:
      return <BoresPlace />;
  }
}
