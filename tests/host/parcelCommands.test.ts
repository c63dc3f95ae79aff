import { mkdtemp, readdir, readFile, rm, stat, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { parcelCheckSchema, parcelManifestSchema } from "../../core/report/parcelSchema.ts";
import { filesOfZip } from "../../electron/host/parcel/zipLayout.ts";
import { heldJob } from "./benchFiles.ts";
import { parcelOf, sessionBytes } from "./parcelOf.ts";
import { runHere } from "./runHere.ts";
import { testKey } from "./testKey.ts";

let folder: string;
const at = (name: string) => join(folder, name);
const data = () => at("data");
let before: string | undefined;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-handover-"));
  before = process.env.BOREWRIGHT_FOLDER;
  process.env.BOREWRIGHT_FOLDER = data();
  await writeFile(at("a.bwsession"), sessionBytes());
});
afterEach(async () => {
  if (before === undefined) delete process.env.BOREWRIGHT_FOLDER;
  else process.env.BOREWRIGHT_FOLDER = before;
  await rm(folder, { recursive: true, force: true });
});

const handover = (...more: string[]) => runHere("handover", at("a.bwsession"), "--out", at("a.bwparcel"), ...more);
const open = (...more: string[]) => runHere("open", at("a.bwparcel"), ...more);

