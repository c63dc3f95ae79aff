import { copyFile, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { MethodInput, MethodName, MethodOutput } from "../../core/bridge/messages.ts";
import { comparisonSchema } from "../../core/report/comparisonSchema.ts";
import { pairingSchema } from "../../core/report/pairingSchema.ts";
import { planningSchema } from "../../core/report/planningSchema.ts";
import { remedySchema } from "../../core/report/remedySchema.ts";
import { resultSchema } from "../../core/report/result.ts";
import { runCommand } from "../../electron/cli/borewright.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { type FeedLine, heldFeed, heldJob, ndjson } from "./benchFiles.ts";

const EARLIER = "a-earlier.bwsession";
const LATER = "b-later.bwsession";

let folder: string;
let host: HostService;
const at = (name: string) => join(folder, name);

const run = async (...args: readonly string[]) => {
  const said = { out: "", err: "" };
  const status = await runCommand(args, {
    out(text) {
      said.out += text;
    },
    err(text) {
      said.err += text;
    },
    typed: (async function* () {})(),
    stop: new AbortController().signal,
    leave: new AbortController().signal,
  });
  return { status, ...said };
};

/** Walks two bores into a session; the second bore reads `more` hundred-thousandths of an inch larger. */
async function walk(name: string, more = 0, job: object = heldJob): Promise<void> {
  let presses = 0;
  const feed = heldFeed().map((record): FeedLine => {
    if (!/^\+0\.0014/.test(String(record.line ?? ""))) return record;
    presses += 1;
    const shown = Number(String(record.line).slice(-3)) + (presses > 6 ? more : 0);
    return { ...record, line: `+0.00${shown}` };
  });
  await writeFile(at("a.job.json"), JSON.stringify(job));
  await writeFile(at("a.feed.ndjson"), ndjson(feed));
  const walked = await run("walk", "--job", at("a.job.json"), "--feed", at("a.feed.ndjson"), "--session", at(name));
  expect(walked).toMatchObject({ status: 0, err: "" });
  // Sessions made in one millisecond would be taken for one and the same.
  await new Promise((resolve) => setTimeout(resolve, 5));
}

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-remedy-"));
  host = await HostService.open({
    shell: "loopback",
    folder,
    ports: (onChange) => new PortList(onChange, async () => []),
  });
});
afterEach(async () => {
  await host.close();
  await rm(folder, { recursive: true, force: true });
});

async function call<M extends MethodName>(method: M, input: MethodInput<M>, mayAct = true): Promise<MethodOutput<M>> {
  const answer = await host.call(method, input, { mayAct });
  if (!answer.ok) throw new Error(`${answer.code}: ${answer.message}`);
  return answer.value as MethodOutput<M>;
}

describe("session.whatIf", () => {
  it("answers with the result as it would be, to one who may only look too, and leaves the file as it is", async () => {
    await walk(LATER);
    await call("session.open", { id: LATER, readOnly: true });
    const file = await readFile(at(LATER));
    const asked = { limits: "roller", everyLifter: "0.8415 in", blockC: 25, lifterC: 25 } as const;
    const result = resultSchema.parse((await call("session.whatIf", { whatIf: asked }, false)).result);
    expect(result).toMatchObject({ seal: "intact", limits: { lowNm: 50_800 } });
    expect(result.lifters.map(({ diameterNm, readings }) => [diameterNm, readings])).toEqual([
      [21_374_100, 0],
      [21_374_100, 0],
    ]);
    const same = resultSchema.parse((await call("session.whatIf", { whatIf: {} })).result);
    const exported = JSON.parse((await call("session.export", { kind: "result.json" })).content);
    expect(same).toEqual(exported);
    expect(await readFile(at(LATER))).toEqual(file);
  });

  it("says that the seal is broken of one that is only looked at because of it", async () => {
    await walk(LATER);
    const text = await readFile(at(LATER), "utf8");
    await writeFile(at(LATER), text.replace("+0.00145", "+0.00140"));
    await call("session.open", { id: LATER });
    for (let time = 0; time < 2; time += 1) {
      const { result } = await call("session.whatIf", { whatIf: {} });
      expect(resultSchema.parse(result).seal).toBe("broken");
    }
  });

  it("refuses nonsense in a sentence, and anything while no session is open", async () => {
    await expect(call("session.whatIf", { whatIf: {} })).rejects.toThrow("no-session");
    await walk(LATER);
    await call("session.open", { id: LATER });
    const refused = (whatIf: MethodInput<"session.whatIf">["whatIf"]) =>
      expect(call("session.whatIf", { whatIf })).rejects;
    await refused({ limits: { low: "19 um", high: "13 um" } }).toThrow("what-if: limits: the wrong way round");
    await refused({ everyLifter: "0.842" }).toThrow("what-if: everyLifter: the unit is missing");
    await refused({ lifters: { "9X": "0.842 in" } }).toThrow('the job has no lifter "9X"; expected one of 1I, 1E');
    await refused({ blockC: 900 }).toThrow("bad-input: session.whatIf: whatIf.blockC");
  });
});

