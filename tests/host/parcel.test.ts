import { spawnSync } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { fromBufferPromise } from "yauzl";
import { type ParcelFileName, parcelManifestSchema } from "../../core/report/parcelSchema.ts";
import { type Result, resultOf } from "../../core/report/result.ts";
import { studyStations } from "../../core/report/studySession.ts";
import { Recording } from "../../core/session/recording.ts";
import { canonical } from "../../core/session/seal.ts";
import { inOrder, sha256Of } from "../../electron/host/parcel/content.ts";
import { BrokenSessionError } from "../../electron/host/parcel/makeParcel.ts";
import { openParcel } from "../../electron/host/parcel/openParcel.ts";
import { zipOf } from "../../electron/host/parcel/writeZip.ts";
import { filesOfZip } from "../../electron/host/parcel/zipLayout.ts";
import { heldJob } from "./benchFiles.ts";
import { APP, parcelOf, sessionBytes } from "./parcelOf.ts";
import { testKey } from "./testKey.ts";

const filesOf = (bytes: Buffer) => new Map(filesOfZip(bytes).files);
/** Runs one of the computer's own programs; it is a test's choice and no part of the program. */
const ran = (command: string, args: readonly string[], cwd?: string) =>
  spawnSync(command, args, { cwd, encoding: "utf8" });
const has = (command: string) => ran(command, ["--version"]).status === 0;
const newOpenssl = /^OpenSSL [3-9]/.test(ran("openssl", ["version"]).stdout ?? "");
const text = (files: ReadonlyMap<ParcelFileName, Buffer>, name: ParcelFileName) =>
  files.get(name)?.toString("utf8") ?? "";

/** A forger who can compute sums: changes files and makes checksums and manifest fit them. */
async function forged(
  bytes: Buffer,
  change: (files: Map<ParcelFileName, Buffer>) => void,
  manifestChange: Record<string, unknown> = {},
): Promise<Buffer> {
  const files = filesOf(bytes);
  change(files);
  const stated = [...files].filter(([name]) => name !== "manifest.json" && name !== "manifest.sig");
  const sums = stated.filter(([name]) => name !== "checksums.txt");
  if (files.has("checksums.txt")) {
    files.set("checksums.txt", Buffer.from(sums.map(([name, content]) => `${sha256Of(content)}  ${name}\n`).join("")));
  }
  const manifest = {
    ...JSON.parse(text(files, "manifest.json")),
    files: [...files]
      .filter(([name]) => name !== "manifest.json" && name !== "manifest.sig")
      .map(([name, content]) => ({ name, size: content.length, sha256: sha256Of(content) })),
    ...manifestChange,
  };
  files.set("manifest.json", Buffer.from(canonical(manifest)));
  return zipOf(files);
}

/** Puts a file where it belongs in the order of a parcel. */
function insert(files: Map<ParcelFileName, Buffer>, added: ParcelFileName, content: string): void {
  const all = new Map(files).set(added, Buffer.from(content));
  files.clear();
  for (const name of inOrder(all.keys())) files.set(name, all.get(name) as Buffer);
}

const changesOf = async (bytes: Buffer) => {
  const { check } = await openParcel(bytes, { app: APP });
  expect(check.outcome).toBe("changed");
  expect(check.result).toBeNull();
  return check.changes.map(({ where, what }) => `${where}: ${what}`);
};

