import {
  appendFile,
  copyFile,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rename,
  rm,
  stat,
  truncate,
  writeFile,
} from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import { AppendQueue, type AppendTarget, type SavedState } from "../../electron/host/appendQueue.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { SessionFile, type SessionFileOptions } from "../../electron/host/sessionFile.ts";
import { heldJob } from "./benchFiles.ts";
import { type SmallDisk, smallDisk } from "./smallDisk.ts";

const tried = await smallDisk("64k");
await tried?.remove();
const mayMount = tried !== null;

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const until = async (what: string, condition: () => boolean | Promise<boolean>) => {
  for (let turn = 0; turn < 6000 && !(await condition()); turn += 1) await pause(5);
  expect(await condition(), what).toBe(true);
};

let folder: string;
let path: string;
beforeEach(async () => {
  folder = join(await mkdtemp(join(tmpdir(), "borewright-faults-")), "sessions");
  await rm(folder, { recursive: true, force: true });
});
afterEach(() => rm(join(folder, ".."), { recursive: true, force: true }));

/** A session being written, with what was acknowledged and what the person was told. */
class Work {
  readonly recording = Recording.begin({ job: heldJob, createdIso: "2026-03-01T08:00:00.000Z", app: "test" });
  readonly said: SavedState[] = [];
  file!: SessionFile;
  asked = 0;
  acknowledged = 0;

  static async begin(at: string, options: SessionFileOptions = {}): Promise<Work> {
    const work = new Work();
    work.file = await SessionFile.create(at, work.recording.headerText, false, {
      retryMs: 10,
      ...options,
      onState: (state) => work.said.push(state),
    });
    return work;
  }

  line(): void {
    this.asked += 1;
    const { text } = this.recording.record({ type: "line", t: this.asked, gauge: "mic", line: "+0.84200" });
    this.file.append(text, () => {
      this.acknowledged += 1;
    });
  }

  lines(count: number): void {
    for (let line = 0; line < count; line += 1) this.line();
  }

  get trouble(): string | null {
    return this.file.saved.trouble;
  }

  get allAcknowledged(): boolean {
    return this.acknowledged === this.asked;
  }
}

/** What is on file is whole, and nothing lies beside it. */
async function expectWhole(at: string, lines: number): Promise<void> {
  const { read } = await SessionFile.look(at);
  expect(read).toMatchObject({ broken: [], torn: null, differences: [] });
  expect(read.inputs).toHaveLength(lines);
}

async function begun(options: SessionFileOptions = {}): Promise<Work> {
  await mkdir(folder);
  path = join(folder, "a.bwsession");
  return Work.begin(path, options);
}

describe.skipIf(!mayMount)(
  "a full or write-protected disk (a real one of a few kilobytes; needs the right to mount)",
  () => {
    let disk: SmallDisk;
    beforeEach(async () => {
      disk = (await smallDisk("64k")) as SmallDisk;
      path = join(disk.path, "a.bwsession");
    });
    afterEach(() => disk.remove());

    it("says NOT SAVED when full, acknowledges only what is on it, and saves the rest once there is room", async () => {
      const work = await Work.begin(path);
      while (work.trouble === null && work.asked < 20_000) {
        work.lines(20);
        await pause(1);
      }
      expect(work.trouble).toMatch(/^NOT SAVED: .*the disk is full; make room on it/);
      const whole = (await readFile(path, "utf8")).split("\n").length - 2;
      expect(work.acknowledged).toBeLessThan(work.asked);
      expect(whole).toBeGreaterThanOrEqual(work.acknowledged);
      work.lines(50);
      expect(disk.set("size=20m")).toBe(true);
      await until("all is saved", () => work.allAcknowledged);
      expect(work.file.saved).toMatchObject({
        pending: 0,
        trouble: null,
        cured: expect.stringMatching(/^Saved again/),
      });
      await work.file.close();
      await expectWhole(path, work.asked);
      expect(await readdir(disk.path)).toEqual(["a.bwsession"]);
    });

    it("leaves nothing behind of a session that could not be begun", async () => {
      await writeFile(join(disk.path, "filler"), Buffer.alloc(64 * 1024)).catch(() => {});
      await expect(Work.begin(path)).rejects.toMatchObject({ code: "ENOSPC" });
      expect(await readdir(disk.path)).toEqual(["filler"]);
    });

    it("opens a session in a folder for reading only to be looked at, and says why it can not be gone on with", async () => {
      const work = await Work.begin(path);
      work.lines(3);
      await work.file.close();
      expect(disk.set("ro")).toBe(true);
      const host = await HostService.open({
        shell: "window",
        folder: disk.path,
        ports: () =>
          new PortList(
            () => {},
            async () => [],
          ),
      });
      const open = (readOnly: boolean) => host.call("session.open", { id: "a.bwsession", readOnly }, { mayAct: true });
      expect(await open(false)).toMatchObject({
        code: "disk",
        message: `${path}: the disk is set to reading only; allow writing on it; or open the session only to look at it.`,
      });
      expect(await open(true)).toMatchObject({ ok: true });
      await host.close();
      await expectWhole(path, 3);
      expect(disk.set("rw")).toBe(true);
      expect(await readdir(disk.path)).toEqual(["a.bwsession"]);
    });
  },
);

