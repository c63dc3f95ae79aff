import AxeBuilder from "@axe-core/playwright";
import { type Browser, chromium, type Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { TOPICS } from "../../renderer/help/helpDesk.ts";
import { PLACE_WORDS } from "../../renderer/help/placeWords.ts";
import { PLACES } from "../../renderer/store/place.ts";
import { findBrowser } from "../browser.mjs";
import { type ServedPage, servePage } from "../renderer/windowPage/servePage.ts";

/** WCAG 2.2 AA asks for less; the bench asks for 44 px. */
const TARGET_PX = 44;

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** Too little, typical and too much, at each place. */
const SCENES = ["first", "typical", "much"];

describe("the window in a browser, on a stand-in host", () => {
  let served: ServedPage;
  let browser: Browser;
  let page: Page;
  const complaints: string[] = [];

  beforeAll(async () => {
    served = await servePage();
    const executablePath = findBrowser();
    browser = await chromium.launch(executablePath === null ? {} : { executablePath });
    // Axe opens a page of its own to finish, which only a context made here allows.
    const context = await browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: "reduce" });
    page = await context.newPage();
    page.on("pageerror", (error) => complaints.push(error.message));
    page.on("console", (message) => {
      if (message.type() === "error") complaints.push(message.text());
    });
  });
  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });

  const show = async (scene: string, place: string, theme = "light") => {
    complaints.length = 0;
    await page.goto(`${served.address}?scene=${scene}&place=${place}&theme=${theme}`);
    await page.waitForSelector("html[data-ready]");
    await page.waitForSelector("main h1");
  };

  describe.each(SCENES)("with %s data", (scene) => {
    test.each(PLACES)("%s obeys the content policy and the accessibility rules, light and dark", async (place) => {
      for (const theme of ["light", "dark"]) {
        await show(scene, place, theme);
        const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
        expect(violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(" ")}`)).toEqual([]);
        expect(complaints).toEqual([]);
      }
    });

    test.each(PLACES)(
      "%s has targets of 44 px and fits the window, also when zoomed to twice the size",
      async (place) => {
        await show(scene, place);
        expect(await page.evaluate(smallTargets, TARGET_PX)).toEqual([]);
        expect(await page.evaluate(sideways)).toBe(0);
        await page.setViewportSize({ width: 640, height: 360 });
        expect(await page.evaluate(sideways)).toBe(0);
        await page.setViewportSize({ width: 1280, height: 720 });
      },
    );
  });

  test.each([
    ["learning", null],
    ["which port", null],
    ["silent gauge", "Set it by hand"],
    ["alike adapters", null],
    ["traffic", "Raw traffic"],
  ])("Gauges with %s obeys the accessibility rules, has targets of 44 px and fits", async (scene, opened) => {
    for (const theme of ["light", "dark"]) {
      await show(scene, "Gauges", theme);
      if (opened === "Raw traffic") await page.getByRole("tab", { name: opened }).click();
      else if (opened !== null) await page.getByText(opened).click();
      const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
      expect(violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(" ")}`)).toEqual([]);
      expect(await page.evaluate(smallTargets, TARGET_PX)).toEqual([]);
      expect(await page.evaluate(sideways)).toBe(0);
      expect(complaints).toEqual([]);
    }
  });

  test.each([
    ["second", "Start"],
    ["unreachable", "Start"],
    ["zeroing", "Zero"],
    ["stepping", "Zero"],
    ["lost", "Gauges"],
    ["lost", "Bores"],
    ["simulated", "Bores"],
    ["finished", "Bores"],
    ["finished", "Findings"],
    ["felt", "Findings"],
    ["bare", "Findings"],
    ["sixteen", "Findings"],
    ["single", "Findings"],
    ["finished", "Recheck"],
    ["finished", "Handover"],
    ["simulated", "Handover"],
    ["study begun", "Study"],
    ["studying", "Study"],
    ["studied", "Study"],
  ])(
    "%s at %s obeys the accessibility rules in every colouring and fits from twice the zoom to 4K",
    async (scene, place) => {
      try {
        for (const [theme, forcedColors] of [
          ["light", "none"],
          ["dark", "none"],
          ["light", "active"],
        ] as const) {
          await page.emulateMedia({ forcedColors });
          await show(scene, place, theme);
          expect(await breaches(), `${theme}, forced colours ${forcedColors}`).toEqual([]);
          expect(complaints).toEqual([]);
        }
        for (const [width, height] of [
          [640, 360],
          [3840, 2160],
        ] as const) {
          await page.setViewportSize({ width, height });
          expect(await page.evaluate(sideways), `${width} px`).toBe(0);
        }
      } finally {
        await page.emulateMedia({ forcedColors: "none" });
        await page.setViewportSize({ width: 1280, height: 720 });
      }
    },
  );

  describe("readings typed by a person", () => {
    test.each([
      ["typed lifters", "Lifters"],
      ["typed zero", "Zero"],
      ["typed bores", "Bores"],
    ])("%s: the line obeys the accessibility rules and is large enough for the bench", async (scene, place) => {
      for (const theme of ["light", "dark"]) {
        await show(scene, place, theme);
        const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
        expect(violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(" ")}`)).toEqual([]);
        expect(await page.evaluate(smallTargets, TARGET_PX)).toEqual([]);
        expect(await page.evaluate(sideways)).toBe(0);
        expect((await page.locator("[data-entry-line]").boundingBox())?.height).toBeGreaterThanOrEqual(64);
        expect(complaints).toEqual([]);
      }
    });

    test("digits begin the line from wherever the focus is, Enter keeps, an empty line takes back", async () => {
      await show("typed bores", "Bores");
      const line = page.locator("[data-entry-line]");
      const lastTyped = () =>
        page.evaluate(() =>
          (window as unknown as { host: { calls: { method: string; input: unknown }[] } }).host.calls
            .filter(({ method }) => method === "session.typeByHand" || method === "session.act")
            .at(-1),
        );
      await page.keyboard.type("-0.0018");
      expect(await line.inputValue()).toBe("-0.0018");
      await page.getByText("means −0.00180 in").waitFor();
      await page.keyboard.press("Home");
      await page.keyboard.press("Delete");
      await page.keyboard.press("Enter");
      await page.getByText("Taken: +0.00180 in").waitFor();
      expect(await lastTyped()).toEqual({
        method: "session.typeByHand",
        input: { gauge: "dial", text: "0.0018", unit: "in" },
      });
      expect(await line.inputValue()).toBe("");
      // Nothing can be asked of a dial: Take leads to the line.
      await page.locator("#place-title").focus();
      await page.getByRole("button", { name: /^Take/ }).click();
      expect(await line.evaluate((one) => one === document.activeElement)).toBe(true);
      await page
        .getByRole("button", { name: /^Gauges/ })
        .getByText("typed", { exact: true })
        .waitFor();
      // A slip stays in the line, with the reason.
      await page.keyboard.type("0.18");
      await page.keyboard.press("Enter");
      await page.getByText(/no bore of this block can be/).waitFor();
      expect(await line.inputValue()).toBe("0.18");
      await page.keyboard.press("Backspace");
      expect(await line.inputValue()).toBe("");
      await page.keyboard.press("Backspace");
      await page.waitForFunction(
        () =>
          (window as unknown as { host: { calls: { method: string }[] } }).host.calls.at(-1)?.method === "session.act",
      );
      expect(await lastTyped()).toEqual({ method: "session.act", input: { action: { type: "strike" } } });
    });
  });

  const breaches = async () => {
    const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
    return violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(" ")}`);
  };

  test("while the host cannot be reached, every place says so and obeys the accessibility rules", async () => {
    await show("unreachable", "Start");
    for (const place of PLACES) {
      await page.getByRole("navigation").getByRole("button", { name: place }).click();
      expect(await page.getByRole("alert").first().textContent(), place).toContain("can not be reached");
      expect(await breaches(), place).toEqual([]);
    }
  });

  test("a place without a session says what will happen in it, and leads to one", async () => {
    for (const place of PLACES.filter((one) => !/Start|Job|Gauges|Study|Settings/.test(one))) {
      await show("first", place);
      const main = page.getByRole("main");
      expect(await main.textContent()).toContain(PLACE_WORDS[place]);
      await main.getByRole("button", { name: "New job" }).click();
      expect(await page.title()).toContain("Job");
    }
  });

  describe("the help", () => {
    const help = () => page.getByRole("complementary", { name: "Help" });

    test.each(["light", "dark"])(
      "obeys the accessibility rules in every part, also at twice the size, %s",
      async (theme) => {
        await show("first", "Start", theme);
        await page.keyboard.press("F1");
        for (const { text } of TOPICS) {
          await help().getByRole("tab", { name: text }).click();
          expect(await breaches(), text).toEqual([]);
          expect(await page.evaluate(smallTargets, TARGET_PX), text).toEqual([]);
          await page.setViewportSize({ width: 640, height: 360 });
          expect(await page.evaluate(sideways), text).toBe(0);
          await page.setViewportSize({ width: 1280, height: 720 });
        }
      },
    );

    test("is opened by F1 at every place, takes the focus, and gives it back", async () => {
      await show("typical", "Start");
      for (const place of PLACES) {
        const button = page.getByRole("navigation").getByRole("button", { name: place });
        await button.focus();
        await page.keyboard.press("Enter");
        await button.focus();
        await page.keyboard.press("F1");
        expect(await page.evaluate(() => document.activeElement?.id), place).toBe("help-title");
        await page.keyboard.press("Escape");
        expect(await help().count(), place).toBe(0);
        expect(await page.evaluate(() => document.activeElement?.textContent), place).toContain(place);
      }
    });

    test("every notice on the screen leads to its entry, by keyboard", async () => {
      await show("much", "Findings");
      const links = page.getByRole("main").getByRole("button", { name: /^Help: / });
      const count = await links.count();
      expect(count).toBeGreaterThan(1);
      for (let index = 0; index < count; index += 1) {
        const link = links.nth(index);
        const title = ((await link.getAttribute("aria-label")) ?? "").replace("Help: ", "");
        await link.focus();
        await page.keyboard.press("Enter");
        await help().getByRole("button", { name: title, expanded: true }).waitFor();
        expect(await page.evaluate(() => document.activeElement?.textContent)).toContain(title);
        expect(await help().getByRole("heading", { name: "What to do" }).count()).toBe(1);
        await page.keyboard.press("Escape");
        expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toBe(`Help: ${title}`);
      }
    });

    test("stops no gauge: what a cable types while it is read goes to the gauge", async () => {
      await show("typical", "Lifters");
      await page.keyboard.press("F1");
      await page.keyboard.type("0.84205\n");
      await page.waitForFunction(() =>
        (window as unknown as { host: { calls: { method: string }[] } }).host.calls.some(
          (call) => call.method === "session.type",
        ),
      );
      expect(await help().count()).toBe(1);
    });
  });

  test("in forced colours a drawing takes the person's own, and every place obeys the accessibility rules", async () => {
    await page.emulateMedia({ forcedColors: "active" });
    try {
      await show("much", "Bores");
      const ink = await page.evaluate(() => {
        const probe = document.body.appendChild(document.createElement("i"));
        probe.style.color = "CanvasText";
        const wanted = getComputedStyle(probe).color;
        probe.remove();
        const lines = [...document.querySelectorAll<SVGElement>("main svg path, main svg circle")];
        return { wanted, found: new Set(lines.map((line) => getComputedStyle(line).stroke)).has(wanted) };
      });
      expect(ink.found, ink.wanted).toBe(true);
      for (const place of PLACES) {
        await page.getByRole("navigation").getByRole("button", { name: place }).click();
        expect(await breaches(), place).toEqual([]);
      }
    } finally {
      await page.emulateMedia({ forcedColors: "none" });
    }
  });

  test("a half-width is typed digit by digit, with a point or a comma, and reaches the job", async () => {
    await show("first", "Job");
    await page.getByText("Materials, decision rule", { exact: false }).click();
    const field = page.getByLabel("Thermometer's largest error");
    for (const typed of ["0.25", "0,25"]) {
      await field.fill("");
      await field.pressSequentially(typed);
      expect(await field.inputValue()).toBe(typed);
      await page.waitForFunction(() => {
        type Call = { method: string; input: { job?: { budget?: { thermometerHalfWidthC?: unknown } } } };
        const { calls } = (window as unknown as { host: { calls: Call[] } }).host;
        return (
          calls.findLast(({ method }) => method === "job.check")?.input.job?.budget?.thermometerHalfWidthC === 0.25
        );
      });
    }
    await field.fill("warm");
    await page.waitForFunction(() => document.querySelector('[aria-invalid="true"]') !== null);
    expect(await page.getByRole("button", { name: "Begin" }).isDisabled()).toBe(true);
  });

  test("every place is reached by keyboard, and its heading takes the focus", async () => {
    await show("typical", "Start");
    for (const place of PLACES.slice(1)) {
      await page.getByRole("navigation").getByRole("button", { name: place }).focus();
      await page.keyboard.press("Enter");
      expect(await page.title()).toContain(place);
      expect(await page.evaluate(() => document.activeElement?.tagName)).toBe("H1");
    }
  });

  test("going to another place and back keeps the job being written", async () => {
    await show("first", "Job");
    await page.getByLabel("Name of the job").fill("Before the regrind");
    const places = page.getByRole("navigation");
    await places.getByRole("button", { name: "Gauges" }).click();
    await places.getByRole("button", { name: "Job" }).click();
    expect(await page.getByLabel("Name of the job").inputValue()).toBe("Before the regrind");
  });

  test.each(["Lifters", "Zero", "Findings", "Start"])(
    "a kept lifter sounds at %s, and where hands work a light goes with it",
    async (place) => {
      await page.addInitScript(() => {
        const begun: number[] = [];
        Object.assign(window, { begun });
        const begin = OscillatorNode.prototype.start;
        OscillatorNode.prototype.start = function (when) {
          begun.push(when ?? 0);
          return begin.call(this, when);
        };
      });
      await show("typical", place);
      // A page may not sound before someone has touched it.
      await page.mouse.click(5, 5);
      await page.waitForTimeout(100);
      await page.evaluate(() => {
        const { receive } = window as unknown as { receive: (event: unknown) => void };
        receive({
          type: "outcome",
          outcome: { type: "lifter", t: 1, name: "3I", diameterNm: 21_386_800, readings: 1 },
        });
      });
      const lit = page.locator("[data-tone]");
      if (place === "Lifters" || place === "Zero") await lit.first().waitFor();
      await page.waitForTimeout(300);
      expect(await lit.count()).toBe(place === "Lifters" || place === "Zero" ? 1 : 0);
      expect(await page.evaluate(() => (window as unknown as { begun: number[] }).begun.length)).toBeGreaterThan(0);
    },
  );

  test("saving is a word only when a record waits, and NOT SAVED is said at once", async () => {
    await show("typical", "Lifters");
    const tell = (pending: number, pendingMs: number, trouble: string | null = null) =>
      page.evaluate((event) => (window as unknown as { receive: (event: unknown) => void }).receive(event), {
        type: "saved",
        pending,
        pendingMs,
        trouble,
      });
    const strip = page.getByRole("region", { name: "Live readings" });
    // A stream: something is always pending, nothing for long.
    for (let count = 0; count < 12; count += 1) {
      await tell(1, 8);
      await page.waitForTimeout(60);
      expect(await strip.textContent()).toContain("All saved");
    }
    await tell(4, 620);
    await strip.getByText("Saving 4").waitFor();
    await tell(0, 0);
    await strip.getByText("All saved").waitFor();
    // A disk that hangs tells nothing more.
    await tell(2, 0);
    await strip.getByText("Saving 2").waitFor();
    await tell(2, 0, "The disk is full.");
    await strip.getByText("NOT SAVED").waitFor();
  });

  test("a limit without its unit is refused at its field, and Begin waits", async () => {
    await show("first", "Job");
    const low = page.getByLabel("Smallest clearance");
    await low.fill("0.0013");
    await page.waitForFunction(() => document.querySelector('[aria-invalid="true"]') !== null);
    expect(await low.getAttribute("aria-invalid")).toBe("true");
    const said = await page.locator(`#${errorId(await low.getAttribute("aria-describedby"))}`).textContent();
    expect(said).toContain("unit");
    expect(await page.getByRole("button", { name: "Begin" }).isDisabled()).toBe(true);
    await low.fill("0.0013 in");
    await page.waitForFunction(() => document.querySelector('[aria-invalid="true"]') === null);
    expect(await page.getByRole("button", { name: "Begin" }).isDisabled()).toBe(false);
  });

  describe("a keyboard-type cable", () => {
    const typed = () =>
      page.evaluate(() =>
        (window as unknown as { host: { calls: { method: string; input: unknown }[] } }).host.calls
          .filter((call) => call.method === "session.type")
          .map((call) => call.input),
      );

    test("reaches its gauge from a text field, which stays empty", async () => {
      await show("typical", "Zero");
      const field = page.getByLabel("Block, °C");
      await field.focus();
      await page.keyboard.type("+0.00155\n");
      expect(await typed()).toEqual([{ gauge: "bore", line: "+0.00155" }]);
      await page.waitForTimeout(120);
      expect(await field.inputValue()).toBe("");
    });

    test("that falters after the sign loses neither the sign nor leaves it in the field", async () => {
      await show("typical", "Zero");
      const field = page.getByLabel("Block, °C");
      await field.focus();
      await page.keyboard.type("-");
      await page.waitForTimeout(150);
      expect(await field.inputValue()).toBe("-");
      await page.keyboard.type("0.00155\n");
      expect(await typed()).toEqual([{ gauge: "bore", line: "-0.00155" }]);
      expect(await field.inputValue()).toBe("");
    });

    test("does not press the button that has the focus", async () => {
      await show("typical", "Lifters");
      await page.getByRole("button", { name: "On to the zero" }).focus();
      await page.keyboard.type("0.84205\n");
      expect(await typed()).toEqual([{ gauge: "mic", line: "0.84205" }]);
      expect(await page.title()).toContain("Lifters");
    });

    test("leaves a person's typing in the field, in order", async () => {
      await show("typical", "Zero");
      const field = page.getByLabel("Block, °C");
      await field.focus();
      await page.keyboard.type("20.5", { delay: 130 });
      await page.waitForTimeout(150);
      expect(await field.inputValue()).toBe("20.5");
      expect(await typed()).toEqual([]);
      await page.keyboard.press("Home");
      await page.keyboard.type("1");
      await page.waitForTimeout(150);
      expect(await field.inputValue()).toBe("120.5");
    });

    test("is an ordinary keyboard at the desk", async () => {
      await show("typical", "Job");
      const field = page.getByLabel("Name of the job");
      await field.focus();
      await page.keyboard.type("12345");
      expect(await field.inputValue()).toBe("12345");
      expect(await typed()).toEqual([]);
    });
  });

  test("trouble with saving is loud and says what to do", async () => {
    await show("much", "Bores");
    const alert = page.getByRole("alert").first();
    expect(await alert.textContent()).toContain("NOT SAVED");
    expect(await alert.textContent()).toContain("leave the program open");
    // Not even the help hides it.
    await page.keyboard.press("F1");
    await page.getByRole("button", { name: "Close the help" }).waitFor();
    for (const width of [1280, 640]) {
      await page.setViewportSize({ width, height: 720 });
      const seen = await alert.evaluate((one) => {
        const { right, top, height } = one.getBoundingClientRect();
        return one.contains(document.elementFromPoint(right - 8, top + height / 2));
      });
      expect(seen, `${width} px`).toBe(true);
    }
    await page.getByRole("button", { name: "Close the help" }).click();
    await page.setViewportSize({ width: 1280, height: 720 });
  });

  test("an unreachable host is said in words, and nothing offers to act", async () => {
    await show("unreachable", "Start");
    expect(await page.getByRole("alert").textContent()).toContain("can not be reached");
    expect(await page.getByRole("button", { name: "Try it with simulated gauges" }).isDisabled()).toBe(true);
  });
});

/** An id for a selector: React's ids hold characters that a selector must escape. */
function errorId(ids: string | null): string {
  const id = (ids ?? "").split(" ").find((one) => one.endsWith("-error")) ?? "";
  return id.replace(/[^a-zA-Z0-9_-]/g, (character) => `\\${character}`);
}

/** Controls on the page that are smaller than `px` in either direction; a box or a radio counts with its label. */
function smallTargets(px: number): string[] {
  const controls = document.querySelectorAll<HTMLElement>("button, select, summary, a[href], input, [role=button]");
  return [...controls]
    .filter((one) => !one.closest(".unseen") && one.tabIndex >= 0 && getComputedStyle(one).visibility !== "hidden")
    .map((one) => {
      const label = one instanceof HTMLInputElement && /radio|checkbox/.test(one.type) ? one.closest("label") : null;
      return { one, box: (label ?? one).getBoundingClientRect() };
    })
    .filter(({ box }) => box.width > 0 && box.bottom > 0 && (box.width < px - 0.5 || box.height < px - 0.5))
    .map(({ one, box }) => `${one.outerHTML.slice(0, 90)} ${Math.round(box.width)}×${Math.round(box.height)}`);
}

/** How far the page would have to be scrolled sideways, px. */
function sideways(): number {
  return Math.max(0, document.documentElement.scrollWidth - document.documentElement.clientWidth);
}
