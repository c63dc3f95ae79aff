import type { Given } from "../../core/bridge/messages.ts";
import { checkGivenParcel } from "../handover/receivedParcel.ts";
import { useStore } from "../store/store.ts";
import { openSession } from "./openSession.ts";

/** Opens what a person opened with the program from outside the window, as if it had been dropped on it. */
export function listenForGiven(): () => void {
  return useStore.subscribe(({ given }, before) => {
    if (given !== null && given !== before.given) void take(given);
  });
}

async function take(given: Given): Promise<void> {
  const { session, view, actions } = useStore.getState();
  const stay = (message: string) => useStore.setState({ problem: { method: "session.open", code: "given", message } });
  if (given.kind === "refused") return stay(given.why);
  if (given.kind === "parcel") {
    actions.goTo("Handover");
    return checkGivenParcel(given);
  }
  // Hands are on the gauge: a walk under way is not closed by something that was clicked elsewhere.
  const measuring = session !== null && !session.readOnly && view?.complete !== true && session.id !== given.id;
  if (measuring) return stay(`${given.name} is on the list at Start. It was not opened, as a block is being measured.`);
  return openSession(given.id, false);
}
