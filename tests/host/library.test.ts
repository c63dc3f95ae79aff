import { mkdtemp, readFile, rm, stat, utimes, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import { SessionFolder } from "../../electron/host/sessionFolder.ts";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-library-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function addSession(number: number): Promise<string> {
  const id = `s${number}.bwsession`;
  const job = { format: "borewright/job", version: 1, title: `Block ${number}` };
  const { headerText } = Recording.begin({ job, createdIso: "2031-03-02T08:00:00.000Z", app: "a test" });
  await writeFile(join(folder, id), headerText);
  await utimes(join(folder, id), 1_900_000_000 + number, 1_900_000_000 + number);
  return id;
}

describe("the folder of sessions", () => {
  it("lists thousands: at once by their headers, then with what was found, and remembers it for the next start", async () => {
    const count = 2_000;
    for (let number = 0; number < count; number += 1) await addSession(number);
    let told = 0;
    const first = new SessionFolder(folder, () => {
      told += 1;
    });
    const quick = await first.list();
    expect(quick).toHaveLength(count);
    expect(quick[0]?.title).toBe(`Block ${count - 1}`);
    expect(quick.some(({ verdicts }) => verdicts === null)).toBe(true);
    await first.settled();
    expect(told).toBeGreaterThan(0);
    const read = await first.list();
    expect(read.every(({ verdicts }) => verdicts?.["not measured"] === 16)).toBe(true);

    const again = await new SessionFolder(folder).list();
    expect(again).toEqual(read);
  });

  it("reads a session again that has changed, forgets one that is gone, and no damaged memory is believed", async () => {
    const id = await addSession(1);
    const gone = await addSession(2);
    await new SessionFolder(folder).list();
    const other = Recording.begin({
      job: { format: "borewright/job", version: 1, title: "Another block, another length" },
      createdIso: "2031-03-02T08:00:00.000Z",
      app: "a test",
    });
    await writeFile(join(folder, id), other.headerText);
    await rm(join(folder, gone));
    expect((await new SessionFolder(folder).list()).map(({ title }) => title)).toEqual([
      "Another block, another length",
    ]);
    const memory = join(folder, ".library.json");
    expect(await readFile(memory, "utf8")).not.toContain(gone);
    await writeFile(memory, '{"app": 7}');
    expect(await new SessionFolder(folder).list()).toHaveLength(1);
    expect((await stat(memory)).size).toBeGreaterThan(20);
  });
});
