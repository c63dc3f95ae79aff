import { execFile } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, posix } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { findViolations, violationsIn } from "./findViolations.ts";
import { house, isPackageIn, purePackages } from "./house.ts";

const root = fileURLToPath(new URL("../..", import.meta.url)).replace(/\/$/, "");
const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));

interface Finished {
  readonly code: number;
  readonly output: string;
}

/** Runs one of the checkout's own tools; a red answer is an answer. */
function run(tool: string, args: readonly string[], cwd: string): Promise<Finished> {
  const options = { cwd, maxBuffer: 64_000_000 };
  return new Promise((resolve) => {
    execFile(join(root, "node_modules/.bin", tool), [...args], options, (error, stdout, stderr) => {
      resolve({ code: error === null ? 0 : Number(error.code ?? 1), output: `${stdout}${stderr}` });
    });
  });
}

/** A tree of its own with the checkout's configuration, for planting what must never be in the checkout. */
function newTree(): { readonly at: string; put(path: string, text: string): void } {
  const at = mkdtempSync(join(tmpdir(), "layers-"));
  const put = (path: string, text: string) => {
    mkdirSync(dirname(join(at, path)), { recursive: true });
    writeFileSync(join(at, path), text);
  };
  for (const name of ["biome.json", "tsconfig.base.json"]) cpSync(join(root, name), join(at, name));
  for (const project of ["core", "electron", "renderer"]) {
    mkdirSync(join(at, project));
    cpSync(join(root, project, "tsconfig.json"), join(at, project, "tsconfig.json"));
  }
  symlinkSync(join(root, "node_modules"), join(at, "node_modules"));
  trees.push(at);
  return { at, put };
}
const trees: string[] = [];
afterAll(() => {
  for (const tree of trees) rmSync(tree, { recursive: true, force: true });
});

/** A file to import in a room; the leaf is its own. */
const doorOf = (room: string) => (room.endsWith(".ts") ? room : `${room}/door.ts`);
/** A file of a room that does the importing. */
const planted = (room: string, name: string) => (room.endsWith(".ts") ? room : `${room}/${name}.ts`);
/** The specifier by which the file at `path` imports the one at `target`. */
const from = (path: string, target: string) => {
  const way = posix.relative(posix.dirname(path), target);
  return way.startsWith(".") ? way : `./${way}`;
};

describe("the checkout", () => {
  test("has no import against the arrows, and reads no clock or chance in core", () => {
    expect(findViolations(root)).toEqual([]);
  });

  test("has no import that the lint rules refuse", async () => {
    const rules = [
      "style/noRestrictedImports",
      "correctness/noNodejsModules",
      "style/noCommonJs",
      "suspicious/noImportCycles",
    ];
    const only = rules.map((rule) => `--only=${rule}`);
    const { code, output } = await run(
      "biome",
      ["lint", ...only, "--max-diagnostics=none", "--reporter=github", "."],
      root,
    );
    expect(output.split("\n").filter((line) => line.startsWith("::error"))).toEqual([]);
    expect(code, output).toBe(0);
  });
});

