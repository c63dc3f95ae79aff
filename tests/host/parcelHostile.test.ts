import { deflateRawSync } from "node:zlib";
import { beforeAll, describe, expect, it } from "vitest";
import { crc32 } from "../../electron/host/parcel/crc32.ts";
import { openParcel } from "../../electron/host/parcel/openParcel.ts";
import { filesOfZip } from "../../electron/host/parcel/zipLayout.ts";
import { APP, parcelOf, sessionBytes } from "./parcelOf.ts";
import { type RawArchive, type RawEntry, rawZip } from "./rawZip.ts";

let good: RawEntry[];
let goodBytes: Buffer;

beforeAll(async () => {
  goodBytes = (await parcelOf()).bytes;
  good = [...filesOfZip(goodBytes).files].map(([name, data]) => ({ name, data }));
});

type Outcome = "changed" | "unreadable";
type Hostile = readonly [what: string, outcome: Outcome, reason: RegExp, make: () => Buffer];

const zip = (archive: Partial<RawArchive>) => rawZip({ entries: good, ...archive });
const at = (name: string) => good.findIndex((entry) => entry.name === name);
/** The parcel with one entry made otherwise. */
const with1 = (name: string, change: Partial<RawEntry>) => () =>
  zip({ entries: good.map((entry, index) => (index === at(name) ? { ...entry, ...change } : entry)) });
/** The parcel with one entry more. */
const plus =
  (name: string | Buffer, change: Partial<RawEntry> = {}, data = Buffer.from("x")) =>
  () =>
    zip({ entries: [...good, { name, data, ...change }] });
const plain = (text: string) => Buffer.from(text, "utf8");

/** Ten megabytes of nothing in ten kilobytes. */
const bomb = () => {
  const data = Buffer.alloc(10_000_000);
  return { data: deflateRawSync(data), both: { method: 8, size: data.length, crc: crc32(data) } };
};

const zip64Extra = Buffer.concat([Buffer.from([1, 0, 16, 0]), Buffer.alloc(16)]);
const locator = Buffer.concat([Buffer.from([0x50, 0x4b, 6, 7]), Buffer.alloc(16)]);

