import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { MethodInput, MethodName, MethodOutput } from "../../core/bridge/messages.ts";
import { studyResultSchema } from "../../core/report/studyReport.ts";
import { studyStations } from "../../core/report/studySession.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { studyJob } from "../../renderer/study/studyJob.ts";
import { publishedStudy } from "../study/publishedStudy.ts";
import { type FeedLine, heldFeed, heldJob, ndjson } from "./benchFiles.ts";
import { runHere } from "./runHere.ts";

let folder: string;
const at = (name: string) => join(folder, name);
const write = (name: string, content: unknown) =>
  writeFile(at(name), typeof content === "string" ? content : JSON.stringify(content, null, 2));

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-study-"));
  await write("a.study.json", publishedStudy);
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe("borewright study FILE: the published 10 × 3 × 3 readings", () => {
  it("gives the published figures of both methods as one object", async () => {
    const ran = await runHere("study", at("a.study.json"), "--band", "6 mm", "--json");
    expect(ran.err).toBe("");
    expect(ran.status).toBe(0);
    const report = studyResultSchema.parse(JSON.parse(ran.out));
    expect(report).toMatchObject({ format: "borewright/study-result", version: 1, bandNm: 6_000_000, walk: null });
    const [byVariance, byRange] = report.study?.methods ?? [];
    const near = (nm: number | undefined, mm: number, within: number) =>
      expect(Math.abs((nm ?? Number.NaN) / 1e6 - mm)).toBeLessThan(within);
    // Analysis of variance, interaction pooled; the manual's own two parts give a gauge of 0.302372.
    near(byVariance?.repeatability.deviationNm, 0.199933, 1e-6);
    near(byVariance?.reproducibility.deviationNm, 0.226838, 1e-6);
    near(byVariance?.gauge.deviationNm, 0.302373, 2e-6);
    near(byVariance?.bores.deviationNm, 1.042327, 1e-6);
    expect(byVariance?.categories).toBe(4);
    expect(byVariance?.gauge.shareOfBand).toBeCloseTo(0.302373, 5);
    expect(byVariance?.gauge.interval?.lowNm).toBeLessThan(302_373);
    expect(byVariance?.gauge.interval?.highNm).toBeGreaterThan(302_373);
    // Averages and ranges; the manual rounds in between.
    near(byRange?.repeatability.deviationNm, 0.20188, 5e-5);
    near(byRange?.reproducibility.deviationNm, 0.22963, 5e-5);
    near(byRange?.gauge.deviationNm, 0.30575, 5e-5);
    near(byRange?.bores.deviationNm, 1.10456, 5e-5);
    near(byRange?.total.deviationNm, 1.1461, 5e-5);
    expect(byRange?.categories).toBe(5);
    expect(byRange?.gauge.interval).toBeNull();
  });

  it("prints both side by side and says which count of categories is whose", async () => {
    const ran = await runHere("study", at("a.study.json"));
    expect(ran.status).toBe(0);
    expect(ran.out).toContain("3 people, 10 bores, 3 repeats; no band given.");
    expect(ran.out).toMatch(/^gauge, both\s+302\.37\d\s+\S+ to \S+\s+27\.9 %\s+-\s+305\.7\d\d\s+26\.7 %\s+-$/m);
    expect(ran.out).toMatch(/^ {2}interaction\s+0\.000\s.*not seen$/m);
    expect(ran.out).toContain("Number of distinct categories by analysis of variance: 4.");
    expect(ran.out).toContain("Number of distinct categories by average and range: 5.");
    expect(ran.out).not.toMatch(/null|undefined|NaN/);
  });

  it("takes the band from a job's limits", async () => {
    await write("a.job.json", { ...heldJob, limits: { low: "0.0013 in", high: "0.0019 in" } });
    const ran = await runHere("study", at("a.study.json"), "--job", at("a.job.json"), "--json");
    expect(JSON.parse(ran.out).bandNm).toBe(15_240);
  });

  it.each([
    ["nothing", () => ["study"], /FILE is missing/],
    ["a file that is not there", () => ["study", at("b.study.json")], /no such file/],
    ["both a file and a session", () => ["study", at("a.study.json"), "--session", "x"], /expected one of them/],
    ["a band without its unit", () => ["study", at("a.study.json"), "--band", "15"], /--band: the unit is missing/],
    ["a band below zero", () => ["study", at("a.study.json"), "--band=-15 um"], /expected a length above zero/],
  ])("refuses %s with 2 and one line", async (_, args, says) => {
    const ran = await runHere(...args());
    expect(ran).toMatchObject({ status: 2, out: "" });
    expect(ran.err).toMatch(says);
    expect(ran.err.trim().split("\n")).toHaveLength(1);
  });

  it("refuses nonsense in a file with its line and path", async () => {
    const readings = publishedStudy.readings.map((cell, index) => (index === 1 ? { ...cell, person: "D" } : cell));
    await write("b.study.json", { ...publishedStudy, readings });
    const ran = await runHere("study", at("b.study.json"));
    expect(ran.status).toBe(2);
    expect(ran.err).toMatch(/b\.study\.json:\d+: readings\[1\]\.person: found "D"; expected one of people: A, B, C/);
  });

  it.each(["study", "study-result"])("prints the schema of %s", async (name) => {
    const ran = await runHere("schema", name);
    expect(ran.status).toBe(0);
    expect(JSON.parse(ran.out).properties.format.const).toBe(`borewright/${name}`);
  });
});

