import { spawnSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

const mount = (...args: string[]): boolean => spawnSync("mount", args, { stdio: "ignore" }).status === 0;

/** A real disk of a few kilobytes, in memory, that can be made larger or read-only. */
export interface SmallDisk {
  readonly path: string;
  /** False where the system would not do it. */
  set(options: string): boolean;
  remove(): Promise<void>;
}

/** Null where this user may not mount a disk. */
export async function smallDisk(size: string): Promise<SmallDisk | null> {
  const path = await mkdtemp(join(tmpdir(), "borewright-disk-"));
  const remove = async () => {
    spawnSync("umount", [path], { stdio: "ignore" });
    await rm(path, { recursive: true, force: true });
  };
  if (process.platform !== "linux" || !mount("-t", "tmpfs", "-o", `size=${size}`, "tmpfs", path)) {
    await remove();
    return null;
  }
  return { path, set: (options) => mount("-o", `remount,${options}`, path), remove };
}
