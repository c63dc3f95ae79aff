import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { remedySchema } from "../../core/report/remedySchema.ts";
import { heldFeed, heldJob, ndjson } from "./benchFiles.ts";
import { runHere } from "./runHere.ts";

let folder: string;
const at = (name: string) => join(folder, name);

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-remedy-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const refuses = async (says: RegExp, ...args: string[]) => {
  const ran = await runHere(...args);
  expect(ran.status).toBe(2);
  expect(ran.out).toBe("");
  expect(ran.err.trimEnd()).not.toContain("\n");
  expect(ran.err).toMatch(says);
};

/** A whole simulated walk of sixteen bores into a.bwsession. */
async function simulated(seed = 3): Promise<void> {
  const job = { ...heldJob, title: "Sixteen bores", walk: "bank", returnCheckEvery: 8 };
  await writeFile(at("a.job.json"), JSON.stringify(job));
  await runHere("simulate", "--job", at("a.job.json"), "--feed", at("a.feed.ndjson"), "--seed", String(seed));
  await walk();
}

async function walk(): Promise<void> {
  const { err } = await runHere(
    ...["walk", "--job", at("a.job.json"), "--feed", at("a.feed.ndjson"), "--session", at("a.bwsession"), "--force"],
  );
  expect(err).toBe("");
}

describe("borewright remedy", () => {
  it("prints one JSON object as its schema says, and leaves the session as it is", async () => {
    await simulated();
    const before = await readFile(at("a.bwsession"));
    const { status, out } = await runHere("remedy", at("a.bwsession"), "--json");
    expect(status).toBe(0);
    const remedy = remedySchema.parse(JSON.parse(out));
    expect(remedy.bores).toHaveLength(16);
    expect(remedy.bores.every(({ options }) => options.length >= 7)).toBe(true);
    expect(await readFile(at("a.bwsession"))).toEqual(before);
  });

  it("says the plan first, then the plans side by side, then bore by bore, then what to beware of", async () => {
    await simulated();
    const { status, out } = await runHere("remedy", at("a.bwsession"));
    expect(status).toBe(0);
    const order = ["Plan: ", "Plans side by side:", "Bore by bore", "1E: ", "8E: ", "caution: "].map((part) =>
      out.indexOf(part),
    );
    expect(order.every((place) => place > 0)).toBe(true);
    expect([...order].sort((a, b) => a - b)).toEqual(order);
    expect(out).toContain("common practice, no source");
    for (const line of out.split("\n")) expect(line).toBe(line.trimEnd());
  });

  it("plans for a body of another size", async () => {
    await simulated();
    const { out } = await runHere("remedy", at("a.bwsession"), "--lifter", "0.8520 in", "--json");
    const { bores, block } = remedySchema.parse(JSON.parse(out));
    const text = (await runHere("remedy", at("a.bwsession"), "--lifter", "0.8520 in")).out;
    expect(text.match(/^ {4}body 0\.85200/gm)).toHaveLength(16);
    expect(bores[0]?.options.filter(({ lifterNm }) => lifterNm === 21_640_800).map(({ kind }) => kind)).toEqual([
      "body",
      "bush",
    ]);
    expect(block.plans?.some(({ name }) => name.includes("0.85200 in"))).toBe(true);
  });

  it("writes the sheet for the machine shop as text and as a table, and overwrites only with --force", async () => {
    await simulated();
    expect((await runHere("remedy", at("a.bwsession"), "--sheet", at("sheet.txt"))).status).toBe(0);
    const text = await readFile(at("sheet.txt"), "utf8");
    expect(text).toMatch(/^SHEET FOR THE MACHINE SHOP - Sixteen bores/);
    expect(text).toContain("oil hole re-opened and deburred: ____");
    await refuses(/sheet\.txt is already there/, "remedy", at("a.bwsession"), "--sheet", at("sheet.txt"));
    expect((await runHere("remedy", at("a.bwsession"), "--sheet", at("sheet.txt"), "--force")).status).toBe(0);
    await runHere("remedy", at("a.bwsession"), "--sheet", at("sheet.csv"));
    const [head, first] = (await readFile(at("sheet.csv"), "utf8")).split("\r\n");
    expect(head).toMatch(/^\uFEFF?bore,work,for lifter,lifter \(in\)/);
    expect(first).toMatch(/^\d[IE],(hone to size|"bore out, bush)/);
    expect(first).toMatch(/,,,,,$/);
  });

  it("of a walk broken off says which bores are missing", async () => {
    await writeFile(at("a.job.json"), JSON.stringify(heldJob));
    await writeFile(at("a.feed.ndjson"), ndjson(heldFeed().slice(0, 14)));
    await runHere("walk", "--job", at("a.job.json"), "--feed", at("a.feed.ndjson"), "--session", at("a.bwsession"));
    const { status, out } = await runHere("remedy", at("a.bwsession"));
    expect(status).toBe(0);
    expect(out).toContain("1E: not measured.");
    expect(out).toContain("note: Not measured, and so in no plan: 1E.");
  });

  it("prints the remedy and ends with 5 when a seal is broken, and says so in it", async () => {
    await simulated();
    const text = await readFile(at("a.bwsession"), "utf8");
    await writeFile(at("a.bwsession"), text.replace(/"line":"\+0\.0014/, '"line":"+0.0013'));
    const { status, out } = await runHere("remedy", at("a.bwsession"), "--json");
    expect(status).toBe(5);
    expect(JSON.parse(out).notes[0]).toMatch(/^The seal is broken at line \d+/);
  });

  it("has a schema", async () => {
    const { status, out } = await runHere("schema", "remedy");
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ title: expect.stringContaining("remedy"), type: "object" });
  });

  it.each([
    [[], /SESSION is missing/],
    [["a", "b"], /found "b"/],
    [["/no/such.bwsession"], /there is no such file/],
    [["x", "--lifter", "0.875"], /--lifter: the unit is missing/],
    [["x", "--lifter", "0 in"], /--lifter: found "0 in"; expected the diameter/],
    [["x", "--lifter", "9 in"], /--lifter: found "9 in"/],
    [["x", "--force"], /--force goes with --sheet only/],
    [["x", "--body", "1 in"], /Unknown option '--body'/],
  ])("refuses %j in one line", async (args, says) => {
    await refuses(says, "remedy", ...args);
  });

  it("refuses a sheet where there is no such folder", async () => {
    await simulated();
    await refuses(/sheet .*none.*no such file or folder/, "remedy", at("a.bwsession"), "--sheet", at("none/sheet.txt"));
  });
});
