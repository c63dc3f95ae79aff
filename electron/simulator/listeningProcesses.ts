import { readdir, readlink, realpath } from "node:fs/promises";

/**
 * Ids of the processes (of this user) that have a device open; null where the system keeps no such list (only Linux
 * does, in /proc). Empty when the device is gone.
 */
export async function listeningProcesses(path: string): Promise<number[] | null> {
  if (process.platform !== "linux") return null;
  const device = await realpath(path).catch(() => null);
  if (device === null) return [];
  const found: number[] = [];
  const entries = await readdir("/proc").catch(() => null);
  if (entries === null) return null;
  for (const entry of entries) {
    if (!/^\d+$/.test(entry)) continue;
    const folder = `/proc/${entry}/fd`;
    // Processes end and belong to others: what cannot be read is not listening to this device.
    for (const descriptor of await readdir(folder).catch(() => [])) {
      if ((await readlink(`${folder}/${descriptor}`).catch(() => null)) !== device) continue;
      found.push(Number(entry));
      break;
    }
  }
  return found;
}
