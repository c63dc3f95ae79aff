import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { lstat, mkdir, mkdtemp, readdir, readFile, rm, stat, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import { plainFileName } from "../../electron/host/plainFileName.ts";
import { FileExistsError, writeWhole } from "../../electron/host/safeFiles.ts";
import { SessionFile } from "../../electron/host/sessionFile.ts";
import { SessionFolder } from "../../electron/host/sessionFolder.ts";
import { ShopKeyBook } from "../../electron/host/shopKeyBook.ts";
import { heldJob } from "./benchFiles.ts";

/** Why a name cannot be, or does not read as it is, on one of the three systems; null where it is good on all. */
function whyNot(name: string): string | null {
  if (name === "" || name === "." || name === "..") return "no name";
  if (/\p{Cc}/u.test(name)) return "control characters (Windows, and terminals)";
  if (/[<>:"/\\|?*]/.test(name)) return "signs that Windows or macOS keep for paths";
  if (/[. ]$/.test(name)) return "Windows drops a dot or blank at the end";
  if (/^[. -]/.test(name)) return "hidden, or taken for an option";
  if (/^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])\s*(\.|$)/i.test(name)) return "a device of Windows";
  if (/[\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/u.test(name))
    return "signs that are not seen or turn the direction";
  if (/\p{Cs}|\p{Cn}|\p{Co}/u.test(name)) return "no characters";
  if (Buffer.byteLength(name) > 200) return "too long for Linux with what is put before and behind";
  return null;
}

const HOSTILE = [
  "CON",
  "con.bench",
  "nul .x",
  "COM1",
  "lpt¹",
  "aux",
  "../../etc/passwd",
  "..\\..\\boot",
  "/etc/passwd",
  "C:\\Users\\a",
  "a:b",
  "a\0b",
  "a\nb\tc",
  "...",
  " . ",
  "ends in dots...",
  "ends in blanks   ",
  "-rf",
  "\u202Egnp.block",
  "zero\u200Bwidth\uFEFF",
  "half \uD83D of one",
  "<|>?*\"'`$;&",
  "é".repeat(300),
  "👩‍🔧".repeat(60),
  "x".repeat(4000),
  "",
  "   ",
  "\u0301 accent alone",
];

describe("names made from texts of anywhere", () => {
  it("become good on Linux, macOS and Windows, however hostile they are", () => {
    for (const text of HOSTILE) {
      const name = plainFileName(text) || "session";
      for (const file of [name, `${name}.bwsession`]) expect(whyNot(file), JSON.stringify([text, file])).toBeNull();
    }
  });

  it("holds for any text at all, and making it twice changes nothing", () => {
    const text = fc.oneof(
      fc.string({ unit: "binary", maxLength: 200 }),
      fc.string({ unit: "grapheme", maxLength: 60 }),
      fc.string({
        unit: fc.constantFrom("c", "o", "n", ".", " ", "-", "/", "\\", "\u202e", "\u0301", "1"),
        maxLength: 12,
      }),
    );
    fc.assert(
      fc.property(text, (given) => {
        const name = plainFileName(given);
        if (name === "") return;
        expect(whyNot(name), JSON.stringify([given, name])).toBeNull();
        expect(plainFileName(name)).toBe(name);
      }),
      { numRuns: 200 },
    );
  });

  it("keeps what people write: every script, digits, blanks, and a mark with its letter", () => {
    for (const text of ["Block 7, left", "Zylinderblock Größe 2", "блок 3", "机体 5", "कखि 2", "a.b_c-d"])
      expect(plainFileName(text)).toBe(text.replace(", ", "- "));
    expect(plainFileName("ä".normalize("NFD"))).toBe("ä");
  });
});

describe("the folder of the sessions", () => {
  let top: string;
  let folder: SessionFolder;
  let text: string;
  beforeEach(async () => {
    top = await mkdtemp(join(tmpdir(), "borewright-names-"));
    folder = new SessionFolder(join(top, "sessions"));
    await folder.make();
    text = Recording.begin({ job: heldJob, createdIso: "2026-03-01T08:00:00.000Z", app: "test" }).headerText;
  });
  afterEach(async () => {
    await folder.close();
    await rm(top, { recursive: true, force: true });
  });

  it("is made for its owner alone, and one that is there stays as it is", async () => {
    if (process.platform === "win32") return;
    expect((await stat(folder.path)).mode & 0o777).toBe(0o700);
    await mkdir(join(top, "shared"), { mode: 0o755 });
    await new SessionFolder(join(top, "shared")).make();
    expect((await stat(join(top, "shared"))).mode & 0o777).toBe(0o755);
    await (await ShopKeyBook.read(folder.path)).remember("Shop", "key", "2026-03-01");
    expect((await stat(join(folder.path, "known-shops.json"))).mode & 0o777).toBe(0o600);
  });

  it("takes sessions in under names of its own, whatever they were called, none over another", async () => {
    const ids: string[] = [];
    for (const name of [...HOSTILE, ...HOSTILE]) ids.push(await folder.adopt(`${name}.bwsession`, text));
    const found = await readdir(folder.path);
    expect(found.toSorted()).toEqual(ids.toSorted());
    expect(new Set(found.map((name) => name.toLowerCase())).size).toBe(HOSTILE.length * 2);
    expect(found.map(whyNot).filter((why) => why !== null)).toEqual([]);
    expect(await readdir(top)).toEqual(["sessions"]);
    for (const id of ids) expect(folder.pathOf(id)).toBe(join(folder.path, id));
    expect(await folder.list()).toHaveLength(ids.length);
  });

  it("gives a name that differs from one that is there in more than case and form", async () => {
    await writeFile(join(folder.path, "BLÖCK.bwsession".normalize("NFD")), text);
    expect(await folder.adopt("blöck.bwsession", text)).toBe("blöck-2.bwsession");
  });

  it.skipIf(process.platform === "win32")(
    "opens a link for reading only, and what it points to stays as it is",
    async () => {
      const elsewhere = join(top, "elsewhere");
      // Torn, so that going on with it would cut it.
      await writeFile(elsewhere, `${text}{"n":1`);
      const path = folder.pathOf("link.bwsession");
      await symlink(elsewhere, path);
      const opened = await SessionFile.open(path);
      expect(opened).toMatchObject({ file: null, readOnlyWhy: expect.stringContaining("link") });
      expect(await readFile(elsewhere, "utf8")).toBe(`${text}{"n":1`);
      expect((await folder.list()).map(({ trouble }) => trouble)).toEqual([expect.stringContaining("link")]);
      expect((await readdir(top)).toSorted()).toEqual(["elsewhere", "sessions"]);
    },
  );

  it.skipIf(process.platform === "win32")(
    "writes over no link and through none, new or not, even one that leads nowhere",
    async () => {
      const elsewhere = join(top, "elsewhere");
      await writeFile(elsewhere, "not ours");
      await symlink(elsewhere, join(folder.path, "a"));
      await symlink(join(top, "nowhere"), join(folder.path, "b"));
      for (const name of ["a", "b"]) {
        await expect(writeWhole(join(folder.path, name), "x", false)).rejects.toThrow(FileExistsError);
        await writeWhole(join(folder.path, name), "x", true);
        expect((await lstat(join(folder.path, name))).isSymbolicLink()).toBe(false);
      }
      expect(await readFile(elsewhere, "utf8")).toBe("not ours");
      expect(existsSync(join(top, "nowhere"))).toBe(false);
      // A lock that is a link is not written through either: it counts as held or is moved away, never followed.
      await symlink(join(top, "nowhere"), `${folder.pathOf("c.bwsession")}.lock`);
      await SessionFile.create(folder.pathOf("c.bwsession"), text, false).catch(() => {});
      expect(existsSync(join(top, "nowhere"))).toBe(false);
    },
  );

  it("keeps a file with the longest name there can be", async () => {
    const path = join(folder.path, "n".repeat(255));
    await writeWhole(path, "once", false);
    await writeWhole(path, "twice", true);
    expect(await readFile(path, "utf8")).toBe("twice");
    expect(await readdir(folder.path)).toEqual(["n".repeat(255)]);
  });

  it.skipIf(process.platform === "win32")("does not wait for a pipe that stands there like a session", async () => {
    const path = folder.pathOf("pipe.bwsession");
    execFileSync("mkfifo", [path]);
    await expect(SessionFile.look(path)).rejects.toThrow("not an ordinary file");
    await expect(SessionFile.open(path)).rejects.toThrow("not an ordinary file");
    expect(await folder.list()).toEqual([]);
    expect(await readdir(folder.path)).toEqual(["pipe.bwsession"]);
  });
});