describe("the lint rules bite", () => {
  /** `path:line` of every error of the run, by rule. */
  const errors = new Map<string, Set<string>>();
  const caught = (rule: string, path: string, line = 1) => errors.get(rule)?.has(`${path}:${line}`) ?? false;
  const names = Object.keys(house);
  const rooms = names.filter((name) => !name.endsWith(".ts"));
  const packages = [
    ...new Set([
      ...Object.keys(manifest.dependencies),
      ...purePackages.filter((name) => name !== "@stdlib"),
      "electron",
      "node:fs",
    ]),
  ];

  beforeAll(async () => {
    const tree = newTree();
    for (const room of rooms) tree.put(doorOf(room), "export const door = 1;\nexport type Door = typeof door;\n");
    tree.put("core/zod.ts", 'import { z } from "zod";\n\nexport { z };\n');
    tree.put("tests/door.ts", "export const door = 1;\n");
    for (const room of rooms) {
      names.forEach((other, index) => {
        const path = planted(room, `to${index}`);
        const specifier = from(path, doorOf(other));
        tree.put(
          path,
          [
            `import { door } from "${specifier}";`,
            `import type { Door } from "${specifier}";`,
            `export * from "${specifier}";`,
            `export const late = import("${specifier}");`,
            "export const used: Door = door;",
            "",
          ].join("\n"),
        );
      });
      packages.forEach((name, index) => {
        tree.put(planted(room, `package${index}`), `import * as all from "${name}";\n\nexport const used = all;\n`);
      });
      const test = planted(room, "toTests");
      tree.put(test, `export * from "${from(test, "tests/door.ts")}";\n`);
    }
    tree.put("core/attic/open.ts", 'export * from "../length/door.ts";\n');
    tree.put("core/length/deep/inner.ts", 'export * from "../../session/door.ts";\nexport * from "../door.ts";\n');
    tree.put("core/length/common.ts", 'export const old = require("./door.ts");\n');
    tree.put("core/length/there.ts", 'import { back } from "./back.ts";\n\nexport const there = () => back;\n');
    tree.put("core/length/back.ts", 'import { there } from "./there.ts";\n\nexport const back = () => there;\n');
    tree.put("core/length/left.ts", 'import type { Right } from "./right.ts";\n\nexport type Left = Right | 1;\n');
    tree.put("core/length/right.ts", 'import type { Left } from "./left.ts";\n\nexport type Right = Left[];\n');
    const { output } = await run("biome", ["lint", "--max-diagnostics=none", "--reporter=github", "."], tree.at);
    for (const [, rule = "", path = "", line] of output.matchAll(/title=lint\/([\w/]+),file=([^,]+),line=(\d+)/g)) {
      const places = errors.get(rule) ?? new Set<string>();
      places.add(`${path.replace(`${tree.at}/`, "")}:${line}`);
      errors.set(rule, places);
    }
  });

  test("for every pair of rooms: refused exactly where there is no arrow, in every way of importing", () => {
    let refused = 0;
    for (const room of rooms) {
      names.forEach((other, index) => {
        const arrows = [room, ...(house[room]?.rooms ?? []), ...(house[room]?.typesOnly ?? [])];
        const open = arrows.includes(other);
        for (const line of [1, 2, 3, 4])
          expect(
            caught("style/noRestrictedImports", planted(room, `to${index}`), line),
            `${room} → ${other}, line ${line}`,
          ).toBe(!open);
        if (!open) refused += 1;
      });
      expect(caught("style/noRestrictedImports", planted(room, "toTests")), `${room} → tests`).toBe(true);
    }
    expect(refused).toBeGreaterThan(100);
  });

  test("for every package of the manifest: refused exactly where the room's list does not have it", () => {
    for (const room of rooms)
      packages.forEach((name, index) => {
        const listed = isPackageIn(house[room]?.packages ?? [], name);
        expect(caught("style/noRestrictedImports", planted(room, `package${index}`)), `${room} → ${name}`).toBe(
          !listed,
        );
      });
  });

  test("for Node's modules in core, on the page and in preload", () => {
    const node = packages.indexOf("node:fs");
    for (const room of [...rooms.filter((name) => name.startsWith("core/")), "renderer", "electron/preload"])
      expect(caught("correctness/noNodejsModules", planted(room, `package${node}`)), room).toBe(true);
  });

  test("for a room that the house does not have, a folder within a room, and require", () => {
    expect(caught("style/noRestrictedImports", "core/attic/open.ts")).toBe(true);
    expect(caught("style/noRestrictedImports", "core/length/deep/inner.ts", 1)).toBe(true);
    expect(caught("style/noRestrictedImports", "core/length/deep/inner.ts", 2)).toBe(false);
    expect(caught("style/noCommonJs", "core/length/common.ts")).toBe(true);
  });

  test("for import cycles, of values and of types", () => {
    for (const name of ["there", "back", "left", "right"])
      expect(caught("suspicious/noImportCycles", `core/length/${name}.ts`), name).toBe(true);
  });
});

