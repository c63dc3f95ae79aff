import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { findingsOf } from "../../electron/host/parcel/findings.ts";
import { PortList } from "../../electron/host/portList.ts";
import { everyVerdict, sampleSession } from "../report/sampleSession.ts";
import { ScriptedCable } from "./scriptedPort.ts";

const ID = "sixteen.bwsession";
let folder: string;
let host: HostService;
const cable = new ScriptedCable();

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-heard-"));
  const { recording, inputs } = sampleSession({ clearanceNm: everyVerdict });
  const again = Recording.read(recording.headerText).recording;
  const lines = inputs.map((input) => again.record(input).text);
  await writeFile(join(folder, ID), [again.headerText, ...lines].join(""));
  host = await HostService.open({
    shell: "loopback",
    folder,
    newPort: () => cable.newPort(),
    ports: (onChange) => new PortList(onChange, async () => []),
  });
  await call("session.open", { id: ID, readOnly: false });
  await call("gauge.connect", { gauge: "bore", settings: { path: "scripted", baud: 115_200 } });
});
afterAll(async () => {
  await host.close();
  await rm(folder, { recursive: true, force: true });
});

async function call(method: string, input: unknown): Promise<unknown> {
  const answer = await host.call(method, input, { mayAct: true });
  if (!answer.ok) throw new Error(`${answer.code}: ${answer.message}`);
  return answer.value;
}

/** Does something in every turn that the work leaves; how often that was. */
async function turnsDuring(work: () => Promise<unknown>, inTurn: (turn: number) => void = () => {}): Promise<number> {
  let over = false;
  let turns = 0;
  const turn = () => {
    if (over) return;
    inTurn(turns);
    turns += 1;
    setImmediate(turn);
  };
  setImmediate(turn);
  await work();
  over = true;
  return turns;
}

// By the order of what happens and not by how long it takes: work that does not give way leaves no turn at all.
it("lines of a gauge are taken while the remedy is worked out", async () => {
  const turns = await turnsDuring(
    () => call("session.remedy", {}),
    (turn) => cable.send(`meanwhile ${turn}\r\n`),
  );
  expect(turns).toBeGreaterThanOrEqual(3);
  await call("session.export", { kind: "session" });
  const file = await readFile(join(folder, ID), "utf8");
  // The first line after a port was opened is not trusted.
  for (let turn = 1; turn < turns; turn += 1) expect(file).toContain(`"line":"meanwhile ${turn}"`);
});

it("the findings of a parcel or a report leave turns too", async () => {
  const read = Recording.read(await readFile(join(folder, ID), "utf8"));
  expect(await turnsDuring(() => findingsOf(read))).toBeGreaterThanOrEqual(3);
});