describe("session.pairing and session.remedy", () => {
  beforeEach(async () => {
    await walk(LATER, 40);
    await call("session.open", { id: LATER });
  });

  it("answer for the open session, also under a what-if", async () => {
    const { assignments } = pairingSchema.parse((await call("session.pairing", {})).pairing);
    expect(assignments.map(({ bore }) => bore)).toEqual(["1I", "1E"]);
    const whatIf = { limits: "roller" } as const;
    const { rule, targetNm } = pairingSchema.parse((await call("session.pairing", { whatIf })).pairing);
    expect({ rule, targetNm }).toEqual({ rule: "guarded", targetNm: 63_500 });
    const now = remedySchema.parse((await call("session.remedy", {})).remedy);
    expect(now.bores.map(({ name }) => name)).toEqual(["1I", "1E"]);
    expect(now.bores[1]?.verdict).toBe("undecided");
    const wide = { limits: { low: "0.0010 in", high: "0.0040 in" } };
    expect(remedySchema.parse((await call("session.remedy", { whatIf: wide })).remedy).bores[1]?.verdict).toBe("fits");
  });

  it("keep to notes given in place of the job's", async () => {
    const notes = { "1I": { pinned: true } };
    const { assignments } = pairingSchema.parse((await call("session.pairing", { notes })).pairing);
    expect(assignments[0]).toMatchObject({ bore: "1I", lifter: "1I" });
    expect(assignments[0]?.why).toBeTruthy();
    const both = { "1I": { keptFrom: ["1I", "1E"] } };
    await expect(call("session.pairing", { notes: both })).rejects.toThrow("pairing-clash: ");
  });

  it("take no lifter that was never measured, and check notes as a job's", async () => {
    const spare = { S9: { spare: true } };
    for (const method of ["session.pairing", "session.remedy"] as const) {
      await expect(call(method, { notes: spare })).rejects.toThrow('notes: notes.S9: the session has no lifter "S9"');
      await expect(call(method, { notes: { "1I": { pinned: "9I" } } })).rejects.toThrow("job: lifters.1I.pinned");
      await expect(call(method, { notes: {}, whatIf: { everyLifter: "wide" } })).rejects.toThrow(
        "what-if: everyLifter",
      );
    }
  });

  it("plan for a lifter body of one's own, and refuse one that is none", async () => {
    const { remedy } = await call("session.remedy", { lifter: "0.860 in" });
    const own = remedySchema.parse(remedy).bores[1]?.options.filter(({ lifterNm }) => lifterNm === 21_844_000);
    expect(own?.map(({ kind }) => kind)).toEqual(["body", "bush"]);
    await expect(call("session.remedy", { lifter: "0.860" })).rejects.toThrow("lifter: lifter: the unit is missing");
    await expect(call("session.remedy", { lifter: "8.6 in" })).rejects.toThrow(
      "expected the diameter of a lifter body",
    );
  });

  it("let a spare lifter of the job stay a spare one", async () => {
    const job = { ...heldJob, lifters: { S1: { spare: true } } };
    await call("session.close", {});
    const feed = heldFeed();
    const lifters = feed.findIndex(({ line }) => line === "+0.84205");
    feed.splice(lifters + 1, 0, { t: feed[lifters]?.t ?? 0, gauge: "mic", line: "+0.84210" });
    await writeFile(at("s.job.json"), JSON.stringify(job));
    await writeFile(at("s.feed.ndjson"), ndjson(feed));
    const id = "spare.bwsession";
    const files = ["--job", at("s.job.json"), "--feed", at("s.feed.ndjson"), "--session", at(id)];
    expect((await run("walk", ...files)).status).toBe(0);
    await call("session.open", { id });
    const { pairing } = await call("session.pairing", { notes: { S1: { pinned: "1E" } } });
    expect(pairingSchema.parse(pairing).assignments[1]).toMatchObject({ bore: "1E", lifter: "S1" });
  });
});

describe("session.planning", () => {
  it("answers with estimates and their assumptions", async () => {
    await walk(LATER);
    await call("session.open", { id: LATER });
    const assumptions = { blockC: 105, guidedLength: "1.25 in" };
    const planning = planningSchema.parse((await call("session.planning", { assumptions }, false)).planning);
    expect(planning.bores.map(({ name }) => name)).toEqual(["1I", "1E"]);
    expect(planning.assumptions.filter(({ mark }) => mark === "given").map(({ value }) => value)).toEqual([
      105,
      "1.25 in",
    ]);
    await expect(call("session.planning", { assumptions: { viscosityPaS: 0 } })).rejects.toThrow(
      "planning: viscosityPaS: found 0 Pa·s; expected",
    );
    await expect(call("session.planning", { assumptions: {}, whatIf: { everyLifter: "?" } })).rejects.toThrow(
      "what-if",
    );
  });
});