describe("borewright study --session", () => {
  const walk = (job: string, feed: string) =>
    runHere("walk", "--job", at(job), "--feed", at(feed), "--session", at("a.bwsession"));

  it("pools the repeatability of an ordinary walk, with its degrees of freedom and interval", async () => {
    await write("a.job.json", heldJob);
    await write("a.feed.ndjson", ndjson(heldFeed()));
    expect((await walk("a.job.json", "a.feed.ndjson")).status).toBe(0);
    const ran = await runHere("study", "--session", at("a.bwsession"), "--json");
    expect(ran).toMatchObject({ status: 0, err: "" });
    const report = studyResultSchema.parse(JSON.parse(ran.out));
    expect(report.study).toBeNull();
    // Four stations of 1400, 1450, 1400 in units of 0.000001 in: s² = (50 · 25.4 nm)²/3, whatever is pooled.
    expect(report.walk?.bores).toMatchObject({ degreesOfFreedom: 8, groups: 4 });
    expect(report.walk?.bores.deviationNm).toBeCloseTo(1270 / Math.sqrt(3), 6);
    // Chi-square with 8 degrees of freedom at 0.025 and 0.975 (memory: printed tables): 2.180 and 17.535.
    expect(report.walk?.bores.interval?.lowNm).toBeCloseTo((1270 / Math.sqrt(3)) * Math.sqrt(8 / 17.535), 1);
    expect(report.walk?.bores.interval?.highNm).toBeCloseTo((1270 / Math.sqrt(3)) * Math.sqrt(8 / 2.18), 0);
    expect(report.walk?.zeros).toMatchObject({ degreesOfFreedom: 4, groups: 2 });
    expect((await runHere("study", "--session", at("a.bwsession"))).out).toContain(
      "8 degrees of freedom from 4 groups",
    );
  });

  // Hundred-thousandths of an inch in the bore, by bore, repeat and person, about a zero of −15.
  const TRUTH = [
    [
      [140, 145],
      [145, 150],
    ],
    [
      [165, 175],
      [165, 170],
    ],
  ];
  const smallStudy = {
    ...heldJob,
    title: "Gauge study",
    gauges: [heldJob.gauges[0]],
    stations: studyStations({ people: ["Ann", "Ben"], repeats: 2, clock: "axial" }),
    returnCheckEvery: 0,
  };
  const studyFeed = (trials: number) => {
    const feed: FeedLine[] = [];
    const add = (record: Record<string, unknown>) => feed.push({ t: feed.length * 500, ...record });
    add({ step: "zero", lifter: "1I" });
    for (let sweep = 0; sweep < 3; sweep += 1) add({ gauge: "bore", line: "-0.00015" });
    add({ step: "bores" });
    for (const value of TRUTH.flat(2).slice(0, trials)) {
      for (let sweep = 0; sweep < 3; sweep += 1) add({ gauge: "bore", line: `+0.00${value}` });
    }
    add({ step: "bores" });
    return ndjson(feed);
  };

  it("gives the whole study of a session that was recorded as one", async () => {
    await write("a.job.json", smallStudy);
    await write("a.feed.ndjson", studyFeed(8));
    expect((await walk("a.job.json", "a.feed.ndjson")).err).toBe("");
    const ran = await runHere("study", "--session", at("a.bwsession"), "--json");
    expect(ran).toMatchObject({ status: 0, err: "" });
    const report = studyResultSchema.parse(JSON.parse(ran.out));
    const nm = (value: number) => Math.round((value + 15) * 254);
    expect(report.study?.readings).toEqual([
      { person: "Ann", bore: "1I", valuesNm: [nm(140), nm(145)] },
      { person: "Ben", bore: "1I", valuesNm: [nm(145), nm(150)] },
      { person: "Ann", bore: "1E", valuesNm: [nm(165), nm(165)] },
      { person: "Ben", bore: "1E", valuesNm: [nm(175), nm(170)] },
    ]);
    expect(report.bandNm).toBe(15_240);
  });

  it("says what is missing of a study that is not complete, and ends with 3", async () => {
    await write("a.job.json", smallStudy);
    await write("a.feed.ndjson", studyFeed(7));
    await walk("a.job.json", "a.feed.ndjson");
    const ran = await runHere("study", "--session", at("a.bwsession"), "--json");
    expect(ran.status).toBe(3);
    expect(ran.err).toContain("1 of the study's readings are missing");
    expect(JSON.parse(ran.out).study).toBeNull();
  });

  it("makes a study of a whole walk in a simulated stream: three people who are one and the same", async () => {
    const plan = { people: ["Ann", "Ben", "Cat"], repeats: 3, clock: "axial" } as const;
    await write("a.job.json", studyJob({}, ["1I", "1E", "3I", "3E", "5I"], plan));
    const simulated = await runHere(
      "simulate",
      "--job",
      at("a.job.json"),
      "--feed",
      at("a.feed.ndjson"),
      "--seed",
      "5",
    );
    expect(simulated).toMatchObject({ status: 0, err: "" });
    const walked = await walk("a.job.json", "a.feed.ndjson");
    expect(walked.status).toBe(0);
    const ran = await runHere("study", "--session", at("a.bwsession"), "--json");
    expect(ran).toMatchObject({ status: 0, err: "" });
    const { study, walk: sweeps } = studyResultSchema.parse(JSON.parse(ran.out));
    expect(study?.readings.flatMap(({ valuesNm }) => valuesNm)).toHaveLength(45);
    expect(sweeps?.bores.groups).toBe(45);
    // One simulated person stands for all three, so nothing but repeatability is there to be found.
    const [byVariance] = study?.methods ?? [];
    expect(byVariance?.repeatability.deviationNm).toBeGreaterThan(50);
    expect(byVariance?.repeatability.deviationNm).toBeLessThan(1500);
    expect(byVariance?.reproducibility.deviationNm).toBeLessThan(byVariance?.repeatability.deviationNm ?? 0);
  });
});