describe("the reading of imports bites where the lint rules cannot", () => {
  const faults: readonly [name: string, path: string, source: string][] = [
    ["a type taken by import()", "core/gauge/a.ts", 'type Q = import("../session/x.ts").Q;'],
    ["a way down and up again", "core/gauge/a.ts", 'import { q } from "../length/../session/x.ts";'],
    ["a room's name in another tree", "core/gauge/a.ts", 'import { q } from "../../electron/length/x.ts";'],
    ["several lines", "core/gauge/a.ts", 'import {\n  p,\n  type Q,\n} from "../session/x.ts";'],
    ["a default with names", "core/gauge/a.ts", 'import d, { type Q } from "../session/x.ts";'],
    ["a namespace", "core/gauge/a.ts", 'import * as q from "../session/x.ts";'],
    ["a re-export", "core/gauge/a.ts", 'export { q } from "../session/x.ts";'],
    ["a re-export of types", "core/gauge/a.ts", 'export type { Q } from "../session/x.ts";'],
    ["an import for its effect", "core/gauge/a.ts", 'import "../session/x.ts";'],
    ["an import() in back quotes", "core/gauge/a.ts", "const q = await import(`../session/x.ts`);"],
    ["require", "core/gauge/a.ts", 'const q = require("../session/x.ts");'],
    ["a module of Node without its prefix", "core/gauge/a.ts", 'import fs from "fs/promises";'],
    ["a package that is not on the list", "core/gauge/a.ts", 'import react from "react";'],
    ["pairing and remedy reaching for each other", "core/pairing/a.ts", 'import { q } from "../remedy/x.ts";'],
    ["the electron module on the host's side", "electron/host/a.ts", 'import { app } from "electron";'],
    ["a window on the host's side", "electron/host/a.ts", 'import { w } from "../window/main.ts";'],
    ["the port library in the window shell", "electron/window/a.ts", 'import { SerialPort } from "serialport";'],
    ["more than types in preload", "electron/preload/a.ts", 'import { methods } from "../../core/bridge/messages.ts";'],
    ["zod in preload", "electron/preload/a.ts", 'import { z } from "../../core/zod.ts";'],
    ["the host on the page", "renderer/start/A.tsx", 'import { h } from "../../electron/host/x.ts";'],
    ["measurement on the page", "renderer/start/A.tsx", 'import { fitMinimum } from "../../core/sweep/fit.ts";'],
    ["a clock in core", "core/sweep/a.ts", "const now = Date.now();"],
    ["today's date in core", "core/report/a.ts", "const now = new Date();"],
    ["chance in core", "core/sweep/a.ts", "const noise = Math.random();"],
  ];
  test.each(faults)("%s", (_name, path, source) => {
    expect(violationsIn(path, source)).toHaveLength(1);
  });

  const sound: readonly [name: string, path: string, source: string][] = [
    ["an arrow to the left", "core/session/a.ts", 'import { q } from "../length/nm.ts";'],
    ["a pure package from inside", "core/session/a.ts", 'import { sha256 } from "@noble/hashes/sha2.js";'],
    ["an import in a comment", "core/gauge/a.ts", '// import { q } from "../session/x.ts";\n/* import "fs"; */'],
    ["a date that was given", "core/report/a.ts", "const day = new Date(createdMs);"],
    ["types in preload", "electron/preload/a.ts", 'import type { Bridge } from "../../core/bridge/messages.ts";'],
    [
      "types of findings on the page",
      "renderer/start/A.tsx",
      'import type { Limits } from "../../core/fit/finding.ts";',
    ],
    ["anything in tests", "tests/fit/a.ts", 'import { q } from "../../electron/window/main.ts";'],
  ];
  test.each(sound)("and lets through %s", (_name, path, source) => {
    expect(violationsIn(path, source)).toEqual([]);
  });

  test("in a tree on disk, with a file in a room that core does not have", () => {
    const tree = newTree();
    tree.put("core/attic/a.ts", "export const a = 1;\n");
    tree.put("renderer/start/Start.tsx", '\n\nimport { h } from "../../electron/host/x.ts";\n');
    expect(findViolations(tree.at)).toEqual([
      "core/attic/a.ts: core has no such room",
      "renderer/start/Start.tsx:3: renderer may not import electron/host",
    ]);
  });
});

describe("what a room has no name for does not compile", () => {
  const globals: Readonly<Record<string, { readonly absent: readonly string[]; readonly present: readonly string[] }>> =
    {
      core: {
        absent: [
          "Buffer",
          "process",
          "require",
          "setTimeout",
          "console",
          "window",
          "document",
          "fetch",
          "performance",
          "crypto",
        ],
        present: ["Math", "Map"],
      },
      electron: { absent: ["window", "document", "localStorage"], present: ["Buffer", "process", "setTimeout"] },
      renderer: {
        absent: ["Buffer", "process", "require", "__dirname"],
        present: ["window", "document", "setTimeout"],
      },
    };
  test.each(Object.entries(globals))("%s", async (project, { absent, present }) => {
    const tree = newTree();
    tree.put("core/length/nm.ts", "export const nm = 1;\n");
    tree.put("electron/host/a.ts", "export const a = 1;\n");
    tree.put("renderer/a.ts", "export const a = 1;\n");
    const at =
      { core: "core/length/planted.ts", electron: "electron/host/planted.ts" }[project] ?? "renderer/planted.ts";
    tree.put(at, [...absent, ...present].map((name, index) => `export const planted${index} = ${name};\n`).join(""));
    // Not through the shared cache folder, which the link would lead to the checkout's own.
    const { output } = await run(
      "tsc",
      ["-p", project, "--outDir", "types", "--tsBuildInfoFile", "types/build", "--pretty", "false"],
      tree.at,
    );
    const named = [...output.matchAll(/planted\.ts\(\d+,\d+\): error TS\d+: Cannot find name '([\w$]+)'/g)].map(
      (match) => match[1],
    );
    expect(named, output).toEqual([...absent]);
  });
});
