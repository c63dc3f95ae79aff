import type { Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { HostEvent } from "../../core/bridge/messages.ts";
import { LIGHT_WORDS } from "../../renderer/sound/light.ts";
import { type Note, SCORES, TONES, type ToneName } from "../../renderer/sound/score.ts";
import { openScreens, type Screens } from "../renderer/boresScreens/openScreens.ts";

/** The walk in a browser: the host is a stand-in, the sessions are invented, reducer and screens are the program's own. */
let screens: Screens;
beforeAll(async () => {
  screens = await openScreens();
});
afterAll(async () => {
  await screens?.close();
});

async function withScene<T>(
  scene: string,
  use: (page: Page) => Promise<T>,
  size: readonly [number, number] = [1280, 720],
  query: Readonly<Record<string, string>> = {},
): Promise<T> {
  const page = await screens.open(scene, size, query);
  try {
    return await use(page);
  } finally {
    await page.close();
  }
}

const actions = (page: Page) =>
  page.evaluate(() =>
    (window as unknown as { calls: { method: string; input: { action: unknown } }[] }).calls
      .filter((call) => call.method === "session.act")
      .map((call) => call.input.action),
  );

const SCENES = [
  "empty",
  "begun",
  "open",
  "closed",
  "outside",
  "pending",
  "notsaved",
  "noagreement",
  "lost",
  "hold",
  "return",
  "returndone",
  "moved",
  "complete",
  "large",
  "cross",
  "inline",
];

describe("at the bench", () => {
  test.each(SCENES)("%s needs no scrolling, from 1280 × 720 to 3840 × 2160", async (scene) => {
    await withScene(scene, async (page) => {
      for (const [width, height] of [
        [1280, 720],
        [1920, 1080],
        [3840, 2160],
      ] as const) {
        await page.setViewportSize({ width, height });
        // The trace takes its new size a frame later.
        await page.waitForTimeout(100);
        expect(await page.evaluate(cutOff), `${width} × ${height}`).toEqual([]);
      }
    });
  });

  test.each(["normal", "large", "largest"])(
    "digits of the clearance are at least 96 px high and none is cut off, figure size %s",
    async (figure) => {
      for (const unit of ["in", "tenths", "mm", "um"]) {
        await withScene(
          "open",
          async (page) => {
            const seen = await page.evaluate(() => {
              const digits = document.querySelector("[data-figure=clearance]") as HTMLElement;
              const pen = document.createElement("canvas").getContext("2d") as CanvasRenderingContext2D;
              const { fontWeight, fontSize, fontFamily } = getComputedStyle(digits);
              pen.font = `${fontWeight} ${fontSize} ${fontFamily}`;
              const room = digits.closest("main")?.getBoundingClientRect().right ?? 0;
              return {
                high: pen.measureText("0").actualBoundingBoxAscent,
                over: digits.getBoundingClientRect().right - room,
              };
            });
            expect(seen.high).toBeGreaterThanOrEqual(96);
            expect(seen.over).toBeLessThanOrEqual(0);
          },
          [1280, 720],
          { figure, unit },
        );
      }
    },
  );

  test("controls of the walk are at least 64 px high and say their keys", async () => {
    await withScene("open", async (page) => {
      for (const [name, key] of [
        ["Take", "Space"],
        ["Strike", "Backspace"],
        ["Back", "←"],
        ["Hold", "H"],
      ] as const) {
        const button = page.getByRole("button", { name: `${name} ${key}`, exact: true });
        expect((await button.boundingBox())?.height).toBeGreaterThanOrEqual(64);
      }
    });
  });

  test("keys take, strike, go back and hold, whatever has been clicked before", async () => {
    await withScene("open", async (page) => {
      await page.keyboard.press("Space");
      await page.keyboard.press("Backspace");
      await page.keyboard.press("ArrowLeft");
      await page.keyboard.press("h");
      await page.getByRole("button", { name: "Strike Backspace" }).click();
      await page.keyboard.press("Space");
      expect(await actions(page)).toEqual([
        { type: "take" },
        { type: "strike" },
        { type: "back" },
        { type: "hold", on: true },
        { type: "strike" },
        { type: "take" },
      ]);
    });
  });

  test("a control takes another key, such as a foot switch's, and a gauge's digits are refused", async () => {
    await withScene("open", async (page) => {
      await page.getByRole("button", { name: "Keys, tones" }).click();
      await page.getByRole("button", { name: "Key of Take: Space" }).click();
      await page.keyboard.press("Minus");
      await page.getByText("choose another").waitFor();
      await page.keyboard.press("PageDown");
      // Nobody works at a bench here.
      await page.keyboard.press("PageDown");
      expect(await actions(page)).toEqual([]);
      await page
        .getByRole("navigation")
        .getByRole("button", { name: /^Bores/ })
        .click();
      await page.keyboard.press("PageDown");
      expect(await actions(page)).toEqual([{ type: "take" }]);
      expect(await page.getByRole("button", { name: "Take Page down" }).count()).toBe(1);
    });
  });

  test("every tone can be tried with its light, each and all can be turned off, and the loudness is that of the setting", async () => {
    await withScene("open", async (page) => {
      await page.evaluate(() => {
        const loud: number[] = [];
        Object.assign(window, { loud });
        const ramp = AudioParam.prototype.linearRampToValueAtTime;
        AudioParam.prototype.linearRampToValueAtTime = function (value, when) {
          if (value > 0) loud.push(value);
          return ramp.call(this, value, when);
        };
      });
      const heard = () => page.evaluate(() => (window as unknown as { loud: number[] }).loud.splice(0));
      await page.getByRole("button", { name: "Keys, tones" }).click();
      for (const [tone, word] of Object.entries(LIGHT_WORDS)) {
        await page.getByRole("button", { name: `Try ${word}`, exact: true }).click();
        await page.waitForSelector(`[data-tone="${tone}"]`);
      }
      await heard();
      await page.getByRole("slider", { name: "Loudness" }).fill("20");
      await page.getByRole("button", { name: "Try hold", exact: true }).click();
      expect(await heard()).toEqual([expect.closeTo(0.2 * (SCORES.hold[0]?.loud ?? 0), 5)]);
      await page.getByRole("checkbox", { name: /^hold:/ }).uncheck();
      await page.getByRole("button", { name: "Try hold", exact: true }).click();
      await page.waitForSelector('[data-tone="hold"]');
      await page.getByRole("checkbox", { name: "Sound" }).uncheck();
      await page.getByRole("button", { name: "Try next bore", exact: true }).click();
      await page.waitForSelector('[data-tone="bore"]');
      expect(await heard()).toEqual([]);
    });
  });

  test("a pedal on a serial line is learnt by stepping on it and then works", async () => {
    await withScene("open", async (page) => {
      const tell = (line?: string) =>
        page.evaluate((event) => (window as unknown as { receive: (event: unknown) => void }).receive(event), {
          type: "switch",
          link: "open",
          path: "/dev/pedal",
          ...(line === undefined ? {} : { line }),
        });
      await tell();
      await page.getByRole("button", { name: "Keys, tones" }).click();
      await page.getByRole("button", { name: "Pedal of Hold: none" }).click();
      await tell("P4");
      await page.getByRole("button", { name: "Pedal of Hold: P4" }).waitFor();
      await tell("P4");
      expect(await actions(page)).toEqual([]);
      await page
        .getByRole("navigation")
        .getByRole("button", { name: /^Bores/ })
        .click();
      await tell("P1");
      await tell("P4");
      expect(await actions(page)).toEqual([{ type: "hold", on: true }]);
      expect(await page.getByRole("button", { name: "Hold H or pedal" }).count()).toBe(1);
    });
  });

  test("settings go out as a file and come back; a bad one says what is wrong and changes nothing", async () => {
    await withScene("open", async (page) => {
      await page.getByRole("button", { name: "Keys, tones" }).click();
      await page.getByRole("radio", { name: "Millimetres" }).check();
      const waiting = page.waitForEvent("download");
      await page.getByRole("button", { name: "Keep as a file" }).click();
      const path = await (await waiting).path();
      await page.getByRole("button", { name: "As in the beginning" }).click();
      expect(await page.getByRole("radio", { name: "Inches" }).isChecked()).toBe(true);
      await page.getByLabel("Settings file").setInputFiles(path);
      await page.getByText("are in force").waitFor();
      expect(await page.getByRole("radio", { name: "Millimetres" }).isChecked()).toBe(true);
      const bad = JSON.stringify({ format: "borewright/settings", version: 1, theme: "light", unit: "furlongs" });
      await page
        .getByLabel("Settings file")
        .setInputFiles({ name: "bad.json", mimeType: "application/json", buffer: Buffer.from(bad) });
      const said = page.getByText("Nothing was changed");
      await said.waitFor();
      expect(await said.textContent()).toContain('unit: found "furlongs"');
      expect(await page.getByRole("radio", { name: "Millimetres" }).isChecked()).toBe(true);
    });
  });

  test("a sweep that closes the station and opens the next bore lights up once each, in that order, without its tick", async () => {
    await withScene("open", async (page) => {
      const lit = await page.evaluate(async () => {
        const { receive } = window as unknown as { receive: (event: unknown) => void };
        await new Promise((done) => setTimeout(done, 800));
        const seen: string[] = [];
        const watch = new MutationObserver(() => {
          const tone = document.querySelector("[data-tone]")?.getAttribute("data-tone");
          if (tone && seen.at(-1) !== tone) seen.push(tone);
        });
        watch.observe(document.querySelector("main") as Element, { subtree: true, attributes: true, childList: true });
        const sweep = { tMs: 1, rawMinNm: 0, turningPointNm: 0, samples: 7, method: "rhythm", use: "kept" };
        const place = { height: "upper", clock: "axial" };
        for (const outcome of [
          { type: "sweep", t: 1, step: "bores", sweep },
          {
            type: "station",
            t: 1,
            bore: "8E",
            place,
            valueNm: 0,
            spreadNm: 0,
            sweeps: [],
            clearanceNm: 40_000,
            again: false,
          },
          { type: "opened", t: 1, bore: "8I", place, newBore: true },
        ]) {
          receive({ type: "outcome", outcome });
        }
        await new Promise((done) => setTimeout(done, 1500));
        watch.disconnect();
        return seen;
      });
      expect(lit).toEqual(["kept", "bore"]);
    });
  });

  test("a return check asked for in the walk is shown by the walk", async () => {
    await withScene("open", async (page) => {
      await page.evaluate(() => {
        const { receive, view } = window as unknown as { receive: (event: unknown) => void; view: () => object };
        receive({ type: "view", view: { ...view(), step: "return", returnDue: true } });
      });
      await page.getByRole("heading", { name: /^Return check/ }).waitFor();
    });
  });

  test("a bore is gone to from the plan, by click and by arrow keys", async () => {
    await withScene("open", async (page) => {
      await page.getByRole("button", { name: /^Cylinder 8, exhaust/ }).click();
      await page.keyboard.press("ArrowDown");
      await page.keyboard.press("Enter");
      expect(await actions(page)).toEqual([
        { type: "go", bore: "8E" },
        { type: "go", bore: "8I" },
      ]);
    });
  });

  test("flipping turns the picture and never the names", async () => {
    await withScene("open", async (page) => {
      const place = async () => (await page.locator('[data-bore="1E"]').boundingBox()) ?? { x: 0, y: 0 };
      const names = () => page.locator("[data-bore]").allTextContents();
      const [before, namesBefore] = [await place(), await names()];
      await page.getByRole("button", { name: "See it from the rear" }).click();
      const [after, namesAfter] = [await place(), await names()];
      expect(after.y).toBeLessThan(before.y - 100);
      expect(after.x).toBeLessThan(before.x - 50);
      expect(namesAfter).toEqual(namesBefore);
    });
  });

  test("a station is pending, not kept, until its record is on disk", async () => {
    await withScene("pending", async (page) => {
      const state = page.getByRole("status").first();
      expect(await state.textContent()).toContain("Pending");
      await page.evaluate(() =>
        (window as unknown as { receive: (event: HostEvent) => void }).receive({
          type: "saved",
          pending: 0,
          trouble: null,
        }),
      );
      await page.waitForFunction(() => document.querySelector('[role="status"]')?.textContent?.includes("Kept"));
    });
  });

  test("live readings draw the trace and do not draw the page again", async () => {
    await withScene("open", async (page) => {
      const changes = await page.evaluate(async () => {
        const { receive } = window as unknown as { receive: (event: HostEvent) => void };
        const canvas = document.querySelector("main canvas") as HTMLCanvasElement;
        await new Promise((done) => setTimeout(done, 2500));
        const before = canvas.toDataURL();
        let seen = 0;
        const watch = new MutationObserver((records) => {
          seen += records.filter((one) => !(one.target as Element).closest?.(".uplot")).length;
        });
        watch.observe(document.querySelector("main") as Element, {
          subtree: true,
          childList: true,
          attributes: true,
          characterData: true,
        });
        for (let k = 0; k < 60; k += 1) {
          const valueNm = (36_000 + 800 * k) as never;
          receive({ type: "readings", readings: [{ gauge: "bore", tMs: 1e9 + k * 20, valueNm, line: "" }] });
          await new Promise(requestAnimationFrame);
        }
        watch.disconnect();
        return { seen, redrawn: canvas.toDataURL() !== before };
      });
      expect(changes).toEqual({ seen: 0, redrawn: true });
    });
  });
});

describe("findings", () => {
  test("a bore chosen on the plan, the chart or the table is the one explained", async () => {
    await withScene(
      "complete",
      async (page) => {
        const heading = page.locator("#bore-heading");
        expect(await heading.textContent()).toContain("too loose");
        await page.getByRole("button", { name: "4E", exact: true }).click();
        expect(await heading.textContent()).toBe("Cylinder 4, exhaust: undecided");
        expect(await page.getByText("What would decide it:").count()).toBe(1);
      },
      [1280, 720],
      { place: "Findings" },
    );
  });

  test("a table is written through the host and kept by the browser under its name", async () => {
    await withScene(
      "complete",
      async (page) => {
        const waiting = page.waitForEvent("download");
        await page.getByRole("button", { name: "Stations (CSV)" }).click();
        const file = await waiting;
        expect(file.suggestedFilename()).toBe("block.stations.csv");
        const stream = await file.createReadStream();
        let text = "";
        for await (const part of stream) text += String(part);
        expect(text).toBe("bore,height\r\n1I,upper\r\n");
      },
      [1280, 720],
      { place: "Findings" },
    );
  });
});

describe("recheck", () => {
  test("says where it differs and that the seal is broken", async () => {
    await withScene(
      "differs",
      async (page) => {
        await page.getByRole("button", { name: "Recheck now" }).click();
        await page.getByText("It differs in one place").waitFor();
        expect(await page.getByRole("main").textContent()).toContain("broken at line 118");
        expect(await page.getByRole("main").textContent()).toContain("3E upper axial");
      },
      [1280, 720],
      { place: "Recheck" },
    );
  });
});

/** Boxes at this place that hold more than they show. */
function cutOff(): string[] {
  return [...document.querySelectorAll<HTMLElement>("main, main *")]
    .filter((one) => /auto|scroll|hidden/.test(getComputedStyle(one).overflow) && !one.closest(".unseen"))
    .filter((one) => one.clientWidth > 1)
    .filter((one) => one.scrollHeight > one.clientHeight + 1 || one.scrollWidth > one.clientWidth + 1)
    .map((one) => `${one.tagName} ${one.className}`);
}

/** Loudness of a tone in steps of 10 ms, its largest sample and the pitch in the middle of its first note. */
interface Heard {
  readonly steps: number[];
  readonly peak: number;
  readonly hz: number;
}

describe("tones, rendered by the browser's own audio", () => {
  const heard = new Map<ToneName, Heard>();
  beforeAll(async () => {
    await withScene("nosession", async (page) => {
      for (const tone of TONES) {
        const first = SCORES[tone][0] as Note;
        heard.set(
          tone,
          await page.evaluate(
            async ({ tone, middleS }) => {
              const { playScore } = window as unknown as {
                playScore: (context: BaseAudioContext, tone: string, when: number, volume: number) => void;
              };
              const rate = 24_000;
              const context = new OfflineAudioContext(1, rate * 2, rate);
              playScore(context, tone, 0, 0.5);
              const samples = (await context.startRendering()).getChannelData(0);
              const steps: number[] = [];
              const width = rate / 100;
              for (let at = 0; at < samples.length; at += width) {
                steps.push(Math.sqrt(samples.slice(at, at + width).reduce((sum, v) => sum + v * v, 0) / width));
              }
              const from = Math.round((middleS - 0.02) * rate);
              const piece = samples.slice(from, from + Math.round(0.04 * rate));
              let crossings = 0;
              for (let k = 1; k < piece.length; k += 1) {
                if ((piece[k - 1] as number) < 0 && (piece[k] as number) >= 0) crossings += 1;
              }
              return { steps, peak: Math.max(...samples.map(Math.abs)), hz: crossings / 0.04 };
            },
            { tone, middleS: (first.atMs + first.lengthMs / 2) / 1000 },
          ),
        );
      }
    });
  });

  test.each(TONES)("%s sounds in its notes, is silent between them, and never clips", (tone) => {
    const { steps, peak } = heard.get(tone) as Heard;
    expect(peak).toBeGreaterThan(0.1);
    expect(peak).toBeLessThanOrEqual(0.5);
    for (const [index, loudness] of steps.entries()) {
      const [from, to] = [index * 10, index * 10 + 10];
      const sounding = SCORES[tone].some((note) => from >= note.atMs + 15 && to <= note.atMs + note.lengthMs - 15);
      const silent = SCORES[tone].every((note) => to <= note.atMs || from >= note.atMs + note.lengthMs);
      if (sounding) expect(loudness).toBeGreaterThan(0.03);
      if (silent) expect(loudness).toBeLessThan(0.001);
    }
  });

  test.each(TONES)("%s has the pitch that was written", (tone) => {
    const first = SCORES[tone][0] as Note;
    const middle = Math.sqrt(first.hz * first.toHz);
    expect(Math.abs((heard.get(tone) as Heard).hz - middle)).toBeLessThan(Math.max(26, middle * 0.06));
  });

  test("no two are alike even to one who hears only when it sounds and when not", () => {
    const pattern = (tone: ToneName) => (heard.get(tone) as Heard).steps.map((loudness) => (loudness > 0.02 ? 1 : 0));
    for (const [index, one] of TONES.entries()) {
      for (const other of TONES.slice(index + 1)) {
        const [a, b] = [pattern(one), pattern(other)];
        const either = a.filter((on, k) => on === 1 || b[k] === 1).length;
        const both = a.filter((on, k) => on === 1 && b[k] === 1).length;
        expect(both / either, `${one} against ${other}`).toBeLessThan(0.7);
      }
    }
  });
});
