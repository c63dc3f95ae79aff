import type { PowerSaveBlocker } from "electron";
import type { CarriedHost } from "./carryBridge.ts";

/** Keeps the screen lit while a session is being measured: nobody with both hands on the gauge can wake it. */
export function stayAwake(host: CarriedHost, blocker: PowerSaveBlocker): void {
  let held: number | null = null;
  host.listen((event) => {
    if (event.type !== "session") return;
    const measuring = event.session !== null && !event.session.readOnly;
    if (measuring && held === null) held = blocker.start("prevent-display-sleep");
    else if (!measuring && held !== null) {
      blocker.stop(held);
      held = null;
    }
  });
}
