import { describe, expect, it } from "vitest";
import { AppendQueue, type AppendTarget, type SavedState } from "../../electron/host/appendQueue.ts";

/** A disk in memory: what was written, what of it was synced, and what to refuse next. */
class MemoryDisk implements AppendTarget {
  written = new Uint8Array(0);
  synced = "";
  writes = 0;
  inFlight = 0;
  mostInFlight = 0;
  /** Errors for the next writes and syncs; null lets one through. */
  refuseWrite: (string | null)[] = [];
  refuseSync: (string | null)[] = [];
  /** Largest number of bytes one write takes. */
  most = Number.POSITIVE_INFINITY;
  closed = false;

  async write(bytes: Uint8Array, offset: number, length: number, position: number): Promise<number> {
    this.inFlight += 1;
    this.mostInFlight = Math.max(this.mostInFlight, this.inFlight);
    await new Promise((resolve) => setTimeout(resolve, 1));
    this.inFlight -= 1;
    this.writes += 1;
    const refused = this.refuseWrite.shift();
    const taken = Math.min(length, this.most);
    // A disk that fills up takes a part before it refuses.
    const kept = typeof refused === "string" ? Math.floor(taken / 2) : taken;
    const grown = new Uint8Array(Math.max(this.written.length, position + kept));
    grown.set(this.written);
    grown.set(bytes.subarray(offset, offset + kept), position);
    this.written = grown;
    if (typeof refused === "string") throw Object.assign(new Error(refused), { code: refused });
    return kept;
  }

  async datasync(): Promise<void> {
    const refused = this.refuseSync.shift();
    if (typeof refused === "string") throw Object.assign(new Error(refused), { code: refused });
    this.synced = new TextDecoder().decode(this.written);
  }

  async close(): Promise<void> {
    this.closed = true;
  }
}

function queueOn(disk: MemoryDisk, states: SavedState[] = []): AppendQueue {
  return new AppendQueue(disk, {
    position: 0,
    name: "bench.bwsession",
    retryMs: 5,
    onState: (state) => states.push(state),
  });
}

const until = async (condition: () => boolean) => {
  for (let turn = 0; turn < 400 && !condition(); turn += 1) await new Promise((resolve) => setTimeout(resolve, 2));
  expect(condition()).toBe(true);
};

