import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import { LiveSession } from "../../electron/host/liveSession.ts";
import { SessionClock } from "../../electron/host/sessionClock.ts";
import type { SessionFile } from "../../electron/host/sessionFile.ts";
import { heldJob } from "./benchFiles.ts";

setFlagsFromString("--expose-gc");
const collect = runInNewContext("gc") as () => void;

it("holds no more than two pictures while the disk refuses", async () => {
  const recording = Recording.begin({ job: heldJob, createdIso: "2026-03-01T08:00:00.000Z", app: "test" });
  const pictures: WeakRef<object>[] = [];
  const view = recording.view.bind(recording);
  recording.view = () => {
    const picture = view();
    pictures.push(new WeakRef(picture));
    return picture;
  };
  const held: (() => void)[] = [];
  // A stand-in for a file on a disk that refuses: it takes records, and calls nobody back until it is let.
  const file = {
    append: (_text: string, whenKept: () => void) => held.push(whenKept),
    whenKept: (then: () => void) => held.push(then),
    close: async () => {},
  } as unknown as SessionFile;
  const shown: number[] = [];
  const session = new LiveSession({
    recording,
    file,
    clock: new SessionClock(0),
    listener: { onView: ({ n }) => shown.push(n) },
  });
  for (let note = 0; note < 30; note += 1) {
    session.act({ type: "note", text: "oil" });
    await new Promise((resolve) => setTimeout(resolve, 12));
  }
  expect(held.length).toBeGreaterThanOrEqual(30);
  expect(pictures.length).toBeGreaterThan(20);
  collect();
  // The one at the start, which is shown, and the two that wait.
  expect(pictures.filter((picture) => picture.deref() !== undefined).length).toBeLessThanOrEqual(3);
  for (const kept of held) kept();
  expect(shown.length).toBe(2);
  expect(shown.at(-1)).toBe(session.shown.n);
  expect(session.shown.n).toBe(recording.view().n);
  await session.close();
});