describe("a disk that is slow or does not answer", () => {
  it("announces each record only after its own sync, however long that takes, and loses none", async () => {
    const work = await begun({
      wrapTarget: (target) => ({
        ...target,
        async datasync() {
          await pause(60);
          await target.datasync();
        },
      }),
    });
    for (let turn = 0; turn < 20; turn += 1) {
      work.line();
      await pause(5);
      const onDisk = (await readFile(path, "utf8")).split("\n").length - 2;
      expect(work.acknowledged).toBeLessThanOrEqual(onDisk);
    }
    expect(work.said.some(({ pending }) => pending > 1)).toBe(true);
    await work.file.close();
    expect(work.allAcknowledged).toBe(true);
    await expectWhole(path, 20);
  });

  it("says so after a while, refuses to close meanwhile, and goes on when it answers", async () => {
    let answer: () => void = () => {};
    const asleep = new Promise<void>((resolve) => {
      answer = resolve;
    });
    const work = await begun({
      patienceMs: 30,
      wrapTarget: (target) => ({ ...target, datasync: () => asleep.then(() => target.datasync()) }),
    });
    work.lines(2);
    await until("trouble", () => work.trouble !== null);
    expect(work.trouble).toMatch(/^NOT SAVED: .*has not answered/);
    await expect(work.file.flush()).rejects.toThrow("has not answered");
    work.line();
    answer();
    await until("all is saved", () => work.allAcknowledged && work.trouble === null);
    await work.file.close();
    await expectWhole(path, 3);
  });

  it("holds 150 000 records while it waits, and writes them piece by piece", async () => {
    let written = 0;
    let largest = 0;
    let first = true;
    let answer: () => void = () => {};
    const asleep = new Promise<void>((resolve) => {
      answer = resolve;
    });
    const target: AppendTarget = {
      async write(_bytes, _offset, length) {
        if (first) await asleep;
        first = false;
        written += length;
        largest = Math.max(largest, length);
        return length;
      },
      datasync: async () => {},
      close: async () => {},
    };
    const queue = new AppendQueue(target, { position: 0, name: "bench" });
    let acknowledged = 0;
    for (let record = 0; record < 150_000; record += 1) queue.append("0123456789\n", () => (acknowledged += 1));
    answer();
    await queue.flush();
    expect(acknowledged).toBe(150_000);
    expect(written).toBe(150_000 * 11);
    expect(largest).toBeLessThan(1_100_000);
  });
});

