import { useEffect, useState } from "react";
import type { Store } from "../store/store.ts";

/** A disk takes some ms for each record of a stream; only a wait beyond this is worth a word, ms. Our choice. */
const LATE_MS = 500;

/** Whether a record has been pending for longer than is usual. Counts on by itself, as a disk that hangs says nothing. */
export function useLate(saved: Store["saved"]): boolean {
  // The state that was found late: a newer one must wait its own time.
  const [lateOne, setLateOne] = useState<Store["saved"] | null>(null);
  useEffect(() => {
    if (saved.pending === 0) return;
    const timer = setTimeout(() => setLateOne(saved), Math.max(0, LATE_MS - saved.pendingMs));
    return () => clearTimeout(timer);
  }, [saved]);
  return saved.pending > 0 && (saved.pendingMs > LATE_MS || lateOne === saved);
}
