import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import { LockedError } from "../../electron/host/lockFile.ts";
import { FileExistsError, writeWhole } from "../../electron/host/safeFiles.ts";
import { SessionClock } from "../../electron/host/sessionClock.ts";
import { SessionFile } from "../../electron/host/sessionFile.ts";
import { heldJob } from "./benchFiles.ts";

let folder: string;
let path: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-file-"));
  path = join(folder, "a.bwsession");
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const begin = () => Recording.begin({ job: heldJob, createdIso: "2026-03-01T08:00:00.000Z", app: "test" });

async function written(): Promise<Buffer> {
  const recording = begin();
  const file = await SessionFile.create(path, recording.headerText, false);
  file.append(recording.record({ type: "step", t: 0, step: "lifters" }).text);
  file.append(recording.record({ type: "line", t: 10, gauge: "mic", line: "+0.84200" }).text);
  await file.close();
  return readFile(path);
}

describe("SessionFile", () => {
  it("goes on where it was left, and the whole is one unbroken chain", async () => {
    await written();
    const { read, file, setAside } = await SessionFile.open(path);
    expect(setAside).toBeNull();
    expect(read.recording.tMs).toBe(10);
    file?.append(read.recording.record({ type: "line", t: 20, gauge: "mic", line: "+0.84205" }).text);
    await file?.close();
    const again = await SessionFile.look(path);
    expect(again.read.broken).toEqual([]);
    expect(again.read.torn).toBeNull();
    expect(again.read.inputs).toHaveLength(3);
    expect(await readdir(folder)).toEqual(["a.bwsession"]);
  });

  it("sets a torn tail aside beside the file, wherever the cut was, and goes on before it", async () => {
    const whole = await written();
    const headerEnd = whole.indexOf("\n") + 1;
    for (let cut = headerEnd; cut < whole.length; cut += 7) {
      await rm(folder, { recursive: true });
      await writeFolder(whole.subarray(0, cut));
      const { read, file, setAside, readOnlyWhy } = await SessionFile.open(path);
      expect(readOnlyWhy).toBeNull();
      const kept = whole.lastIndexOf("\n", cut - 1) + 1;
      expect(setAside?.bytes ?? 0).toBe(cut - kept);
      if (setAside !== null) expect(await readFile(setAside.path)).toEqual(whole.subarray(kept, cut));
      file?.append(read.recording.record({ type: "resumed", t: 30, app: "test" }).text);
      await file?.close();
      const again = (await SessionFile.look(path)).read;
      expect(again.broken).toEqual([]);
      expect(again.torn).toBeNull();
    }
  });

  async function writeFolder(content: Uint8Array) {
    folder = await mkdtemp(join(tmpdir(), "borewright-file-"));
    path = join(folder, "a.bwsession");
    await writeFile(path, content);
  }

  it("opens for reading only when a seal is broken, and leaves no lock", async () => {
    const whole = await written();
    await writeFile(path, whole.toString("utf8").replace("+0.84200", "+0.84300"));
    const opened = await SessionFile.open(path);
    expect(opened.file).toBeNull();
    expect(opened.readOnlyWhy).toMatch(/broken at line \d/);
    expect(await readdir(folder)).toEqual(["a.bwsession"]);
  });

  it("is written by one program at a time and never over another file", async () => {
    const recording = begin();
    const file = await SessionFile.create(path, recording.headerText, false);
    await expect(SessionFile.open(path)).rejects.toThrow(LockedError);
    await file.close();
    await expect(SessionFile.create(path, recording.headerText, false)).rejects.toThrow(FileExistsError);
    expect(await readdir(folder)).toEqual(["a.bwsession"]);
  });

  it("acknowledges nothing while the disk is full and everything once it is not", async () => {
    const recording = begin();
    let full = true;
    const troubles: (string | null)[] = [];
    const file = await SessionFile.create(path, recording.headerText, false, {
      retryMs: 5,
      onState: ({ trouble }) => troubles.push(trouble),
      wrapTarget: (target) => ({
        ...target,
        write: (bytes, offset, length, position) =>
          full
            ? Promise.reject(Object.assign(new Error("no space"), { code: "ENOSPC" }))
            : target.write(bytes, offset, length, position),
      }),
    });
    let acknowledged = 0;
    for (const t of [1, 2, 3]) {
      file.append(recording.record({ type: "line", t, gauge: "mic", line: "+0.84200" }).text, () => {
        acknowledged += 1;
      });
    }
    await expect(file.flush()).rejects.toThrow("NOT SAVED");
    expect(acknowledged).toBe(0);
    expect(file.saved.pending).toBe(3);
    full = false;
    await file.flush();
    expect(acknowledged).toBe(3);
    expect(troubles).toContain(null);
    await file.close();
    expect((await SessionFile.look(path)).read.inputs).toHaveLength(3);
  });

  it("writes whole files or none", async () => {
    await writeWhole(path, "first", false);
    await expect(writeWhole(path, "second", false)).rejects.toThrow(FileExistsError);
    expect(await readFile(path, "utf8")).toBe("first");
    await writeWhole(path, "second", true);
    expect(await readFile(path, "utf8")).toBe("second");
    expect(await readdir(folder)).toEqual(["a.bwsession"]);
  });
});

describe("SessionClock", () => {
  it("counts the time a session lay closed, and never goes back when the wall clock was set back", () => {
    let now = 1000;
    const created = "2026-03-01T08:00:00.000Z";
    const wall = Date.parse(created);
    const later = SessionClock.resume(60_000, created, wall + 3_600_000, () => now);
    expect(later.nowMs()).toBe(3_600_000);
    now += 250;
    expect(later.nowMs()).toBe(3_600_250);
    const setBack = SessionClock.resume(60_000, created, wall - 3_600_000, () => now);
    expect(setBack.nowMs()).toBe(60_000);
    now -= 500;
    expect(setBack.nowMs()).toBe(60_000);
  });
});
