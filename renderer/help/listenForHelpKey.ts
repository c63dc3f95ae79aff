import { useStore } from "../store/store.ts";
import { closeHelp, openHelp, useHelp } from "./helpDesk.ts";

/** F1 opens the help and closes it again, wherever one is; unless that key was given to a control of the walk. */
export function listenForHelpKey(target: Window): () => void {
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key !== "F1" || event.repeat || event.defaultPrevented) return;
    const { place, settings } = useStore.getState();
    if (place === "Bores" && Object.values(settings.keys).includes(event.code)) return;
    event.preventDefault();
    if (useHelp.getState().open) closeHelp();
    else openHelp();
  };
  target.addEventListener("keydown", onKeyDown);
  return () => target.removeEventListener("keydown", onKeyDown);
}
