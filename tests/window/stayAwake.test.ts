import type { PowerSaveBlocker } from "electron";
import { expect, test } from "vitest";
import type { HostEvent, OpenSession } from "../../core/bridge/messages.ts";
import type { CarriedHost } from "../../electron/window/carryBridge.ts";
import { stayAwake } from "../../electron/window/stayAwake.ts";

test("the screen is kept lit from opening a session to measure until it is closed, once", () => {
  const done: string[] = [];
  let tell: (event: HostEvent) => void = () => {};
  const host = {
    listen: (onEvent: (event: HostEvent) => void) => {
      tell = onEvent;
      return () => {};
    },
  } as CarriedHost;
  const blocker = {
    start: (kind: string) => done.push(`start ${kind}`),
    stop: (id: number) => done.push(`stop ${id}`),
  } as unknown as PowerSaveBlocker;
  stayAwake(host, blocker);
  const session = (readOnly: boolean) => ({ type: "session", session: { readOnly } as OpenSession }) as const;

  tell({ type: "session", session: null });
  tell(session(true));
  expect(done).toEqual([]);
  tell(session(false));
  tell(session(false));
  tell({ type: "saved", pending: 0, trouble: null });
  expect(done).toEqual(["start prevent-display-sleep"]);
  tell({ type: "session", session: null });
  tell({ type: "session", session: null });
  expect(done).toEqual(["start prevent-display-sleep", "stop 1"]);
  tell(session(false));
  tell(session(true));
  expect(done).toHaveLength(4);
});