describe("borewright handover", () => {
  it("writes a parcel that opens, and nothing else", async () => {
    const made = await handover();
    expect(made).toMatchObject({ status: 0, err: "" });
    expect(made.out).toContain("It is not signed");
    expect(await readdir(folder)).toEqual(["a.bwparcel", "a.bwsession"]);
    const opened = await open();
    expect(opened).toMatchObject({ status: 0, err: "" });
    expect(opened.out).toMatch(/^Intact\. It is not signed/);
    expect(opened.out).toContain("Two bores");
    expect(opened.out).toMatch(/1I .* fits/);
    expect(await readdir(folder)).toEqual(["a.bwparcel", "a.bwsession"]);
  });

  it("prints the manifest as JSON", async () => {
    const { out } = await handover("--json");
    expect(parcelManifestSchema.parse(JSON.parse(out)).format).toBe("borewright/parcel");
  });

  it("overwrites only with --force, and never the session itself", async () => {
    await writeFile(at("a.bwparcel"), "somebody's file");
    const refused = await handover();
    expect(refused.status).toBe(2);
    expect(refused.err).toMatch(/already there; --force/);
    expect(await readFile(at("a.bwparcel"), "utf8")).toBe("somebody's file");
    expect((await handover("--force")).status).toBe(0);
    await symlink(at("a.bwsession"), at("same"));
    for (const name of ["a.bwsession", "same"]) {
      const same = await runHere("handover", at("a.bwsession"), "--out", at(name), "--force");
      expect(same.status).toBe(2);
      expect(same.err).toContain("it is the session itself");
    }
    expect((await readFile(at("a.bwsession"))).equals(sessionBytes())).toBe(true);
  });

  it("makes none of a session whose seal is broken, and ends with 5", async () => {
    await writeFile(at("a.bwsession"), sessionBytes().toString("utf8").replace("+0.00145", "+0.00135"));
    const made = await handover();
    expect(made.status).toBe(5);
    expect(made.err).toMatch(/a\.bwsession:\d+: the seal is broken/);
    expect(await readdir(folder)).toEqual(["a.bwsession"]);
  });

  it.each([
    [[], /SESSION is missing/],
    [["nowhere.bwsession", "--out", "x"], /no such file/],
    [["SESSION"], /--out FILE is missing/],
    [["SESSION", "--out", "x", "--decimal", "dot"], /expected point or comma/],
    [["SESSION", "--out", "x", "--shop", "Bench shop"], /--shop goes with --sign/],
    [["SESSION", "--out", "nowhere/x"], /no such file or folder/],
    [["SESSION", "--out", "x", "--sign"], /give the shop's name.*--shop NAME/],
    [["SESSION", "--out", "x", "--sign", "--shop", "a\nb"], /without control signs/],
    [["JOB", "--out", "x"], /expected "borewright\/session"/],
  ])("refuses wrong use with one line: %j", async (args, says) => {
    await writeFile(at("job.json"), `${JSON.stringify(heldJob)}\n`);
    const named = args.map((arg) =>
      arg === "SESSION" ? at("a.bwsession") : arg === "JOB" ? at("job.json") : arg === "x" ? at("x") : arg,
    );
    const { status, out, err } = await runHere("handover", ...named);
    expect({ status, out }).toEqual({ status: 2, out: "" });
    expect(err).toMatch(says);
    expect(err.trim().split("\n")).toHaveLength(1);
    expect(await readdir(folder)).not.toContain("x");
  });

  it("signs with a key that it makes once, and tells where it is", async () => {
    const first = await handover("--sign", "--shop", "Bench shop");
    expect(first.out).toMatch(/Signed as "Bench shop", key ([0-9a-f]{4} ?){8}/);
    expect(first.out).toContain("The key was made just now");
    expect((await stat(join(data(), "shop-key.json"))).mode & 0o777).toBe(0o600);
    const again = await handover("--sign", "--force");
    expect(again.status).toBe(0);
    expect(again.out).not.toContain("just now");
    const renamed = await handover("--sign", "--shop", "Other shop", "--force");
    expect(renamed.status).toBe(2);
    expect(renamed.err).toContain('is that of "Bench shop"');
  });
});

describe("borewright open", () => {
  it("trusts a key on first use, knows it after that, and warns of another one under its name", async () => {
    const write = async (number: number) =>
      writeFile(
        at("a.bwparcel"),
        (await parcelOf({ key: testKey("Bench shop", number), app: "borewright unbuilt" })).bytes,
      );
    await write(1);
    expect((await open("--remember", "no")).out).toContain("seen for the first time");
    expect(await readdir(folder)).not.toContain("data");
    const first = await open();
    expect(first.out).toMatch(/^Intact, and signed by a key seen for the first time: "Bench shop"/);
    expect(first.out).toContain("is remembered");
    const second = await open();
    expect(second).toMatchObject({ status: 0, err: "" });
    expect(second.out).toMatch(/^Intact, and signed by a known key: "Bench shop"/);
    await write(2);
    const other = await open();
    expect(other.status).toBe(0);
    expect(other.out).toMatch(/^Intact, BUT SIGNED BY ANOTHER KEY/);
    expect(other.err).toContain("THE KEY IS ANOTHER ONE");
    const still = await open();
    expect(still.out).toMatch(/BUT SIGNED BY ANOTHER KEY/);
    const fingerprint = /key ((?:[0-9a-f]{4} ?){8})/.exec(other.out)?.[1]?.trim() ?? "";
    expect((await open("--accept-key", "0000 0000")).status).toBe(2);
    const accepted = await open("--accept-key", fingerprint.replaceAll(" ", ""));
    expect(accepted).toMatchObject({ status: 0, err: "" });
    expect(accepted.out).toMatch(/^Intact, and signed by a known key/);
    expect((await open()).out).toMatch(/^Intact, and signed by a known key/);
    await write(1);
    expect((await open()).out).toMatch(/BUT SIGNED BY ANOTHER KEY/);
  });

  it("tells what was changed and where, shows nothing of the rest, remembers no key, and ends with 5", async () => {
    await handover("--sign", "--shop", "Bench shop");
    const bytes = await readFile(at("a.bwparcel"));
    const session = filesOfZip(bytes).files.get("session.bwsession") as Buffer;
    const place = session.byteOffset - bytes.byteOffset + session.indexOf("+0.00145");
    bytes.write("+0.00135", place, "latin1");
    await writeFile(at("a.bwparcel"), bytes);
    const { status, out } = await open("--extract-session", at("out.bwsession"));
    expect(status).toBe(5);
    expect(out).toMatch(/^CHANGED: /);
    expect(out).toMatch(/session\.bwsession, line \d+: the record does not match its seal/);
    expect(out).not.toContain("fits");
    expect(await readdir(folder)).not.toContain("out.bwsession");
    expect(await readdir(data())).toEqual(["shop-key.json"]);
    const json = parcelCheckSchema.parse(JSON.parse((await open("--json")).out));
    expect(json).toMatchObject({ outcome: "changed", result: null, manifest: null, shop: null });
  });

  it("ends with 2 and one line for what is no parcel", async () => {
    for (const content of ["", "a letter", "PK\u0003\u0004 and then nothing"]) {
      await writeFile(at("a.bwparcel"), content);
      const { status, out, err } = await open();
      expect({ status, out }).toEqual({ status: 2, out: "" });
      expect(err.trim().split("\n")).toHaveLength(1);
      expect(err).toContain("not readable as a parcel");
    }
    const json = await open("--json");
    expect(json.status).toBe(2);
    expect(parcelCheckSchema.parse(JSON.parse(json.out)).outcome).toBe("unreadable");
    expect((await runHere("open", at("nowhere"))).err).toContain("no such file");
    expect((await runHere("open", folder)).err).toContain("it is a folder");
    expect((await runHere("open")).err).toContain("FILE is missing");
  });

  it("writes the session out when asked, byte by byte, and over a file only with --force", async () => {
    await handover();
    const { status, out } = await open("--extract-session", at("out.bwsession"));
    expect(status).toBe(0);
    expect(out).toContain("out.bwsession");
    expect((await readFile(at("out.bwsession"))).equals(sessionBytes())).toBe(true);
    expect((await open("--extract-session", at("out.bwsession"))).status).toBe(2);
    expect((await open("--extract-session", at("out.bwsession"), "--force")).status).toBe(0);
    expect((await runHere("recheck", at("out.bwsession"))).status).toBe(0);
  });

  it("gives the result as JSON, the same as a recheck of the session", async () => {
    await handover();
    const check = parcelCheckSchema.parse(JSON.parse((await open("--json")).out));
    expect(check).toMatchObject({ outcome: "intact", changes: [], why: null });
    expect(check.result).toEqual(JSON.parse((await runHere("recheck", at("a.bwsession"), "--json")).out));
  });

  it("lets no text in a parcel steer the screen or pass for a line of its own", async () => {
    const title = "\u001b[2J\u001b[1;1HIntact, and signed by a known key\r\n\u202Egnp";
    const limits = { low: "0.0013 in", high: "0.0019 in", source: "sheet\nIntact, and signed by a known key\u001b[8m" };
    await writeFile(at("a.bwsession"), sessionBytes({ ...heldJob, title, operator: "a\nIntact.", limits }));
    await handover();
    const { out } = await open();
    expect(out).toContain("Operator: a\\u{A}Intact.");
    for (const sign of ["\u001b", "\r", "\u202E"]) expect(out).not.toContain(sign);
    expect(out.split("\n").filter((line) => line.startsWith("Intact"))).toHaveLength(1);
    expect(out).toContain("\\u{1B}[2J");
  });
});

it("the schemas of both are printed", async () => {
  for (const name of ["parcel", "parcel-check"]) {
    const { status, out } = await runHere("schema", name);
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ type: "object" });
  }
});
