import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { chmod, mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";

import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { FILES } from "../../electron/packaging/config.mjs";
import { icnsOf, icoOf } from "../../electron/packaging/iconFiles.mjs";
import { pack } from "../../electron/packaging/package.mjs";
import { filesBelow, stage } from "../../electron/packaging/stage.mjs";
import { launchDouble } from "../window/electronDouble/launchDouble.ts";
import { createPackage, extractAll, listPackage, statFile } from "./programArchive.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));
/** Where a runtime keeps its fuses: behind these signs, their version and number (Electron's page on fuses). */
const FUSE_SIGN = "dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX";
/** In the order of the runtime's wire, version 1, as of Electron 45; before packing all stand the other way. */
const WIRE = {
  "runs as Node": "0",
  "cookies encrypted": "1",
  "NODE_OPTIONS heard": "0",
  "debugger heard": "0",
  "integrity of the archive checked": "1",
  "only from the archive": "1",
  "a snapshot of its own": "0",
  "more rights for files": "0",
};

/** Stands in for the Electron runtime, which cannot be fetched everywhere: its files by name, and a program of fuses. */
async function standInRuntime(folder: string): Promise<void> {
  await mkdir(join(folder, "resources"), { recursive: true });
  await mkdir(join(folder, "locales"));
  const wire = Object.values(WIRE).map((state) => (state === "0" ? "1" : "0"));
  const fuses = Buffer.from([1, wire.length]);
  await writeFile(
    join(folder, "electron"),
    Buffer.concat([Buffer.from(`stand-in ${FUSE_SIGN}`), fuses, Buffer.from(`${wire.join("")} end`)]),
  );
  await chmod(join(folder, "electron"), 0o755);
  for (const name of ["LICENSE", "LICENSES.chromium.html", "version", "locales/en-US.pak", "locales/de.pak"])
    await writeFile(join(folder, name), name);
  await createPackage(join(folder, "locales"), join(folder, "resources/default_app.asar"));
}

describe.runIf(process.platform === "linux")("the program packed, with a stand-in for the Electron runtime", () => {
  let top: string;
  let packed: string;
  let archive: string;
  const places = () => ({ app: join(top, "app"), output: join(top, "out"), runtime: join(top, "runtime") });

  beforeAll(async () => {
    expect(existsSync(join(root, "dist/window/main.cjs")), "run `npm run build` first").toBe(true);
    top = await mkdtemp(join(tmpdir(), "borewright-pack-"));
    await standInRuntime(places().runtime);
    await stage(places().app);
    await pack({ ...places(), onlyFolder: true });
    packed = join(places().output, `linux${process.arch === "x64" ? "" : `-${process.arch}`}-unpacked`);
    archive = join(packed, "resources/app.asar");
  }, 600_000);
  afterAll(() => rm(top, { recursive: true, force: true }), 600_000);

  const entries = () =>
    listPackage(archive, { isPack: false })
      .map((path) => path.slice(1))
      .filter((path) => !("files" in statFile(archive, path)));

  test("the archive holds the window, the page and what they load, and nothing else", async () => {
    const found = entries();
    expect(found).toEqual(
      expect.arrayContaining([
        "package.json",
        "LICENSE",
        "window/main.cjs",
        "window/preload.cjs",
        "renderer/index.html",
      ]),
    );
    const others = found.filter((path) => !/^(package\.json$|LICENSE$|window\/|renderer\/|node_modules\/)/.test(path));
    expect(others).toEqual([]);
    expect(found.filter((path) => /\.(map|ts|tsx|md)$|(^|\/)(tests?|fixtures|\.[^/]+)\//.test(path))).toEqual([]);
    expect(found.filter((path) => path.startsWith("window/"))).toHaveLength(2);
    const packages = new Set(found.flatMap((path) => /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1] ?? []));
    expect(
      [...packages].filter((name) => !/^(serialport|@serialport\/.+|debug|ms|node-gyp-build)$/.test(name)),
    ).toEqual([]);
    const manifest = JSON.parse(await readFile(join(places().app, "package.json"), "utf8"));
    expect(manifest).toMatchObject({ main: "window/main.cjs", dependencies: { serialport: expect.any(String) } });
    expect(manifest.scripts).toBeUndefined();
  });

  test("the serial binding of this system stands beside the archive and not in it, and no other system's anywhere", async () => {
    const bindings = entries().filter((path) => path.endsWith(".node"));
    expect(bindings.length).toBeGreaterThan(0);
    for (const path of bindings) {
      expect(path).toMatch(/\/prebuilds\/linux-/);
      expect(statFile(archive, path)).toMatchObject({ unpacked: true });
      expect(existsSync(join(`${archive}.unpacked`, path)), path).toBe(true);
    }
    expect((await filesBelow(`${archive}.unpacked`)).toSorted()).toEqual(bindings.toSorted());
  });

  test("the runtime's fuses stand as they should, and its own start program is gone", async () => {
    const program = await readFile(join(packed, "borewright"));
    const at = program.indexOf(FUSE_SIGN) + FUSE_SIGN.length;
    expect(program[at]).toBe(1);
    const wire = program.subarray(at + 2, at + 2 + (program[at + 1] ?? 0)).toString("latin1");
    expect(wire).toBe(Object.values(WIRE).join(""));
    expect(existsSync(join(packed, "resources/default_app.asar"))).toBe(false);
    expect(existsSync(join(packed, "locales/de.pak"))).toBe(false);
  });

  test("what is in the archive runs: its binding answers, and its window opens in the double of the electron module", async () => {
    const out = join(top, "out of the archive");
    extractAll(archive, out);
    // Only the binding itself can say of a port that it is not there; listing them needs a tool of the system as well.
    const script = `const { SerialPort } = require("serialport");
      new SerialPort({ path: "/no/such/port", baudRate: 9600 }, (error) => console.log(error.message));`;
    const { stdout } = await promisify(execFile)(process.execPath, ["-e", script], { cwd: out });
    expect(stdout).toContain("/no/such/port");
    const shell = await launchDouble(join(out, "window/main.cjs"), join(top, "user"));
    try {
      const page = await shell.firstWindow();
      await page.getByRole("button", { name: "Try it with simulated gauges" }).waitFor();
    } finally {
      await shell.close();
    }
  });

  test("a configuration that makes no sense is refused by the packager", async () => {
    for (const change of [{ noSuchThing: true }, { electronFuses: { runAsNode: "no" } }])
      await expect(pack({ ...places(), onlyFolder: true, change }), JSON.stringify(change)).rejects.toThrow(
        /configuration/i,
      );
  });
});

test.each(["win32", "darwin"] as const)(
  "what is staged for %s has the binding of that system alone",
  async (platform) => {
    const folder = await mkdtemp(join(tmpdir(), "borewright-stage-"));
    try {
      await stage(folder, platform);
      const bindings = (await filesBelow(folder)).filter((path) => path.endsWith(".node"));
      expect(bindings.length).toBeGreaterThan(0);
      expect(bindings.filter((path) => !path.includes(`/prebuilds/${platform}-`))).toEqual([]);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  },
);

test("sessions and parcels are what the system opens with the program", () => {
  expect(FILES.map(({ ext }) => ext)).toEqual(["bwsession", "bwparcel"]);
});

test("icons hold their pictures whole, each where the file says", async () => {
  const icons = join(root, "electron/packaging/icons");
  const isPng = (bytes: Buffer) => bytes.subarray(1, 4).toString("latin1") === "PNG";
  for (const name of ["program", "file"]) {
    const ico = await readFile(join(icons, `${name}.ico`));
    const count = ico.readUInt16LE(4);
    const pictures = new Map<number, Buffer>();
    for (let index = 0; index < count; index += 1) {
      const at = 6 + 16 * index;
      const png = ico.subarray(ico.readUInt32LE(at + 12), ico.readUInt32LE(at + 12) + ico.readUInt32LE(at + 8));
      expect(isPng(png)).toBe(true);
      expect(png.readUInt32BE(16)).toBe(ico.readUInt8(at) || 256);
      pictures.set(png.readUInt32BE(16), Buffer.from(png));
    }
    expect(icoOf(pictures).equals(ico)).toBe(true);
    const icns = await readFile(join(icons, `${name}.icns`));
    expect(icns.readUInt32BE(4)).toBe(icns.length);
    const parts = new Map<number, Buffer>();
    for (let at = 8; at < icns.length; at += icns.readUInt32BE(at + 4)) {
      const png = icns.subarray(at + 8, at + icns.readUInt32BE(at + 4));
      expect(isPng(png)).toBe(true);
      parts.set(png.readUInt32BE(16), Buffer.from(png));
    }
    expect([...parts.keys()]).toEqual([16, 32, 64, 128, 256, 512, 1024]);
    expect(icnsOf(parts).equals(icns)).toBe(true);
  }
  expect(() => icoOf(new Map())).toThrow("no picture of 16");
});
