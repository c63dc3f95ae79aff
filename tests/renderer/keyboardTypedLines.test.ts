import { describe, expect, test } from "vitest";
import { TypedLines, WAIT_MS } from "../../renderer/keyboard/typedLines.ts";

/** Types keys `everyMs` apart; returns the lines heard, what reached the page, and what is still held. */
function type(keys: readonly string[], everyMs: number, lines = new TypedLines(), fromMs = 1000) {
  const heard: (string | null)[] = [];
  let page = "";
  let tMs = fromMs;
  for (const key of keys) {
    const answer = lines.hear({ key, tMs, modified: false });
    if (answer.do === "line") heard.push(answer.line);
    else {
      page += answer.replay;
      if (answer.do === "pass") page += key.length === 1 ? key : `[${key}]`;
    }
    tMs += everyMs;
  }
  return { heard, page, lines, tMs };
}

const cable = (text: string) => [...text, "Enter"];

describe("a keyboard-type cable", () => {
  test.each(["+0.00155", "-0.00005", "0,0012", "0.84205in", "25.4 mm", "12.345"])(
    "its line %s reaches the gauge and not the page",
    (text) => {
      const { heard, page } = type(cable(text), 8);
      expect(heard).toEqual([text]);
      expect(page).toBe("");
    },
  );

  test("types plus as Shift and a key on some keyboards", () => {
    const { heard } = type(["Shift", "+", "0", "Shift", ".", "1", "Enter"], 5);
    expect(heard).toEqual(["+0.1"]);
  });

  test("sends one line after another", () => {
    const first = type(cable("+0.00155"), 8);
    const second = type(cable("+0.00155"), 8, first.lines, first.tMs + 900);
    expect([...first.heard, ...second.heard]).toEqual(["+0.00155", "+0.00155"]);
  });

  test("sending everything twice counts once, and the second does not reach the page either", () => {
    const first = type(cable("+0.00155"), 8);
    const second = type(cable("+0.00155"), 8, first.lines, first.tMs + 20);
    expect(second.heard).toEqual([null]);
    expect(second.page).toBe("");
  });

  test("that falters keeps its sign, and what reached the page is to be taken back", () => {
    const sign = type(["-"], 8);
    const late = sign.tMs + 200;
    expect(sign.lines.lapse(late)).toBe("-");
    let last: unknown;
    for (const [index, key] of cable("0.00155").entries()) {
      last = sign.lines.hear({ key, tMs: late + 8 * index, modified: false });
    }
    expect(last).toEqual({ do: "line", line: "-0.00155", takeBack: "-" });
  });

  test("does not take over what a person typed before: another key, or a second, lies between", () => {
    const person = type(["2", "0"], 140);
    person.lines.hear({ key: "Tab", tMs: person.tMs, modified: false });
    expect(type(cable("0.00155"), 8, person.lines, person.tMs + 20).heard).toEqual(["0.00155"]);
    const waited = type(["2", "0"], 140);
    expect(type(cable("0.00155"), 8, waited.lines, waited.tMs + 1000).heard).toEqual(["0.00155"]);
  });

  test("two different lines close together both count", () => {
    const first = type(cable("+0.00155"), 8);
    const second = type(cable("+0.00160"), 8, first.lines, first.tMs + 20);
    expect(second.heard).toEqual(["+0.00160"]);
  });
});

describe("a person at the keyboard", () => {
  test("a number typed at a human pace reaches the page whole", () => {
    const { heard, page, lines } = type(cable("20.5"), 140);
    expect(heard).toEqual([]);
    expect(page + lines.release()).toBe("20.5[Enter]");
  });

  test("two digits rolled over quickly reach the page after a moment", () => {
    const { lines, tMs, page } = type(["1", "2"], 30);
    expect(page).toBe("");
    expect(lines.lapse(tMs - 30 + WAIT_MS)).toBe("12");
  });

  test("nothing is given back while more may come", () => {
    const { lines, tMs } = type(["1"], 10);
    expect(lines.lapse(tMs)).toBe("");
  });

  test("a digit and a quick Return are no reading", () => {
    const { heard, page } = type(["7", "Enter"], 20);
    expect(heard).toEqual([]);
    expect(page).toBe("7[Enter]");
  });

  test("letters, Space, arrows and Return alone go through at once", () => {
    const { heard, page } = type(["h", " ", "ArrowLeft", "Enter"], 5);
    expect(heard).toEqual([]);
    expect(page).toBe("h [ArrowLeft][Enter]");
  });

  test("a key with Ctrl ends a guess and passes", () => {
    const lines = new TypedLines();
    lines.hear({ key: "1", tMs: 0, modified: false });
    expect(lines.hear({ key: "2", tMs: 10, modified: true })).toEqual({ do: "pass", replay: "1" });
  });

  test("a key held down for long is no endless line", () => {
    const { heard, page, lines } = type([...Array<string>(200).fill("1"), "Enter"], 30);
    expect(page.length + lines.release().length).toBeGreaterThan(100);
    expect(heard.every((line) => (line?.length ?? 0) <= 60)).toBe(true);
  });
});
