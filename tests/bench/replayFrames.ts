import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import { lookAt } from "../e2e/program.ts";
import { sixtyThousand } from "./longSession.ts";
import { fixed } from "./measure.ts";

const COUNT_MS = 6_000;

/** Times between the pictures of a page, ms. */
function pictures(page: Page): Promise<number[]> {
  return page.evaluate(
    (countMs) =>
      new Promise<number[]>((resolve) => {
        const gaps: number[] = [];
        const begun = performance.now();
        let last = begun;
        const count = () => {
          const now = performance.now();
          gaps.push(now - last);
          last = now;
          if (now - begun < countMs) requestAnimationFrame(count);
          else resolve(gaps);
        };
        requestAnimationFrame(count);
      }),
    COUNT_MS,
  );
}

/** Pictures a second while a session of 55,000 readings is replayed at 64×, beside the same page standing still. */
export async function replayFramesTable() {
  const folder = await mkdtemp(join(tmpdir(), "borewright-replay-"));
  await writeFile(join(folder, "long.bwsession"), sixtyThousand().text);
  const program = await lookAt(folder);
  try {
    const { page } = program;
    await page
      .getByRole("navigation")
      .getByRole("button", { name: /^Recheck/ })
      .click();
    await page.getByRole("button", { name: "Watch it again" }).click();
    await page.getByText("64×", { exact: true }).click();
    const still = await pictures(page);
    await page.getByRole("button", { name: "Play", exact: true }).click();
    const playing = await pictures(page);
    return [
      { what: "standing still", gaps: still },
      { what: "replayed at 64×", gaps: playing },
    ].map(({ what, gaps }) => {
      const sorted = gaps.toSorted((a, b) => a - b);
      return {
        what,
        "pictures a second": fixed((1000 * gaps.length) / COUNT_MS, 1),
        ratio: fixed(gaps.length / still.length, 2),
        "99 % of waits within ms": fixed(sorted[Math.ceil(0.99 * sorted.length) - 1] ?? Number.NaN, 1),
        "longest wait, ms": fixed(sorted.at(-1) ?? Number.NaN, 1),
      };
    });
  } finally {
    await program.close();
  }
}
