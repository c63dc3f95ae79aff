import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runCommand } from "../../electron/cli/borewright.ts";
import { SerialGaugePort } from "../../electron/host/serialGaugePort.ts";
import { heldFeed, heldJob, ndjson } from "./benchFiles.ts";
import { PseudoTerminal } from "./pseudoTerminal.ts";

let folder: string;
const at = (name: string) => join(folder, name);

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-bad-"));
  await writeFile(at("a.job.json"), JSON.stringify(heldJob, null, 2));
  await writeFile(at("a.feed.ndjson"), ndjson(heldFeed()));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** Runs a walk to a session of its own and expects it refused in one line, with nothing made or changed. */
async function refuses(input: readonly string[], ...says: RegExp[]): Promise<void> {
  const before = await readdir(folder);
  let out = "";
  let err = "";
  const status = await runCommand(["walk", "--job", at("a.job.json"), "--session", at("a.bwsession"), ...input], {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    typed: (async function* () {})(),
    stop: new AbortController().signal,
    leave: new AbortController().signal,
  });
  expect(out).toBe("");
  expect(err.trimEnd()).not.toContain("\n");
  for (const part of says) expect(err).toMatch(part);
  expect(status).toBe(2);
  expect(await readdir(folder)).toEqual(before);
}

describe("a job that makes no sense", () => {
  it.each([
    [
      "limits the wrong way round",
      { limits: { low: "0.0019 in", high: "0.0013 in", source: "a slip" } },
      [/a\.job\.json:\d+: limits: /, /expected low </],
    ],
    [
      "a walk to a bore that the layout lacks",
      { walk: ["1I", "9E"] },
      [/a\.job\.json:\d+: walk/, /"9E"/, /it has 1E, 1I/],
    ],
    ["a walk that names a bore twice", { walk: ["1I", "1I"] }, [/a\.job\.json:\d+: walk/, /1I/]],
  ])("%s is refused with file, line, field and what was expected", async (_name, wrong, says) => {
    await writeFile(at("a.job.json"), JSON.stringify({ ...heldJob, ...wrong }, null, 2));
    await refuses(["--feed", at("a.feed.ndjson")], ...says);
  });
});

describe("a port that another program holds (a real serial port on a pseudo-terminal)", () => {
  it("is refused with its path and what to do, and leaves no half-made session", async () => {
    const gauge = await PseudoTerminal.make();
    const other = new SerialGaugePort({ path: gauge.path, baud: 9600, framing: "8N1", dtr: true, rts: true });
    try {
      await other.open({ onBytes: () => {}, onClose: () => {} });
      await refuses(["--port", `bore=${gauge.path}`], /in use by another program: close it there/);
    } finally {
      await other.close();
      await gauge.cleanUp();
    }
  });

  it("leaves a session that was there as it was", async () => {
    const gauge = await PseudoTerminal.make();
    const other = new SerialGaugePort({ path: gauge.path, baud: 9600, framing: "8N1", dtr: true, rts: true });
    await writeFile(at("a.bwsession"), "somebody's file");
    try {
      await other.open({ onBytes: () => {}, onClose: () => {} });
      await refuses(["--port", `bore=${gauge.path}`], /already there/);
      expect(await readFile(at("a.bwsession"), "utf8")).toBe("somebody's file");
      await refuses(["--force", "--port", `bore=${gauge.path}`], /in use by another program/);
      expect(await readFile(at("a.bwsession"), "utf8")).toBe("somebody's file");
    } finally {
      await other.close();
      await gauge.cleanUp();
    }
  });
});
