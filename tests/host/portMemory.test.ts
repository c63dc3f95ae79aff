import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { PortMemory, type RememberedPort } from "../../electron/host/portMemory.ts";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-memory-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const port = (path: string): RememberedPort => ({
  settings: { path, baud: 9600, framing: "8N1", dtr: true, rts: true, settleMs: 0 },
  adapter: null,
  kind: null,
  label: path,
  taught: null,
});

it("puts a file that makes no sense aside before anything is written over it", async () => {
  await writeFile(join(folder, "ports.json"), '{"bore": {"settings": ');
  const memory = new PortMemory(folder);
  expect(await Promise.all([memory.recall("bore"), memory.all()])).toEqual([null, {}]);
  await memory.remember("mic", port("/dev/mic"));
  expect((await readdir(folder)).sort()).toEqual(["ports.json", "ports.unreadable.json"]);
  expect(await readFile(join(folder, "ports.unreadable.json"), "utf8")).toBe('{"bore": {"settings": ');
  expect(Object.keys(await new PortMemory(folder).all())).toEqual(["mic"]);
});

it("writes nothing while the file is there and can not be read", async () => {
  // A folder of its name stands in for a disk that does not let it be read.
  await mkdir(join(folder, "ports.json"));
  const memory = new PortMemory(folder);
  expect(await memory.all()).toEqual({});
  await expect(memory.remember("mic", port("/dev/mic"))).rejects.toThrow();
  await rm(join(folder, "ports.json"), { recursive: true });
  await writeFile(join(folder, "ports.json"), JSON.stringify({ bore: port("/dev/bore") }));
  await memory.remember("mic", port("/dev/mic"));
  expect(Object.keys(await new PortMemory(folder).all()).sort()).toEqual(["bore", "mic"]);
});

it("keeps all of what is remembered and forgotten at once", async () => {
  await new PortMemory(folder).remember("old", port("/dev/old"));
  const memory = new PortMemory(folder);
  const names = Array.from({ length: 12 }, (_, index) => `gauge-${index}`);
  await Promise.all([...names.map((name) => memory.remember(name, port(`/dev/${name}`))), memory.forget("old")]);
  expect(Object.keys(await new PortMemory(folder).all())).toEqual(names);
});