describe("the host, asked by the page", () => {
  it("tells the readings so far of the open session, then the study; and reads a study's file", async () => {
    const host = await HostService.open({
      shell: "loopback",
      folder,
      ports: (onChange) => new PortList(onChange, async () => []),
    });
    try {
      const call = async <M extends MethodName>(method: M, input: MethodInput<M>): Promise<MethodOutput<M>> => {
        const answer = await host.call(method, input, { mayAct: true });
        if (!answer.ok) throw new Error(`${answer.code}: ${answer.message}`);
        return answer.value as MethodOutput<M>;
      };
      const plan = { people: ["Ann"], repeats: 2, clock: "axial" } as const;
      const job = { ...studyJob(heldJob, ["1I", "1E"], plan), returnCheckEvery: 0 };
      await call("session.new", { job });
      await call("session.act", { action: { type: "step", step: "zero", lifter: "1I" } });
      const type = async (line: string, times = 3) => {
        for (let time = 0; time < times; time += 1) await call("session.type", { gauge: "bore", line });
      };
      await type("-0.00015");
      await call("session.act", { action: { type: "step", step: "bores" } });
      for (const line of ["+0.00140", "+0.00145", "+0.00165"]) await type(line);
      const partly = await call("session.study", {});
      expect(partly.table?.readings.map(({ valuesNm }) => valuesNm.length)).toEqual([2, 1]);
      expect(partly).toMatchObject({ due: 1, report: { study: null } });
      await type("+0.00170");
      const whole = await call("session.study", {});
      expect(whole.due).toBe(0);
      expect(studyResultSchema.parse(whole.report).study?.readings.at(-1)?.valuesNm).toEqual([45_720, 46_990]);

      const content = JSON.stringify(publishedStudy);
      const read = studyResultSchema.parse((await call("study.read", { content, band: "6 mm" })).report);
      expect(read.study?.methods.map(({ categories }) => categories)).toEqual([4, 5]);
      await expect(call("study.read", { content, band: "6" })).rejects.toThrow("study: Band: the unit is missing");
      await expect(call("study.read", { content: "{" })).rejects.toThrow("study: The file is not JSON");
      const spoilt = JSON.stringify({ ...publishedStudy, bores: ["1"] });
      await expect(call("study.read", { content: spoilt })).rejects.toThrow("study: bores: found");
    } finally {
      await host.close();
    }
  });
});