const archives: readonly Hostile[] = [
  ["no bytes at all", "unreadable", /it is empty/, () => Buffer.alloc(0)],
  [
    "no archive",
    "unreadable",
    /does not begin as one/,
    () => plain("This is a letter, and a rather long one at that."),
  ],
  ["a session and no parcel", "unreadable", /a session and no parcel/, () => sessionBytes()],
  ["a short scrap", "unreadable", /does not begin as one/, () => plain("PK")],
  ["cut off in the middle", "unreadable", /cut off/, () => goodBytes.subarray(0, goodBytes.length / 2)],
  ["cut off by one byte", "unreadable", /cut off/, () => goodBytes.subarray(0, -1)],
  ["the directory alone", "unreadable", /not in the file|no parcel/, () => goodBytes.subarray(-30)],
  [
    "bytes before the first file",
    "changed",
    /7 bytes before the first file/,
    () => zip({ beforeFirst: plain("#!/bin/") }),
  ],
  [
    "bytes between two files",
    "changed",
    /5 bytes that belong to no file/,
    with1("bores.csv", { before: plain("inter") }),
  ],
  [
    "bytes before the directory",
    "changed",
    /4 bytes that belong to no file/,
    () => zip({ beforeDirectory: plain("here") }),
  ],
  ["bytes between directory and end", "changed", /3 bytes between/, () => zip({ beforeEnd: plain("abc") })],
  [
    "bytes between directory and end, counted in",
    "changed",
    /3 bytes in the directory that belong to no file|expected an entry/,
    () => {
      const { length } = goodBytes;
      const size = goodBytes.readUInt32LE(length - 10);
      return zip({ beforeEnd: plain("abc"), end: { size: size + 3 } });
    },
  ],
  ["bytes after the end", "changed", /6 bytes after the end/, () => zip({ afterEnd: plain("behind") })],
  ["one zero byte after the end", "changed", /1 bytes after the end/, () => zip({ afterEnd: Buffer.alloc(1) })],
  ["a second archive behind", "changed", /before the first file|bytes/, () => Buffer.concat([goodBytes, goodBytes])],
  ["a remark on the archive", "changed", /after the end/, () => zip({ comment: plain("look here") })],
  [
    "an announced remark that is not there",
    "changed",
    /announces a remark/,
    () => {
      const bytes = Buffer.from(goodBytes);
      bytes.writeUInt16LE(9, bytes.length - 2);
      return bytes;
    },
  ],
  ["a path out of the folder", "unreadable", /leads out of its folder/, plus("../../.profile")],
  ["a path out of the folder, in the middle", "unreadable", /leads out of its folder/, plus("a/../../b")],
  ["an absolute path", "unreadable", /root of a disk/, plus("/etc/passwd")],
  ["a drive letter", "unreadable", /root of a disk/, plus("C:autoexec.bat")],
  ["a backslash", "unreadable", /backslash/, plus("..\\..\\start.bat")],
  ["a zero byte in a name", "unreadable", /zero byte/, plus("result.json\0.exe")],
  ["a name without a character", "unreadable", /without a name/, plus("")],
  ["a name that is not UTF-8", "unreadable", /not UTF-8/, plus(Buffer.from([0xff, 0xfe, 0x41]))],
  ["a name that steers a terminal", "unreadable", /\\u\{1B\}/, plus("\u001b[2Jx")],
  ["a name that turns the direction of writing", "unreadable", /\\u\{202E\}/, plus("gpj.\u202Eexe")],
  ["a folder", "unreadable", /a folder/, plus("tables/", {}, Buffer.alloc(0))],
  ["a file in a folder", "unreadable", /not a file that a parcel has/, plus("tables/bores.csv")],
  ["a file that no parcel has", "unreadable", /not a file that a parcel has/, plus("setup.exe")],
  ["a name with a blank behind", "unreadable", /not a file that a parcel has/, plus("result.json ")],
  ["a name twice", "unreadable", /there twice/, plus("result.json")],
  ["a name twice but for case", "unreadable", /only in case/, plus("Result.JSON")],
  ["a name twice but for Unicode form", "unreadable", /only in case or Unicode form/, plus("result.j\uFF53on")],
  ["a link", "unreadable", /a link/, plus("pairing.json", { central: { external: 0xa1ff0000 } }, plain("/etc/passwd"))],
  ["a device", "changed", /other attributes/, with1("bores.csv", { central: { external: 0x21a40000 } })],
  [
    "a program that may be run",
    "changed",
    /other attributes/,
    with1("README.txt", { central: { external: 0x81ed0000 } }),
  ],
  [
    "a compressed file",
    "unreadable",
    /compressed/,
    () => {
      const entry = good[at("result.json")] as RawEntry;
      const both = { method: 8, size: entry.data.length, crc: crc32(entry.data) };
      return with1("result.json", { data: deflateRawSync(entry.data), both })();
    },
  ],
  ["an archive that swells a thousandfold", "unreadable", /compressed/, () => with1("sweeps.csv", bomb())()],
  [
    "an archive that swells, said to be stored",
    "unreadable",
    /two sizes differ/,
    () => with1("sweeps.csv", { both: { size: 4_000_000_000 } })(),
  ],
  [
    "files that lie one over the other",
    "unreadable",
    /over another file/,
    () => {
      const first = good[0] as RawEntry;
      return zip({ entries: [...good.slice(0, -1), { ...first, name: "manifest.sig", overlay: true, offset: 0 }] });
    },
  ],
  [
    "more files than any parcel",
    "unreadable",
    /expected at most/,
    () => zip({ entries: Array.from({ length: 5000 }, (_, index) => ({ name: `f${index}`, data: Buffer.alloc(0) })) }),
  ],
  ["an encrypted file", "unreadable", /encrypted/, with1("result.json", { both: { flags: 0x0801 } })],
  ["strong encryption", "unreadable", /encrypted/, with1("result.json", { both: { flags: 0x0840 } })],
  ["sizes after the data", "unreadable", /stands after it/, with1("result.json", { both: { flags: 0x0808 } })],
  ["a wrong check sum", "changed", /check sum/, with1("bores.csv", { both: { crc: 1 } })],
  [
    "zip64 sizes",
    "unreadable",
    /zip64/,
    with1("bores.csv", {
      both: { packed: 0xffffffff, size: 0xffffffff },
      localExtra: zip64Extra,
      centralExtra: zip64Extra,
    }),
  ],
  ["a zip64 end", "unreadable", /zip64/, () => zip({ end: { entries: 0xffff, here: 0xffff } })],
  ["a zip64 directory", "unreadable", /zip64/, () => zip({ end: { directory: 0xffffffff } })],
  ["a zip64 pointer before the end", "unreadable", /zip64/, () => zip({ beforeEnd: locator })],
  ["several volumes", "unreadable", /volumes/, () => zip({ end: { disk: 1 } })],
  ["a file in another volume", "unreadable", /another volume/, with1("bores.csv", { central: { disk: 1 } })],
  ["two numbers of files", "changed", /two numbers/, () => zip({ end: { here: good.length - 1 } })],
  [
    "fewer files than there are",
    "changed",
    /bytes/,
    () => zip({ end: { here: good.length - 1, entries: good.length - 1 } }),
  ],
  [
    "more files than there are",
    "unreadable",
    /expected an entry/,
    () => zip({ end: { here: good.length + 1, entries: good.length + 1 } }),
  ],
  ["a directory that lies elsewhere", "unreadable", /not in the file/, () => zip({ end: { size: 0x7fffffff } })],
  ["a header elsewhere than said", "unreadable", /over another file/, with1("bores.csv", { offset: 0 })],
  [
    "no header where the directory says",
    "unreadable",
    /not where the directory says/,
    () => {
      const bytes = Buffer.from(goodBytes);
      bytes.writeUInt32LE(0x12345678, 0);
      return bytes;
    },
  ],
  ["another name in the header", "unreadable", /differ \(name\)/, with1("bores.csv", { localName: "zores.csv" })],
  [
    "a longer name in the header",
    "unreadable",
    /length of the name/,
    with1("bores.csv", { localName: "../bores.csv" }),
  ],
  [
    "another size in the header",
    "unreadable",
    /differ \(size\)/,
    with1("bores.csv", { local: { packed: 1, size: 1 } }),
  ],
  ["another check sum in the header", "unreadable", /differ \(check sum\)/, with1("bores.csv", { local: { crc: 1 } })],
  [
    "another compression in the header",
    "unreadable",
    /differ \(compression\)/,
    with1("bores.csv", { local: { method: 8 } }),
  ],
  ["another flag in the header", "unreadable", /differ \(flags\)/, with1("bores.csv", { local: { flags: 0 } })],
  [
    "an extra field in the header",
    "unreadable",
    /differ \(extra field\)/,
    with1("bores.csv", { localExtra: plain("UT..") }),
  ],
  ["an extra field in the directory", "changed", /extra field/, with1("bores.csv", { centralExtra: plain("UT..") })],
  ["a remark on a file", "changed", /a remark beside it/, with1("bores.csv", { comment: plain("psst") })],
  ["another time", "changed", /another time/, with1("bores.csv", { both: { time: 1 } })],
  ["another maker", "changed", /another maker/, with1("bores.csv", { central: { madeBy: 20 } })],
  [
    "a file missing",
    "changed",
    /bores\.csv.*missing/,
    () => zip({ entries: good.filter(({ name }) => name !== "bores.csv") }),
  ],
  [
    "no manifest",
    "unreadable",
    /manifest\.json/,
    () => zip({ entries: good.filter(({ name }) => name !== "manifest.json") }),
  ],
  ["a manifest that is no JSON", "unreadable", /not JSON/, with1("manifest.json", { data: plain("{") })],
  [
    "a manifest of something else",
    "unreadable",
    /expected the format/,
    with1("manifest.json", { data: plain('{"format":"zip"}') }),
  ],
  [
    "a manifest of later days",
    "unreadable",
    /found version 2/,
    with1("manifest.json", { data: plain('{"format":"borewright/parcel","version":2}') }),
  ],
  [
    "a manifest that nests without end",
    "unreadable",
    /manifest\.json/,
    with1("manifest.json", { data: plain("[".repeat(200_000)) }),
  ],
  [
    "a file with an expected name that the manifest does not state",
    "changed",
    /it was added/,
    () => {
      const entries = [...good];
      entries.splice(at("checksums.txt"), 0, { name: "signer.pem", data: plain("a key") });
      return zip({ entries });
    },
  ],
  ["files in another order", "changed", /another order/, () => zip({ entries: [...good].reverse() })],
];

describe("a hostile archive", () => {
  it("is made from a builder that gives the parcel itself when nothing is changed", () => {
    expect(zip({}).equals(goodBytes)).toBe(true);
  });

  it("comes in at least fifty kinds", () => {
    expect(archives.length).toBeGreaterThanOrEqual(50);
    expect(new Set(archives.map(([what]) => what)).size).toBe(archives.length);
  });

  it.each(archives)("is refused with its reason: %s", async (_, outcome, reason, make) => {
    const opened = await openParcel(make(), { app: APP });
    const { check } = opened;
    expect(check.outcome).toBe(outcome);
    const told =
      check.outcome === "changed" ? check.changes.map(({ where, what }) => `${where}: ${what}`).join("\n") : check.why;
    expect(told).toMatch(reason);
    expect(opened.session).toBeNull();
    expect(opened.read).toBeNull();
    expect(check.result).toBeNull();
    expect(check.manifest).toBeNull();
  });

  it("is not read at all when it is larger than any parcel", async () => {
    const { check } = await openParcel(Object.defineProperty(Buffer.alloc(1), "length", { value: 600 * 1024 * 1024 }));
    expect(check).toMatchObject({ outcome: "unreadable" });
    expect(check.why).toContain("expected at most");
  });
});
