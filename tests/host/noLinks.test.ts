import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { LockedError, LockFile } from "../../electron/host/lockFile.ts";
import { FileExistsError, NO_LINKS, writeWhole } from "../../electron/host/safeFiles.ts";

/** What the system says of every hard link here: a stand-in for a disk that has none. */
const says = vi.hoisted(() => ({ code: "" }));
vi.mock("node:fs/promises", async (original) => ({
  ...(await original<object>()),
  link: async () => {
    throw Object.assign(new Error("no links"), { code: says.code });
  },
}));

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-links-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe.each([...NO_LINKS])("a disk without hard links, of which the system says %s", (code) => {
  beforeEach(() => {
    says.code = code;
  });

  it("takes a new file whole, and none over another", async () => {
    const path = join(folder, "a.bwsession");
    await writeWhole(path, "first", false);
    await expect(writeWhole(path, "second", false)).rejects.toThrow(FileExistsError);
    expect(await readFile(path, "utf8")).toBe("first");
    expect(await readdir(folder)).toEqual(["a.bwsession"]);
  });

  it("takes a lock once", async () => {
    const path = join(folder, "a.bwsession");
    const lock = await LockFile.take(path);
    await expect(LockFile.take(path)).rejects.toThrow(LockedError);
    await lock.release();
    expect(await readdir(folder)).toEqual([]);
  });
});

it("passes on what is no want of links", async () => {
  says.code = "ENOSPC";
  await expect(writeWhole(join(folder, "a"), "first", false)).rejects.toThrow("no links");
  await expect(LockFile.take(join(folder, "a"))).rejects.toThrow("no links");
  expect(NO_LINKS.has("EISDIR")).toBe(true);
});