describe("a session file that is moved, replaced or changed while it is open", () => {
  it("is written again whole when it is deleted, and the person is told", async () => {
    const work = await begun();
    work.lines(40);
    await work.file.flush();
    await rm(path);
    work.lines(3);
    await until("it is there again", () => work.allAcknowledged);
    expect(work.said.find(({ trouble }) => trouble !== null)?.trouble).toMatch(
      /^NOT SAVED: .*\(it was deleted or moved away; it is being written there again\)/,
    );
    expect(work.file.saved.cured).toMatch(/had been deleted or moved away; it was written there again, whole/);
    work.line();
    await work.file.close();
    await expectWhole(path, 44);
    expect(await readdir(folder)).toEqual(["a.bwsession"]);
  });

  it("is written again whole when its folder is deleted, lock and all", async () => {
    const work = await begun();
    work.lines(40);
    await work.file.flush();
    await rm(folder, { recursive: true });
    work.line();
    await until("it is there again", () => work.allAcknowledged);
    expect((await readdir(folder)).sort()).toEqual(["a.bwsession", "a.bwsession.lock"]);
    await work.file.close();
    await expectWhole(path, 41);
  });

  it("is kept in memory while another file stands in its place, and saved when that is moved away", async () => {
    const work = await begun();
    work.lines(5);
    await work.file.flush();
    await rename(path, join(folder, "moved.bwsession"));
    await writeFile(path, "something else");
    work.line();
    await until(
      "trouble",
      () => work.trouble?.includes("another file stands in its place; move that one away") === true,
    );
    expect(work.acknowledged).toBe(5);
    expect(await readFile(path, "utf8")).toBe("something else");
    await rm(path);
    await until("all is saved", () => work.allAcknowledged);
    await work.file.close();
    await expectWhole(path, 6);
  });

  it("goes on in a copy that was put in its place, as programs do that keep folders alike", async () => {
    const work = await begun();
    work.lines(5);
    await work.file.flush();
    await copyFile(path, join(folder, "copy"));
    await rename(join(folder, "copy"), path);
    work.line();
    await until("all is saved", () => work.allAcknowledged);
    await work.file.close();
    await expectWhole(path, 6);
  });

  it.each([
    ["longer", () => appendFile(path, "{}\n")],
    ["shorter", async () => truncate(path, (await stat(path)).size - 5)],
  ])("says so when another program makes it %s, and acknowledges nothing more", async (_, change) => {
    const work = await begun();
    work.lines(5);
    await work.file.flush();
    await change();
    const changed = await readFile(path, "utf8");
    work.lines(1);
    await until("trouble", () => work.trouble !== null);
    expect(work.trouble).toMatch(/^NOT SAVED: .*(another program has changed it)/);
    await until("it was tried again", () => work.said.filter(({ trouble }) => trouble !== null).length > 2);
    expect(work.acknowledged).toBe(5);
    // Nothing of the other program's is written over, and nothing of ours stands behind it.
    expect(await readFile(path, "utf8")).toBe(changed);
    await work.file.close().catch(() => {});
  });

  it("writes over nothing that another program adds in the very moment of writing", async () => {
    let meddle = false;
    const work = await begun({
      wrapTarget: (target) => ({
        ...target,
        write: async (...asked) => {
          if (meddle) await appendFile(path, "{}\n");
          meddle = false;
          return target.write(...asked);
        },
      }),
    });
    work.lines(5);
    await work.file.flush();
    const before = await readFile(path, "utf8");
    meddle = true;
    work.line();
    await until("trouble", () => work.trouble !== null);
    expect(work.trouble).toMatch(/^NOT SAVED: .*(another program has changed it)/);
    expect(work.acknowledged).toBe(5);
    expect(await readFile(path, "utf8")).toBe(`${before}{}\n`);
    await work.file.close().catch(() => {});
  });

  it("takes its lock again when that is deleted, and stops when another program has it by now", async () => {
    const work = await begun();
    await rm(`${path}.lock`);
    await until("the lock is there again", async () => {
      work.line();
      return (await readdir(folder)).includes("a.bwsession.lock");
    });
    const holder = JSON.parse(await readFile(`${path}.lock`, "utf8")) as { nonce: string };
    await writeFile(`${path}.lock`, JSON.stringify({ ...holder, nonce: "of another" }));
    await until("trouble", () => {
      work.line();
      return work.trouble?.includes("is open in another program") === true;
    });
    await rm(`${path}.lock`);
    await until("all is saved", () => work.allAcknowledged);
    await work.file.close();
    await expectWhole(path, work.asked);
  });
});