describe("AppendQueue", () => {
  it("tells how long the oldest pending record has waited, and nothing when none does", async () => {
    const disk = new MemoryDisk();
    disk.refuseWrite = Array<string>(500).fill("EIO");
    const queue = queueOn(disk);
    expect(queue.state).toEqual({ pending: 0, trouble: null });
    queue.append("a\n");
    await until(() => queue.state.trouble !== null);
    const first = queue.state.pendingMs ?? -1;
    queue.append("b\n");
    await new Promise((resolve) => setTimeout(resolve, 3));
    expect(first).toBeGreaterThanOrEqual(0);
    expect(queue.state).toMatchObject({ pending: 2 });
    expect(queue.state.pendingMs).toBeGreaterThan(first);
    disk.refuseWrite = [];
    await until(() => queue.state.pending === 0);
    expect(queue.state).toEqual({ pending: 0, trouble: null, cured: expect.stringMatching(/^Saved again/) });
  });

  it("lets a record that nobody waits for wait for the next, and no longer than it may", async () => {
    const disk = new MemoryDisk();
    const queue = queueOn(disk);
    const kept: string[] = [];
    queue.append("a\n", () => kept.push("a"), 60_000);
    queue.append("b\n", () => kept.push("b"), 60_000);
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(disk.writes).toBe(0);
    queue.append("c\n", () => kept.push("c"));
    await until(() => kept.length === 3);
    expect([disk.synced, disk.writes, kept]).toEqual(["a\nb\nc\n", 1, ["a", "b", "c"]]);
    queue.append("d\n", () => kept.push("d"), 30);
    expect(queue.state.pending).toBe(1);
    await until(() => kept.length === 4);
    expect([disk.synced, disk.writes]).toEqual(["a\nb\nc\nd\n", 2]);
  });

  it.each([
    ["a flush", (queue: AppendQueue) => void queue.flush()],
    ["one who waits for all of it", (queue: AppendQueue) => queue.whenKept(() => {})],
    ["the end", (queue: AppendQueue) => void queue.close()],
  ])("keeps a record that may wait at once for %s", async (_, hurry) => {
    const disk = new MemoryDisk();
    const queue = queueOn(disk);
    queue.append("a\n", undefined, 60_000);
    hurry(queue);
    await until(() => disk.synced === "a\n");
    expect(queue.state.pending).toBe(0);
  });

  it("keeps a record that may wait after a failure with all that waits", async () => {
    const disk = new MemoryDisk();
    disk.refuseWrite = ["EIO"];
    const queue = queueOn(disk);
    queue.append("a\n");
    queue.append("b\n", undefined, 60_000);
    await until(() => queue.state.pending === 0);
    expect(disk.synced).toBe("a\nb\n");
  });

  it("acknowledges each record only after the sync that covers it, in order", async () => {
    const disk = new MemoryDisk();
    const queue = queueOn(disk);
    const acknowledged: string[] = [];
    for (const name of ["a", "b", "c"]) {
      queue.append(`${name}\n`, () => {
        expect(disk.synced).toContain(`${name}\n`);
        acknowledged.push(name);
      });
    }
    expect(acknowledged).toEqual([]);
    expect(queue.state.pending).toBe(3);
    await queue.flush();
    expect(acknowledged).toEqual(["a", "b", "c"]);
    expect(disk.synced).toBe("a\nb\nc\n");
  });

  it("has one write in flight and takes what waited behind it in one go", async () => {
    const disk = new MemoryDisk();
    const queue = queueOn(disk);
    for (let index = 0; index < 200; index += 1) queue.append(`${index}\n`);
    await queue.flush();
    expect(disk.mostInFlight).toBe(1);
    expect(disk.writes).toBeLessThan(5);
    expect(disk.synced.split("\n")).toHaveLength(201);
  });

  it("goes on after a short write", async () => {
    const disk = new MemoryDisk();
    disk.most = 3;
    const queue = queueOn(disk);
    queue.append("one long record\n");
    await queue.flush();
    expect(disk.synced).toBe("one long record\n");
  });

  it.each(["ENOSPC", "EIO"])(
    "says NOT SAVED on a failed write (%s), acknowledges nothing, and saves all later",
    async (code) => {
      const disk = new MemoryDisk();
      const states: SavedState[] = [];
      const queue = queueOn(disk, states);
      disk.refuseWrite = [code, code];
      const acknowledged: string[] = [];
      queue.append("first\n", () => acknowledged.push("first"));
      await until(() => queue.state.trouble !== null);
      expect(queue.state.trouble).toMatch(/^NOT SAVED: bench\.bwsession/);
      expect(acknowledged).toEqual([]);
      queue.append("second\n", () => acknowledged.push("second"));
      expect(queue.state.pending).toBe(2);
      await until(() => queue.state.pending === 0);
      expect(queue.state.trouble).toBeNull();
      expect(acknowledged).toEqual(["first", "second"]);
      expect(disk.synced).toBe("first\nsecond\n");
      expect(states.some((state) => state.trouble !== null && state.pending > 0)).toBe(true);
    },
  );

  it("writes the batch again after a failed sync, since the system may have dropped it", async () => {
    const disk = new MemoryDisk();
    const queue = queueOn(disk);
    disk.refuseSync = ["EIO"];
    let acknowledged = 0;
    queue.append("kept\n", () => {
      acknowledged += 1;
    });
    await until(() => queue.state.trouble !== null);
    disk.written = new Uint8Array(0);
    await until(() => acknowledged === 1);
    expect(disk.synced).toBe("kept\n");
  });

  it("rejects a flush and a close while the disk refuses, and closes the file all the same", async () => {
    const disk = new MemoryDisk();
    const queue = queueOn(disk);
    disk.refuseWrite = Array.from({ length: 1000 }, () => "ENOSPC");
    queue.append("lost if the power goes\n");
    await expect(queue.flush()).rejects.toThrow("NOT SAVED");
    await expect(queue.close()).rejects.toThrow("the disk is full");
    expect(disk.closed).toBe(true);
    expect(() => queue.append("more\n")).toThrow("closed");
  });

  it("tells the others even when one listener throws", async () => {
    const disk = new MemoryDisk();
    const queue = queueOn(disk);
    const thrown = new Promise<unknown>((resolve) => process.once("uncaughtException", resolve));
    const listeners = process.listeners("uncaughtException").slice(0, -1);
    for (const listener of listeners) process.off("uncaughtException", listener);
    let heard = false;
    queue.append("a\n", () => {
      throw new Error("a listener's own fault");
    });
    queue.append("b\n", () => {
      heard = true;
    });
    await queue.flush();
    expect(heard).toBe(true);
    expect(String(await thrown)).toContain("own fault");
    for (const listener of listeners) process.on("uncaughtException", listener);
  });

  it("goes on and acknowledges when the listener of its state throws", async () => {
    const disk = new MemoryDisk();
    const listeners = process.listeners("uncaughtException");
    process.removeAllListeners("uncaughtException");
    let thrown = 0;
    process.on("uncaughtException", () => {
      thrown += 1;
    });
    const queue = new AppendQueue(disk, {
      position: 0,
      name: "bench.bwsession",
      onState: () => {
        throw new Error("a listener's own fault");
      },
    });
    let heard = false;
    queue.append("a\n", () => {
      heard = true;
    });
    await queue.flush();
    await until(() => thrown === 2);
    process.removeAllListeners("uncaughtException");
    for (const listener of listeners) process.on("uncaughtException", listener);
    expect(heard).toBe(true);
    expect(disk.synced).toBe("a\n");
  });
});
