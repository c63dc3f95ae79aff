import type { OpenSession } from "../../core/bridge/messages.ts";
import { checkParcel } from "../handover/receivedParcel.ts";
import { PLACE_OF_STEP, type Place } from "../store/place.ts";
import { jobOf } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";

/** Where to go on with a session: what is missing first, else the step it stands at, else what was found. */
export function placeToGoOn(session: OpenSession): Place {
  const { view } = session;
  if (view.complete || session.readOnly) return "Findings";
  const needed = jobOf(session)?.gauges ?? [];
  const connected = (id: string) => view.gauges.some((gauge) => gauge.id === id && gauge.link === "open");
  if (!session.simulating && needed.some((gauge) => !connected(gauge.id))) return "Gauges";
  if (view.step !== null) return PLACE_OF_STEP[view.step];
  return view.guide.next === null ? "Lifters" : PLACE_OF_STEP[view.guide.next];
}

/** How long to wait for the host to send a session that it says is open, ms. */
const SENT_WITHIN_MS = 3000;

/** The open session once it is the one of this id: a host may answer before it sends it. Null if it does not come. */
export async function sentSession(id: string): Promise<OpenSession | null> {
  const now = useStore.getState().session;
  if (now?.id === id) return now;
  return new Promise((resolve) => {
    const settle = (session: OpenSession | null) => {
      stop();
      clearTimeout(timer);
      resolve(session);
    };
    const timer = setTimeout(() => settle(null), SENT_WITHIN_MS);
    const stop = useStore.subscribe(({ session }) => {
      if (session?.id === id) settle(session);
    });
  });
}

/** Opens a session and goes to where it was left; one that had simulated gauges gets them again if `simulate` says so. */
export async function openSession(
  id: string,
  readOnly: boolean,
  simulated: { readonly simulate?: boolean; readonly seed?: number } = {},
): Promise<void> {
  const { actions } = useStore.getState();
  const opened = await actions.call("session.open", { id, readOnly, ...simulated });
  if (opened === null) return;
  const session = await sentSession(opened.id);
  if (session !== null) actions.goTo(placeToGoOn(session));
}

/** Takes a session file in and opens it; a parcel is checked first, at Handover. */
export async function adoptFile(file: File): Promise<void> {
  const { actions } = useStore.getState();
  if (file.name.toLowerCase().endsWith(".bwparcel")) {
    actions.goTo("Handover");
    await checkParcel(file);
    return;
  }
  const adopted = await actions.call("session.adopt", { name: file.name, content: await file.text() });
  if (adopted !== null) await openSession(adopted.id, false);
}

/** Begins the demonstration: an invented block, gauges that are simulated and say so. */
export async function trySimulated(): Promise<void> {
  const { actions } = useStore.getState();
  const job = {
    format: "borewright/job",
    version: 1,
    title: "Demonstration block",
    block: "invented, with simulated gauges",
  };
  const begun = await actions.call("session.new", { job, simulate: true });
  if (begun === null || (await sentSession(begun.id)) === null) return;
  actions.goTo("Lifters");
  await actions.letHandsWork(true);
}
