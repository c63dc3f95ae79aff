import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { pairingSchema } from "../../core/report/pairingSchema.ts";
import { type FeedLine, heldFeed, heldJob, ndjson } from "./benchFiles.ts";
import { runHere } from "./runHere.ts";

let folder: string;
const at = (name: string) => join(folder, name);

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-pair-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** Walks a feed into a.bwsession. */
async function walk(job: object = heldJob, feed: readonly FeedLine[] = heldFeed()): Promise<void> {
  await writeFile(at("a.job.json"), JSON.stringify(job));
  await writeFile(at("a.feed.ndjson"), ndjson(feed));
  const { err } = await runHere(
    "walk",
    "--job",
    at("a.job.json"),
    "--feed",
    at("a.feed.ndjson"),
    "--session",
    at("a.bwsession"),
    "--force",
  );
  expect(err).toBe("");
}

/** The feed of the small bench with the second bore read wider, so that the lifters change places. */
function wider(feed: readonly FeedLine[], byTenths: number): FeedLine[] {
  let readings = 0;
  return feed.map((record) => {
    if (typeof record.line !== "string" || !/^\+0\.001/.test(record.line)) return record;
    readings += 1;
    return readings <= 6 ? record : { ...record, line: `+${(Number(record.line) + byTenths / 10_000).toFixed(5)}` };
  });
}

describe("borewright pair", () => {
  it("prints a bench list in walking order, with what is gained", async () => {
    await walk(heldJob, wider(heldFeed(), -0.5));
    const { status, out, err } = await runHere("pair", at("a.bwsession"));
    expect(err).toBe("");
    expect(status).toBe(0);
    const lines = out.split("\n");
    expect(lines[0]).toBe("Lifters to bores, in walking order. Clearances in in, aimed at 0.00160; rule guarded.");
    expect(lines[1]).toBe("The lifter or cam maker's sheet comes first.");
    expect(lines.filter((line) => /^1[IE] /.test(line)).map((line) => line.split(/ {2,}/).slice(0, 3))).toEqual([
      ["1I", "1E", "MOVES"],
      ["1E", "1I", "MOVES"],
    ]);
    expect(out).toContain("2 of 2 bores get another lifter than now.");
    expect(out).toMatch(/bores inside the limits +\d of 2 +\d of 2/);
    expect(out).toMatch(/lifters out of their own bore +0 +2/);
    expect(out.endsWith("\n")).toBe(true);
  });

  it("prints the pairing as one object", async () => {
    await walk();
    const before = await readFile(at("a.bwsession"));
    const { status, out } = await runHere("pair", at("a.bwsession"), "--json");
    expect(status).toBe(0);
    const pairing = pairingSchema.strict().parse(JSON.parse(out));
    expect(pairing.assignments.map(({ bore }) => bore)).toEqual(["1I", "1E"]);
    expect(out.endsWith("\n")).toBe(true);
    // The session is only read.
    expect(await readFile(at("a.bwsession"))).toEqual(before);
  });

  it("names the rules that hold a lifter, and what is left over", async () => {
    const job = { ...heldJob, lifters: { "1I": { pinned: true }, S1: { spare: true } } };
    const feed = heldFeed().flatMap((record) =>
      record.line === "+0.84205" ? [record, { ...record, line: "+0.84300" }] : [record],
    );
    await walk(job, feed);
    const { out } = await runHere("pair", at("a.bwsession"));
    expect(out).toContain("Lifters held by a rule:\n  1I is pinned to its own bore 1I\n");
    expect(out).toContain("Lifters left over: S1.\n");
  });

  it("ends with 2 and one line when the rules clash, or nothing was measured", async () => {
    await walk({ ...heldJob, lifters: { "1I": { pinned: "1E" }, "1E": { pinned: true } } });
    const clash = await runHere("pair", at("a.bwsession"));
    expect(clash).toMatchObject({ status: 2, out: "" });
    expect(clash.err).toMatch(
      /^borewright pair: session .*a\.bwsession: No order of the lifters keeps all of this: .*\n$/,
    );
    expect(clash.err).toContain("lifter 1I is pinned to bore 1E; lifter 1E is pinned to its own bore 1E");
    await walk(
      heldJob,
      heldFeed().filter(({ gauge }) => gauge !== "mic"),
    );
    const bare = await runHere("pair", at("a.bwsession"), "--json");
    expect(bare).toMatchObject({ status: 2, out: "" });
    expect(bare.err).toMatch(/No lifter was measured in this session; expected .*\n$/);
    await walk(
      heldJob,
      heldFeed().map((record) => (record.step === "zero" ? { t: record.t, step: "zero" } : record)),
    );
    const unnamed = await runHere("pair", at("a.bwsession"));
    expect(unnamed.status).toBe(2);
    expect(unnamed.err).toContain("its zero does not name the lifter that the micrometer was set to");
  });

  it("ends with 2 and one line for wrong use or a bad file", async () => {
    const missing = await runHere("pair");
    expect(missing).toMatchObject({
      status: 2,
      err: "borewright pair: SESSION is missing; see borewright pair --help\n",
    });
    expect((await runHere("pair", at("none.bwsession"))).err).toMatch(/^borewright session .*none\.bwsession.*\n$/);
    await writeFile(at("bad.bwsession"), "{}\n");
    const bad = await runHere("pair", at("bad.bwsession"));
    expect(bad.status).toBe(2);
    expect(bad.err.trim().split("\n")).toHaveLength(1);
    expect((await runHere("pair", "a", "b")).status).toBe(2);
    expect((await runHere("pair", at("a"), "--limits", "flat")).status).toBe(2);
  });

  it("ends with 5, says where, and pairs all the same when a seal is broken", async () => {
    await walk();
    const text = await readFile(at("a.bwsession"), "utf8");
    await writeFile(at("b.bwsession"), text.replace("+0.00145", "+0.00140"));
    const { status, out } = await runHere("pair", at("b.bwsession"), "--json");
    expect(status).toBe(5);
    const { notes, assignments } = pairingSchema.parse(JSON.parse(out));
    expect(notes[0]).toMatch(/^The seal is broken at line \d+ of the session: /);
    expect(assignments).toHaveLength(2);
  });

  it("has a schema", async () => {
    const { status, out } = await runHere("schema", "pairing");
    expect(status).toBe(0);
    expect(JSON.parse(out).properties.format.const).toBe("borewright/pairing");
  });
});