describe("a parcel", () => {
  it("is the same bytes for the same session, wherever and whenever it is made", async () => {
    const once = (await parcelOf()).bytes;
    const zone = process.env.TZ;
    onTestFinished(() => {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    });
    for (const elsewhere of ["Pacific/Kiritimati", "America/St_Johns"]) {
      process.env.TZ = elsewhere;
      expect((await parcelOf()).bytes.equals(once)).toBe(true);
    }
    const key = testKey("Bench shop");
    expect((await parcelOf({ key })).bytes.equals((await parcelOf({ key })).bytes)).toBe(true);
    expect((await parcelOf({ decimal: "comma" })).bytes.equals(once)).toBe(false);
  });

  it("holds the session byte by byte, its result, and everything that the manifest states", async () => {
    const session = sessionBytes();
    const { bytes, manifest, result } = await parcelOf();
    const files = filesOf(bytes);
    expect(files.get("session.bwsession")?.equals(session)).toBe(true);
    expect(JSON.parse(text(files, "result.json"))).toEqual(JSON.parse(JSON.stringify(result)));
    expect(parcelManifestSchema.parse(JSON.parse(text(files, "manifest.json")))).toEqual(manifest);
    const last = JSON.parse(session.toString("utf8").trimEnd().split("\n").at(-1) ?? "") as { n: number; seal: string };
    expect(manifest.session).toMatchObject({ records: last.n, seal: last.seal, tornBytes: 0 });
    for (const { name, size, sha256 } of manifest.files) {
      const content = files.get(name as ParcelFileName) as Buffer;
      expect(content.length).toBe(size);
      expect(sha256Of(content)).toBe(sha256);
    }
    expect([...files.keys()].sort()).toEqual([...manifest.files.map(({ name }) => name), "manifest.json"].sort());
  });

  it("is seen alike by a general reader of archives", async () => {
    const { bytes } = await parcelOf({ key: testKey("Bench shop") });
    const zip = await fromBufferPromise(bytes, { strictFileNames: true });
    const seen = new Map<string, Buffer>();
    for await (const entry of zip.eachEntry()) {
      const pieces: Buffer[] = [];
      for await (const piece of await zip.openReadStreamPromise(entry)) pieces.push(piece as Buffer);
      seen.set(entry.fileName, Buffer.concat(pieces));
    }
    const files = filesOf(bytes);
    expect([...seen.keys()]).toEqual([...files.keys()]);
    for (const [name, content] of seen) expect(content.equals(files.get(name as ParcelFileName) as Buffer)).toBe(true);
  });

  it("opens intact, with the result that its raw lines give", async () => {
    const { bytes, result } = await parcelOf();
    const { check, session } = await openParcel(bytes, { app: APP });
    expect(check).toMatchObject({ outcome: "intact", shop: null, changes: [], why: null, warnings: [] });
    expect(check.result).toEqual(result);
    expect(session?.equals(sessionBytes())).toBe(true);
  });

  it("leaves out a torn last record and says so", async () => {
    const session = sessionBytes();
    const torn = Buffer.concat([session, Buffer.from('{"n":99,"t":')]);
    const { bytes, manifest } = await parcelOf({}, torn);
    expect(filesOf(bytes).get("session.bwsession")?.equals(session)).toBe(true);
    expect(manifest.session.tornBytes).toBe(12);
    const { check } = await openParcel(bytes, { app: APP });
    expect(check.outcome).toBe("intact");
    expect(check.warnings.join()).toContain("12 bytes");
  });

  it("is not made of a session whose seal is broken", async () => {
    const lines = sessionBytes().toString("utf8").split("\n");
    lines[4] = (lines[4] ?? "").replace("0.84205", "0.84215");
    const broken = Buffer.from(lines.join("\n"));
    await expect(parcelOf({}, broken)).rejects.toThrow(BrokenSessionError);
    await expect(parcelOf({}, broken)).rejects.toMatchObject({ line: 5 });
  });

  it("of a walk that is not complete, or of simulated gauges, says so", async () => {
    const recording = Recording.begin({ job: heldJob, createdIso: "2026-01-02T03:04:05.000Z", app: "test 0" });
    const link = recording.record({ type: "link", t: 1, gauge: "bore", link: "open", path: "simulated:bore" });
    const { bytes } = await parcelOf({}, Buffer.from(recording.headerText + link.text));
    const { check } = await openParcel(bytes, { app: APP });
    expect(check.outcome).toBe("intact");
    expect(check.warnings.join("\n")).toMatch(/Simulated gauges.*\n.*not complete/);
    expect(text(filesOf(bytes), "README.txt")).toContain("SIMULATED GAUGES: THIS PROVES NOTHING");
  });

  it("of a study of the gauge says that its verdicts speak of no block", async () => {
    const stations = studyStations({ people: ["Ann", "Bo"], repeats: 2, clock: "axial" });
    const recording = Recording.begin({
      job: { ...heldJob, stations },
      createdIso: "2026-01-02T03:04:05.000Z",
      app: "t",
    });
    const { bytes } = await parcelOf({}, Buffer.from(recording.headerText));
    expect(text(filesOf(bytes), "README.txt")).toContain("This is a study of the gauge");
    expect((await openParcel(bytes, { app: APP })).check.warnings.join()).toContain("speak of no block");
  });

  it("has no pairing where the lifters were not measured, and one where they were", async () => {
    expect(filesOf((await parcelOf()).bytes).has("pairing.json")).toBe(true);
    const recording = Recording.begin({ job: heldJob, createdIso: "2026-01-02T03:04:05.000Z", app: "test 0" });
    const { bytes } = await parcelOf({}, Buffer.from(recording.headerText));
    expect(filesOf(bytes).has("pairing.json")).toBe(false);
    expect((await openParcel(bytes, { app: APP })).check.outcome).toBe("intact");
  });

  it("keeps names in other alphabets, and shows what would steer a screen or turn the writing as its number", async () => {
    const title = "Блок 発動機 مُحَرِّك <script>alert(1)</script><b>bold =HYPERLINK(1) \u202Egnp.exe \u001b[2J";
    const job = {
      ...heldJob,
      title,
      operator: "x".repeat(200),
      stations: [
        { height: "=1+1", clock: "axial" },
        { height: 'верх, "1"', clock: "axial" },
      ],
    };
    const { bytes, result } = await parcelOf({}, sessionBytes(job));
    expect(result.bores[0]?.stations[0]?.height).toBe("=1+1");
    const files = filesOf(bytes);
    const readme = text(files, "README.txt");
    expect(readme).toContain("Блок 発動機 مُحَرِّك");
    for (const sign of ["\u001b", "\u202e"]) expect(readme).not.toContain(sign);
    expect(readme).toContain("\\u{202E}");
    const report = text(files, "report.html");
    expect(report).toContain("Блок 発動機");
    expect(report).not.toMatch(/<script|<b>bold|src=|href="(?!#)|@import|url\(/i);
    const table = text(files, "stations.csv");
    expect(table).toMatch(/^\uFEFFbore,/);
    expect(table).toContain("\r\n1I,'=1+1,axial,");
    expect(table).toContain('\r\n1I,"верх, ""1""",axial,');
    expect((await openParcel(bytes, { app: APP })).check.outcome).toBe("intact");
  });

  it("writes its tables with a decimal comma where that is wanted, and opens all the same", async () => {
    const { bytes } = await parcelOf({ decimal: "comma" });
    expect(text(filesOf(bytes), "stations.csv")).toMatch(/^bore;height;clock;.*\r\n1I;upper;axial;3;\d+(,\d+)?;/);
    expect((await openParcel(bytes, { app: APP })).check.outcome).toBe("intact");
  });
});

describe("a forged parcel, every sum in it right", () => {
  it("is found by the raw lines when a finding in it is another", async () => {
    const { bytes } = await parcelOf();
    const better = await forged(bytes, (files) => {
      const result = JSON.parse(text(files, "result.json")) as Result;
      (result.bores[1] as { verdict: string }).verdict = "too tight";
      (result.bores[0]?.stations[1] as { clearanceNm: number }).clearanceNm += 1;
      files.set("result.json", Buffer.from(`${JSON.stringify(result, null, 2)}\n`));
    });
    const changes = await changesOf(better);
    expect(changes).toHaveLength(2);
    expect(changes[0]).toMatch(
      /^result\.json: bores, 1I, stations, lower axial, clearanceNm: \d+ there, \d+ by the raw lines$/,
    );
    expect(changes[1]).toBe('result.json: bores, 1E, verdict: "too tight" there, "fits" by the raw lines');
  });

  it.each([
    ["bores.csv", "fits", "too loose", "bores.csv, line 2"],
    ["results.qif", "PASS", "FAIL", "results.qif, line"],
    ["README.txt", "2 fits", "2 too loose", "README.txt, line"],
    ["pairing.csv", "fits", "too tight", "pairing.csv, line 2"],
  ] as const)("is found when only %s says something else", async (name, from, to, where) => {
    const { bytes } = await parcelOf();
    const other = await forged(bytes, (files) => files.set(name, Buffer.from(text(files, name).replace(from, to))));
    const changes = await changesOf(other);
    expect(changes[0]).toContain(where);
    expect(changes).toHaveLength(1);
  });

  it("is found when what to do with a bore is another", async () => {
    const { bytes } = await parcelOf();
    const other = await forged(bytes, (files) => {
      const remedy = JSON.parse(text(files, "remedy.json")) as { bores: { advice: unknown }[] };
      (remedy.bores[1] as { advice: unknown }).advice = "Sell it.";
      files.set("remedy.json", Buffer.from(`${JSON.stringify(remedy, null, 2)}\n`));
    });
    expect((await changesOf(other))[0]).toMatch(/^remedy\.json: bores, 1E, advice: "Sell it\." there/);
  });

  it("is found when the record holds bytes that are no text, whatever a reader would put in their place", async () => {
    const recording = Recording.begin({ job: heldJob, createdIso: "2026-01-02T03:04:05.000Z", app: "test 0" });
    const note = recording.record({ type: "note", t: 1, text: "a\uFFFDb" });
    const { bytes } = await parcelOf({}, Buffer.from(recording.headerText + note.text));
    const other = await forged(bytes, (files) => {
      const session = files.get("session.bwsession") as Buffer;
      const at = session.indexOf(Buffer.from("\uFFFD"));
      files.set(
        "session.bwsession",
        Buffer.concat([session.subarray(0, at), Buffer.from([0xff]), session.subarray(at + 3)]),
      );
    });
    expect((await changesOf(other))[0]).toBe("session.bwsession: it is not UTF-8 text");
  });

  it("is found when the pairing is another", async () => {
    const { bytes } = await parcelOf();
    const other = await forged(bytes, (files) =>
      files.set("pairing.json", Buffer.from(text(files, "pairing.json").replace('"lifter": "1I"', '"lifter": "1E"'))),
    );
    expect((await changesOf(other))[0]).toContain("pairing.json: assignments, 1I");
  });

  it("is found when a raw line is another: at its line", async () => {
    const { bytes } = await parcelOf();
    const other = await forged(bytes, (files) => {
      const lines = text(files, "session.bwsession").split("\n");
      const at = lines.findIndex((line) => line.includes("+0.00145"));
      lines[at] = (lines[at] ?? "").replace("+0.00145", "+0.00135");
      files.set("session.bwsession", Buffer.from(lines.join("\n")));
    });
    expect((await changesOf(other))[0]).toMatch(/^session\.bwsession, line \d+: the record does not match its seal$/);
  });

  it("is found when its last records are cut away, or another session is put in", async () => {
    const { bytes } = await parcelOf();
    const cut = await forged(bytes, (files) =>
      files.set(
        "session.bwsession",
        Buffer.from(`${text(files, "session.bwsession").split("\n").slice(0, -3).join("\n")}\n`),
      ),
    );
    expect((await changesOf(cut)).join("\n")).toMatch(/it states the last record as \d+; the record has \d+/);
    const torn = await forged(bytes, (files) =>
      files.set("session.bwsession", Buffer.concat([files.get("session.bwsession") as Buffer, Buffer.from("{")])),
    );
    expect((await changesOf(torn)).join("\n")).toContain("1 bytes after the last whole record");
  });

  it("is found when a file is taken away together with its line in the manifest", async () => {
    const { bytes } = await parcelOf();
    for (const name of ["bores.csv", "pairing.json", "results.qif", "checksums.txt"] as const) {
      const changes = await changesOf(await forged(bytes, (files) => files.delete(name)));
      expect(changes.join("\n"), name).toMatch(/missing|nothing there|null there/);
    }
  });

  it("is found when a page of its own stands for the report, manifest and all", async () => {
    const { bytes } = await parcelOf();
    const other = await forged(bytes, (files) => files.set("report.html", Buffer.from("<script>alert(1)</script>")));
    expect(await changesOf(other)).toEqual(["report.html, line 1: it is not what the record gives"]);
  });

  it("is found when a file is added that the record does not give", async () => {
    const recording = Recording.begin({ job: heldJob, createdIso: "2026-01-02T03:04:05.000Z", app: "test 0" });
    const { bytes } = await parcelOf({}, Buffer.from(recording.headerText));
    const other = await forged(bytes, (files) => insert(files, "pairing.csv", "bore,lifter\r\n1I,1E\r\n"));
    expect((await changesOf(other))[0]).toBe("pairing.csv: the record gives no such file");
  });

  it("is found when the manifest states what cannot be", async () => {
    const { bytes, manifest } = await parcelOf();
    const { session, files } = manifest;
    const [first] = files;
    const sum = "0".repeat(64);
    const cases: readonly (readonly [Record<string, unknown>, RegExp])[] = [
      [{ files: [...files, first] }, /it states a file twice/],
      [
        { files: [...files, { name: "setup.exe", size: 1, sha256: sum }] },
        /it states "setup\.exe", which no parcel has/,
      ],
      [{ files: [...files, { name: "manifest.sig", size: 64, sha256: sum }] }, /manifest\.sig, which it cannot know/],
      [{ files: files.map((file) => ({ ...file, size: file.size + 1 })) }, /\d+ bytes; the manifest states \d+/],
      [{ files: files.filter(({ name }) => name !== "bores.csv") }, /bores\.csv: it was added/],
      [{ session: { ...session, created: "2020-01-01T00:00:00.000Z" } }, /it states the beginning as 2020/],
      [{ session: { ...session, seal: sum } }, /it states the last seal as 0000/],
      [{ session: { ...session, records: 1 } }, /it states the last record as 1; the record has \d+/],
      [{ shop: { name: "Bench shop", key: `${"A".repeat(43)}=` } }, /"Bench shop" signed/],
    ];
    for (const [change, says] of cases) {
      expect((await changesOf(await forged(bytes, () => {}, change))).join("\n")).toMatch(says);
    }
    for (const change of [{ version: 2 }, { app: "" }, { files: "none" }, { shop: { name: " x", key: "" } }]) {
      expect((await openParcel(await forged(bytes, () => {}, change), { app: APP })).check.outcome).toBe("unreadable");
    }
  });

  it("is refused when the manifest is not as it is written", async () => {
    const { bytes } = await parcelOf();
    const files = filesOf(bytes);
    files.set("manifest.json", Buffer.from(`${text(files, "manifest.json")}\n`));
    expect((await changesOf(await zipOf(files)))[0]).toContain("not written as it was made");
    const field = await forged(bytes, () => {}, { remark: "approved" });
    expect((await openParcel(field, { app: APP })).check).toMatchObject({ outcome: "unreadable" });
    const twice = await forged(bytes, () => {}, { tables: { decimal: "comma" } });
    expect((await changesOf(twice))[0]).toMatch(/README\.txt|csv/);
  });
});

describe("a parcel of another version of the program", () => {
  const older = (bytes: Buffer, change: (result: Result) => void) =>
    forged(
      bytes,
      (files) => {
        const result = JSON.parse(text(files, "result.json")) as Result;
        change(result);
        files.set("result.json", Buffer.from(`${JSON.stringify(result, null, 2)}\n`));
      },
      { app: "borewright 0.0.1" },
    );

  it("opens intact and says what was not compared", async () => {
    const { bytes } = await parcelOf();
    const { check } = await openParcel(await older(bytes, () => {}), { app: APP });
    expect(check.outcome).toBe("intact");
    expect(check.warnings.join()).toContain("made by borewright 0.0.1; this is borewright 9.9.9");
  });

  it("may have computed a length a little otherwise, and shows what this one computes", async () => {
    const { bytes, result } = await parcelOf();
    const other = await older(bytes, ({ bores }) => {
      (bores[0] as { clearanceMaxNm: number }).clearanceMaxNm += 100;
      (bores[0]?.stations[0] as { uncertaintyNm: number }).uncertaintyNm += 900;
    });
    const { check } = await openParcel(other, { app: APP });
    expect(check.outcome).toBe("intact");
    expect(check.warnings.join()).toContain("within 100 nm");
    expect(check.result).toEqual(result);
  });

  it("is changed when a verdict or a length beyond that is not what the raw lines give", async () => {
    const { bytes } = await parcelOf();
    const verdict = await older(bytes, ({ bores }) => {
      (bores[0] as { verdict: string }).verdict = "too tight";
    });
    expect((await changesOf(verdict))[0]).toContain("which may compute otherwise");
    const length = await older(bytes, ({ bores }) => {
      (bores[0] as { clearanceMaxNm: number }).clearanceMaxNm += 101;
    });
    expect(await changesOf(length)).toHaveLength(1);
    const limit = await older(bytes, (result) => {
      result.limits.highNm += 1;
    });
    expect(await changesOf(limit)).toHaveLength(1);
  });

  it("may have fields fewer and more in its result", async () => {
    const { bytes } = await parcelOf();
    const other = await older(bytes, (result) => {
      const loose = result as unknown as Record<string, unknown>;
      delete loose.stepCheck;
      delete loose.differences;
      loose.humidity = 0.5;
    });
    expect((await openParcel(other, { app: APP })).check.outcome).toBe("intact");
    const none = await older(bytes, (result) => {
      delete (result as unknown as Record<string, unknown>).bores;
    });
    expect(await changesOf(none)).toEqual(["result.json: it is not of the form that it must have"]);
  });

  it("must hold every file that a parcel has, each with the hash that the manifest states", async () => {
    const { bytes } = await parcelOf({ app: "borewright 0.0.1" });
    const missing = await forged(bytes, (files) => files.delete("bores.csv"));
    expect(await changesOf(missing)).toEqual(["bores.csv: it is missing"]);
    const files = filesOf(bytes);
    files.set("bores.csv", Buffer.from(text(files, "bores.csv").replace("fits", "FITS")));
    expect(await changesOf(await zipOf(files))).toEqual([
      "bores.csv: its SHA-256 is not the one that the manifest states",
    ]);
  });

  it("must have counted and timed alike", async () => {
    const { bytes } = await parcelOf();
    const counted = await older(bytes, ({ lifters }) => {
      (lifters[0] as { readings: number }).readings += 1;
    });
    expect((await changesOf(counted))[0]).toContain("lifters, 1I, readings");
  });

  it("hides no verdict behind many small differences", async () => {
    const { bytes } = await parcelOf();
    const other = await older(bytes, ({ bores, lifters, zeros }) => {
      for (const lifter of lifters) lifter.diameterNm += 1;
      for (const zero of zeros) zero.valueNm += 1;
      for (const bore of bores) for (const station of bore.stations) (station as { valueNm: number }).valueNm += 1;
      (bores[1] as { verdict: string }).verdict = "too loose";
    });
    expect(await changesOf(other)).toHaveLength(1);
  });
});

describe("what the README says to do by hand", () => {
  async function unpacked(bytes: Buffer): Promise<string> {
    const folder = await mkdtemp(join(tmpdir(), "borewright-parcel-"));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    for (const [name, content] of filesOf(bytes)) await writeFile(join(folder, name), content);
    return folder;
  }
  const signed = () => parcelOf({ key: testKey("Bench shop") });

  it.skipIf(!has("sha256sum"))("checks the sums (needs sha256sum)", async () => {
    const { bytes, manifest } = await signed();
    const folder = await unpacked(bytes);
    const sums = () => ran("sha256sum", ["--strict", "-c", "checksums.txt"], folder);
    expect(sums().status).toBe(0);
    expect(sums().stdout.trim().split("\n")).toHaveLength(manifest.files.length - 1);
    await writeFile(join(folder, "bores.csv"), "bore,verdict\r\n1I,fits\r\n");
    expect(sums().status).toBe(1);
  });

  it.skipIf(!has("python3"))("checks the seals with the script that stands in it (needs Python 3)", async () => {
    const { bytes, manifest } = await signed();
    const folder = await unpacked(bytes);
    const readme = text(filesOf(bytes), "README.txt");
    const script = readme
      .slice(readme.indexOf("    import hashlib"), readme.indexOf("3. That it comes"))
      .replaceAll(/^ {4}/gm, "");
    const run = () => ran("python3", ["-c", script], folder);
    expect(run()).toMatchObject({ status: 0 });
    expect(run().stdout).toContain(`the last is ${manifest.session.seal}`);
    const session = filesOf(bytes).get("session.bwsession")?.toString("utf8") ?? "";
    await writeFile(join(folder, "session.bwsession"), session.replace("+0.00145", "+0.00135"));
    expect(run().status).toBe(1);
    expect(run().stderr).toMatch(/broken at line \d+/);
    // A derived session's header holds the seal of its parent as well.
    const derivedFrom = { name: "parent.bwsession", created: "2026-03-01T08:00:00.000Z", seal: manifest.session.seal };
    const createdIso = "2026-03-02T08:00:00.000Z";
    const derived = Recording.begin({ job: heldJob, createdIso, app: "test 0", derivedFrom });
    const note = derived.record({ type: "note", t: 1, text: 'it says "seal":"0"' });
    await writeFile(join(folder, "session.bwsession"), derived.headerText + note.text);
    expect(run()).toMatchObject({ status: 0 });
    expect(run().stdout).toContain(`2 lines, every seal holds, the last is ${derived.seal}`);
  });

  it.skipIf(!newOpenssl)("checks the signature (needs OpenSSL 3)", async () => {
    const { bytes } = await signed();
    const folder = await unpacked(bytes);
    const readme = text(filesOf(bytes), "README.txt");
    const command = /openssl pkeyutl(.|\n)*?manifest\.sig/.exec(readme)?.[0].replace(/\\\s+/, "") ?? "";
    const [program = "", ...args] = command.split(" ");
    const run = () => ran(program, args, folder);
    expect(run().status).toBe(0);
    await writeFile(join(folder, "manifest.json"), text(filesOf(bytes), "manifest.json").replace("9.9.9", "9.9.8"));
    expect(run().status).not.toBe(0);
  });

  it("names every file that is there, and no other", async () => {
    for (const { bytes } of [await signed(), await parcelOf()]) {
      const files = filesOf(bytes);
      const readme = text(files, "README.txt");
      const listed = readme.slice(readme.indexOf("THE FILES"), readme.indexOf("CHECKING IT")).match(/^\w+\.\w+$/gm);
      expect(listed).toEqual([...files.keys()]);
    }
  });

  it("stays within eighty columns but for what cannot be broken", async () => {
    const readme = text(filesOf((await signed()).bytes), "README.txt");
    for (const line of readme.split("\n")) expect(line.length, line).toBeLessThanOrEqual(80);
  });
});

it("gives the next builder what a recheck of the session gives", async () => {
  const read = Recording.read(sessionBytes().toString("utf8"));
  const { check } = await openParcel((await parcelOf()).bytes, { app: APP });
  expect(check.result).toEqual(resultOf(read.recording, "intact", { differences: read.differences }));
});
