import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, test } from "vitest";
import { launchDouble } from "../window/electronDouble/launchDouble.ts";
import { reportPdfSpecs } from "../window/reportPdfSpecs.ts";
import { windowSpecs } from "../window/windowSpecs.ts";

const specs = [...windowSpecs, ...reportPdfSpecs];
const dist = fileURLToPath(new URL("../../dist", import.meta.url));

interface Fault {
  readonly name: string;
  readonly file: "main.cjs" | "preload.cjs";
  /** What is changed in the built file; each must be found there. */
  readonly changes: readonly (readonly [found: RegExp, planted: string])[];
  /** A spec that must fail. */
  readonly caughtBy: string;
}

const WINDOW = "the window is isolated, sandboxed and without Node";
const BRIDGE = "the page has the bridge and nothing else of the machine";
const NAVIGATION = "the page cannot go to another address";
const EVENTS = "redirects and embedded views are prevented";
const POLICY = "every answer to the page carries a content policy that begins with nothing";
const POLICY_HOLDS =
  "the content policy holds in the page: no code from text, no script written into it, no word to the outside";
const WRITTEN =
  "the report is written as a PDF on the paper asked for, with every clearance, the seal and the page numbers";
const DRAWN = "the report is drawn out of sight, where no script runs and no bridge is, and nothing of that stays";
const PERMISSION = "the page is given no permission, whether it asks or looks";

