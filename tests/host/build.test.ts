import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { stripVTControlCharacters } from "node:util";
import { build } from "vite";
import { expect, it } from "vitest";
import { buildTrouble } from "../../electron/build.mjs";

it("says where a build failed in a few plain lines, without the bundler's stack", async () => {
  const folder = await mkdtemp(join(tmpdir(), "borewright-build-"));
  try {
    await writeFile(join(folder, "broken.ts"), "export const whole = 1;\nexport const half = ;\n");
    const failed = await build({
      root: folder,
      configFile: false,
      logLevel: "silent",
      build: { ssr: "broken.ts", write: false },
    }).then(
      () => null,
      (error: unknown) => error,
    );
    const says = buildTrouble(failed);
    expect(says).toMatch(/broken\.ts:2/);
    expect(says.split("\n").length).toBeLessThanOrEqual(12);
    expect(says).not.toMatch(/^\s+at |node_modules/m);
    expect(says).toBe(stripVTControlCharacters(says));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});

it("says the reason of a failure that is not the bundler's", () => {
  expect(buildTrouble(new Error("electron/window/main.ts is not there"))).toBe("electron/window/main.ts is not there");
});