describe("session.compare", () => {
  it("lays the open session over an earlier one of the folder", async () => {
    await walk(EARLIER);
    await walk(LATER, 40);
    await call("session.open", { id: LATER });
    const comparison = comparisonSchema.parse((await call("session.compare", { earlier: EARLIER }, false)).comparison);
    expect(comparison.bores.map(({ name, change }) => [name, change])).toEqual([
      ["1I", "none seen"],
      ["1E", "larger"],
    ]);
    expect(comparison.bores[1]?.changeMinNm).toBe(10_160);
    const fresh = comparisonSchema.parse(
      (await call("session.compare", { earlier: EARLIER, newLifters: true })).comparison,
    );
    const u = ({ bores }: typeof fresh) => bores[0]?.stations[0]?.uncertaintyNm ?? 0;
    expect(u(fresh)).toBeGreaterThan(u(comparison));
  });

  it("refuses one that is not there, is no session, is the open one, or is the later one", async () => {
    await walk(EARLIER);
    await walk(LATER);
    await writeFile(at("c-none.bwsession"), "nothing\n");
    await call("session.open", { id: EARLIER });
    const refused = (earlier: string) => expect(call("session.compare", { earlier })).rejects;
    await refused("gone.bwsession").toThrow('no-such-session: There is no session "gone.bwsession"');
    await refused("../a.bwsession").toThrow("no-such-session");
    await refused("c-none.bwsession").toThrow('session: "c-none.bwsession" can not be read: line 1');
    await refused(EARLIER).toThrow("is the session that is open");
    await refused(LATER).toThrow("compare: The sessions are the wrong way round");
    await copyFile(at(EARLIER), at("copy.bwsession"));
    await refused("copy.bwsession").toThrow("the same one twice");
  });
});

describe("borewright compare", () => {
  it("prints what changed, bore by bore, and as one object", async () => {
    await walk(EARLIER);
    await walk(LATER, 40);
    const files = await readdir(folder);
    const ran = await run("compare", at(EARLIER), at(LATER));
    expect(ran).toMatchObject({ status: 0, err: "" });
    expect(ran.out).toMatch(/^1E {4}upper axial {2}0\.84355 {2}0\.84395 {2}\+0\.00040 {2}0\.000\d\d$/m);
    expect(ran.out).toMatch(/^LOOK 1E: Larger by 10\.2 µm/m);
    expect(ran.out).toContain("To be looked at: 1E.");
    expect(ran.out).not.toMatch(/null|undefined|NaN/);
    const json = await run("compare", at(EARLIER), at(LATER), "--new-lifters", "--json");
    expect(comparisonSchema.parse(JSON.parse(json.out)).notes.join(" ")).toContain("is another one than then");
    expect(await readdir(folder)).toEqual(files);
  });

  it("prints it all the same where a seal is broken, and ends with 5", async () => {
    await walk(EARLIER);
    await walk(LATER, 40);
    const text = await readFile(at(EARLIER), "utf8");
    await writeFile(at(EARLIER), text.replace("+0.00145", "+0.00140"));
    const ran = await run("compare", at(EARLIER), at(LATER));
    expect(ran.status).toBe(5);
    expect(ran.out).toMatch(/note: The seal of the earlier session is broken at line \d+/);
  });

  it.each([
    ["one file", () => ["compare", at(EARLIER)], /compare: AFTER is missing/],
    ["none", () => ["compare"], /compare: BEFORE is missing/],
    ["three", () => ["compare", at(EARLIER), at(LATER), "c"], /found "c"; expected nothing more/],
    ["one that is not there", () => ["compare", at("x"), at(LATER)], /session .*x: there is no such file/],
    ["one that is none", () => ["compare", at("a.job.json"), at(LATER)], /a\.job\.json:1: /],
    ["the wrong way round", () => ["compare", at(LATER), at(EARLIER)], /the wrong way round/],
    ["an unknown option", () => ["compare", "--plan", at(EARLIER), at(LATER)], /compare: Unknown option/],
  ])("refuses %s with 2 and one line", async (_, args, says) => {
    await walk(EARLIER);
    await walk(LATER);
    const ran = await run(...args());
    expect(ran).toMatchObject({ status: 2, out: "" });
    expect(ran.err).toMatch(says);
    expect(ran.err.trim().split("\n")).toHaveLength(1);
  });

  it.each(["comparison", "planning"])("has a schema of its %s", async (name) => {
    const ran = await run("schema", name);
    expect(ran.status).toBe(0);
    expect(JSON.parse(ran.out).properties.format.const).toBe(`borewright/${name}`);
  });
});