const faults: readonly Fault[] = [
  {
    name: "nobody asks who calls",
    file: "main.cjs",
    changes: [[/if \(!isOwnPage\(/, "if (false && !isOwnPage("]],
    caughtBy: "a page that is not the program's own is refused, with the same preload",
  },
  {
    name: "any window with the program's page may call",
    file: "main.cjs",
    changes: [[/event\.sender\.id === contents\.id/, "true"]],
    caughtBy: "a second window with the program's own page is refused",
  },
  { name: "no sandbox", file: "main.cjs", changes: [[/sandbox: true/, "sandbox: false"]], caughtBy: WINDOW },
  {
    name: "no isolation, and Node in the page",
    file: "main.cjs",
    changes: [
      [/contextIsolation: true/, "contextIsolation: false"],
      [/nodeIntegration: false/, "nodeIntegration: true"],
    ],
    caughtBy: BRIDGE,
  },
  {
    name: "insecure content allowed",
    file: "main.cjs",
    changes: [[/allowRunningInsecureContent: false/, "allowRunningInsecureContent: true, experimentalFeatures: true"]],
    caughtBy: WINDOW,
  },
  {
    name: "webviews allowed",
    file: "main.cjs",
    changes: [[/webviewTag: false/, "webviewTag: true"]],
    caughtBy: WINDOW,
  },
  {
    name: "a webview is not prevented",
    file: "main.cjs",
    changes: [[/\.on\("will-attach-webview", [^;]+;/, ".getURL();"]],
    caughtBy: EVENTS,
  },
  {
    name: "redirects are not prevented",
    file: "main.cjs",
    changes: [[/\w+\.on\("will-redirect", \w+\);/, ""]],
    caughtBy: EVENTS,
  },
  {
    name: "navigation is not prevented",
    file: "main.cjs",
    changes: [
      [/\w+\.on\("will-navigate", \w+\);/, ""],
      [/\w+\.on\("will-frame-navigate", \w+\);/, ""],
    ],
    caughtBy: NAVIGATION,
  },
  {
    name: "every address counts as the page's own",
    file: "main.cjs",
    changes: [[/if \(!isPageAddress\(event\.url\)\)/, "if (false)"]],
    caughtBy: NAVIGATION,
  },
  {
    name: "windows open on request",
    file: "main.cjs",
    changes: [[/action: "deny"/, 'action: "allow"']],
    caughtBy: "the page cannot open another window",
  },
  {
    name: "the locks are forgotten",
    file: "main.cjs",
    changes: [[/lockAllContents\(electron\.app\);/, ""]],
    caughtBy: "the page cannot open another window",
  },
  {
    name: "permissions are given",
    file: "main.cjs",
    changes: [[/answer\(false\)/, "answer(true)"]],
    caughtBy: PERMISSION,
  },
  {
    name: "permissions look as if given",
    file: "main.cjs",
    changes: [[/setPermissionCheckHandler\(\(\) => false\)/, "setPermissionCheckHandler(() => true)"]],
    caughtBy: PERMISSION,
  },
  {
    name: "both permission handlers are forgotten",
    file: "main.cjs",
    changes: [[/lockSession\(electron\.session\.defaultSession\);/, ""]],
    caughtBy: PERMISSION,
  },
  {
    name: "no content policy",
    file: "main.cjs",
    changes: [[/"content-security-policy": CONTENT_POLICY,/, ""]],
    caughtBy: POLICY,
  },
  {
    name: "a content policy that lets code be made from text",
    file: "main.cjs",
    changes: [[/script-src 'self'/, "script-src 'self' 'unsafe-eval' 'unsafe-inline'"]],
    caughtBy: POLICY_HOLDS,
  },
  {
    name: "a content policy that lets the page speak to the outside",
    file: "main.cjs",
    changes: [[/connect-src 'none'/, "connect-src *"]],
    caughtBy: POLICY_HOLDS,
  },
  {
    name: "a content policy that the page cannot live with",
    file: "main.cjs",
    changes: [[/style-src 'self'/, "style-src 'none'"]],
    caughtBy: "every place of the page lives within the content policy",
  },
  {
    name: "paths lead out of the page's folder",
    file: "main.cjs",
    changes: [
      [/\? segments : null/, "? segments : segments"],
      [/=== "\.\."\) return refuse\(403\)/, "=== 1) return refuse(403)"],
      [/"\.html": "text\/html/, '".cjs": "text/plain", ".json": "text/plain", ".html": "text/html'],
    ],
    caughtBy: "no address leads out of the page's folder, and only reading is answered",
  },
  {
    name: "the page gets Electron's own messaging",
    file: "preload.cjs",
    changes: [[/$/, '\nelectron.contextBridge.exposeInMainWorld("ipcRenderer", { send: electron.ipcRenderer.send });']],
    caughtBy: BRIDGE,
  },
  {
    name: "the bridge has one method too many",
    file: "preload.cjs",
    changes: [[/exposeInMainWorld\("borewright", \{/, "$&\n\tinvoke: electron.ipcRenderer.invoke,"]],
    caughtBy: BRIDGE,
  },
  {
    name: "scripts may run in the report that is drawn",
    file: "main.cjs",
    changes: [[/javascript: false/, "javascript: true"]],
    caughtBy: DRAWN,
  },
  {
    name: "the window that drew the report stays",
    file: "main.cjs",
    changes: [[/if \(!window\.isDestroyed\(\)\) window\.destroy\(\);/, ""]],
    caughtBy: DRAWN,
  },
  {
    name: "the report is always on Letter",
    file: "main.cjs",
    changes: [[/pageSize: paper/, 'pageSize: "Letter"']],
    caughtBy: WRITTEN,
  },
  {
    name: "the host's news are not carried",
    file: "main.cjs",
    changes: [[/\.webContents\.send\(EVENT_CHANNEL, event\)/, ".getNormalBounds()"]],
    caughtBy: "what the host tells reaches the page, until it stops listening",
  },
  {
    name: "a page that has stopped listening is told all the same",
    file: "preload.cjs",
    changes: [[/listeners\.delete\(listener\);/, ""]],
    caughtBy: "what the host tells reaches the page, until it stops listening",
  },
];

/** Those of the named specs that fail on a copy of the built program, changed as asked. */
async function failing(file: string, changes: Fault["changes"], names: readonly string[]): Promise<string[]> {
  const folder = mkdtempSync(join(tmpdir(), "fault-"));
  const copy = join(folder, "dist");
  for (const part of ["window", "renderer"]) cpSync(join(dist, part), join(copy, part), { recursive: true });
  const path = join(copy, "window", file);
  let text = readFileSync(path, "utf8");
  for (const [found, planted] of changes) {
    expect(found.test(text), `${file} has nothing like ${found}`).toBe(true);
    text = text.replace(found, planted);
  }
  writeFileSync(path, text);
  const shell = await launchDouble(join(copy, "window", "main.cjs"), folder);
  const failed: string[] = [];
  try {
    const page = await shell.firstWindow();
    for (const spec of specs.filter(({ name }) => names.includes(name))) {
      try {
        await spec.run(shell, page);
      } catch {
        failed.push(spec.name);
      }
    }
  } finally {
    await shell.close();
    rmSync(folder, { recursive: true, force: true });
  }
  return failed;
}

describe("faults planted in the built window shell, against a double of the electron module", () => {
  beforeAll(() => {
    expect(existsSync(join(dist, "window/main.cjs")), "dist/window/main.cjs: run `npm run build` first").toBe(true);
  });

  test("without a fault every spec passes on a copy", async () => {
    expect(
      await failing(
        "main.cjs",
        [],
        specs.map(({ name }) => name),
      ),
    ).toEqual([]);
  });

  test.each(faults)("caught: $name", async ({ file, changes, caughtBy }) => {
    expect(specs.map(({ name }) => name)).toContain(caughtBy);
    expect(await failing(file, changes, [caughtBy])).toEqual([caughtBy]);
  });
});
