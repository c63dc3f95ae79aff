import { execFileSync } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, rm, symlink, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import { takeGivenFile } from "../../electron/host/givenFile.ts";
import { SessionFolder } from "../../electron/host/sessionFolder.ts";
import { heldJob } from "./benchFiles.ts";

let top: string;
let folder: SessionFolder;
let text: string;
beforeEach(async () => {
  top = await mkdtemp(join(tmpdir(), "borewright-given-"));
  folder = new SessionFolder(join(top, "sessions"));
  await folder.make();
  await mkdir(join(top, "elsewhere"));
  text = Recording.begin({ job: heldJob, createdIso: "2026-03-01T08:00:00.000Z", app: "test" }).headerText;
});
afterEach(async () => {
  await folder.close();
  await rm(top, { recursive: true, force: true });
});

describe("a file opened with the program", () => {
  it("is opened where it is when it is one of the folder's own", async () => {
    await writeFile(folder.pathOf("own.bwsession"), text);
    expect(await takeGivenFile(folder.pathOf("own.bwsession"), folder)).toEqual({
      kind: "session",
      name: "own.bwsession",
      id: "own.bwsession",
    });
    expect(await readdir(folder.path)).toEqual(["own.bwsession"]);
  });

  it("is copied into the folder from elsewhere, and stays as it is there", async () => {
    const path = join(top, "elsewhere", "con.bwsession");
    await writeFile(path, text);
    expect(await takeGivenFile(path, folder)).toMatchObject({ kind: "session", id: "file con.bwsession" });
    expect(await readFile(path, "utf8")).toBe(text);
  });

  it("is given on unchecked when it is a parcel, for its checks", async () => {
    const path = join(top, "elsewhere", "a.bwparcel");
    await writeFile(path, "no parcel");
    const content = Buffer.from("no parcel").toString("base64");
    expect(await takeGivenFile(path, folder)).toEqual({ kind: "parcel", name: "a.bwparcel", content });
    expect(await readdir(folder.path)).toEqual([]);
  });

  it("is refused with path and reason where it is anything else", async () => {
    const at = (name: string) => join(top, "elsewhere", name);
    await mkdir(at("folder.bwsession"));
    await writeFile(at("no.bwsession"), "no session");
    await writeFile(at("huge.bwparcel"), "");
    await truncate(at("huge.bwparcel"), 600 * 1024 * 1024);
    if (process.platform !== "win32") {
      execFileSync("mkfifo", [at("pipe.bwsession")]);
      await symlink("/dev/zero", at("endless.bwsession"));
    }
    const given: [string, RegExp][] = [
      [at("folder.bwsession"), /no ordinary file/],
      [at("no.bwsession"), /line 1/],
      [at("absent.bwsession"), /no such file/],
      [at("huge.bwparcel"), /expected at most/],
      ["relative.bwsession", /whole path/],
      [`${top}/a\0.bwsession`, /whole path/],
      [process.execPath, /expected a session/],
      ...(process.platform === "win32"
        ? []
        : ([
            [at("pipe.bwsession"), /no ordinary file/],
            [at("endless.bwsession"), /no ordinary file/],
          ] as [string, RegExp][])),
    ];
    for (const [path, why] of given) {
      const taken = await takeGivenFile(path, folder);
      expect(taken, path).toMatchObject({ kind: "refused", why: expect.stringMatching(why) });
    }
    expect(await readdir(folder.path)).toEqual([]);
  });
});
