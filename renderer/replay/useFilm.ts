import { useEffect, useState } from "react";
import { useStore } from "../store/store.ts";
import { type Film, filmOf } from "./film.ts";

/** A film being read: how far (0 … 1), done, or why it can not be. */
export type FilmState =
  | { readonly state: "reading"; readonly share: number }
  | { readonly state: "there"; readonly film: Film }
  | { readonly state: "trouble"; readonly why: string };

/** Reading goes on for so long before the page may draw again, ms. */
const SLICE_MS = 12;

/** Reads the open session as it stands on disk now. */
export function useFilm(): FilmState {
  const ask = useStore((state) => state.actions.ask);
  const [state, setState] = useState<FilmState>({ state: "reading", share: 0 });
  useEffect(() => {
    let stale = false;
    const read = async () => {
      const answer = await ask("session.export", { kind: "session" });
      if (stale) return;
      if (!answer.ok) return setState({ state: "trouble", why: answer.message });
      const steps = filmOf(answer.value.content);
      for (;;) {
        const until = performance.now() + SLICE_MS;
        let share = 0;
        while (performance.now() < until) {
          const next = steps.next();
          if (next.done === true) return setState({ state: "there", film: next.value });
          share = next.value;
        }
        setState({ state: "reading", share });
        await new Promise((resolve) => setTimeout(resolve, 0));
        if (stale) return;
      }
    };
    setState({ state: "reading", share: 0 });
    read().catch((error: unknown) => {
      if (!stale) setState({ state: "trouble", why: error instanceof Error ? error.message : String(error) });
    });
    return () => {
      stale = true;
    };
  }, [ask]);
  return state;
}
