import { useEffect, useRef, useState } from "react";
import type { MethodInput, MethodName, MethodOutput } from "../../core/bridge/messages.ts";
import { useStore } from "../store/store.ts";

/** What the host last said to a question that is asked again whenever it changes. */
export interface Answer<T> {
  /** The newest answer; stays while the next one is under way. Null before the first and after a refusal. */
  readonly value: T | null;
  /** Why the host refused the newest question, as its sentence; null when it did not. */
  readonly refused: string | null;
  /** The newest question is not answered yet. */
  readonly busy: boolean;
}

interface Said<T> {
  readonly session: string;
  readonly value: T | null;
  readonly refused: string | null;
}

/** How long a question waits for the next keystroke before it is asked, ms. */
const PATIENCE_MS = 150;

/**
 * Asks the host about the open session whenever `input` or `again` changes, and keeps the newest answer; one that is
 * overtaken is dropped. Nothing is asked while `input` is null or no session is open. `read` turns the payload into what
 * is wanted, or null when it is not of the expected shape.
 */
export function useAnswer<M extends MethodName, T>(
  method: M,
  input: MethodInput<M> | null,
  again: string,
  read: (value: MethodOutput<M>) => T | null,
): Answer<T> {
  const session = useStore((state) => state.session?.id ?? null);
  const ask = useStore((state) => state.actions.ask);
  const [said, setSaid] = useState<Said<T> | null>(null);
  const [busy, setBusy] = useState(input !== null);
  const asked = useRef(0);
  const question = input === null || session === null ? null : JSON.stringify(input);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `question` stands for `input`, and `again` asks once more.
  useEffect(() => {
    asked.current += 1;
    if (question === null || session === null || input === null) {
      setSaid(null);
      setBusy(false);
      return;
    }
    const mine = asked.current;
    setBusy(true);
    const timer = setTimeout(
      async () => {
        const answer = await ask(method, input);
        if (mine !== asked.current) return;
        setBusy(false);
        if (!answer.ok) {
          setSaid({ session, value: null, refused: answer.message });
          return;
        }
        const value = read(answer.value);
        setSaid({ session, value, refused: value === null ? "The answer could not be read." : null });
      },
      mine === 1 ? 0 : PATIENCE_MS,
    );
    return () => {
      asked.current += 1;
      clearTimeout(timer);
    };
  }, [session, question, again, method, ask]);
  // What was said of another session is not shown for a moment under this one's name.
  const own = said !== null && said.session === session ? said : null;
  return { value: own?.value ?? null, refused: own?.refused ?? null, busy };
}

/** Changes whenever what pairing, remedy and comparison rest on does: lifters, clearances, and which lifter is where. */
export function useMeasured(): string {
  return useStore((state) => {
    if (state.view === null) return "";
    const bores = state.view.bores.map(
      ({ lifter, clearanceMinNm, clearanceMaxNm, verdict }) =>
        `${lifter} ${clearanceMinNm} ${clearanceMaxNm} ${verdict}`,
    );
    return [...bores, ...state.view.lifters.map(({ diameterNm }) => `${diameterNm}`)].join("|");
  });
}
