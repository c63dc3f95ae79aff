import { afterEach, expect, test, vi } from "vitest";
import type { Nm } from "../../core/length/nm.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { speakOutcomes } from "../../renderer/sound/speech.ts";

afterEach(() => vi.unstubAllGlobals());

/** A machine with one voice, which a new word cuts off: what was heard to its end. */
function machineWithVoice() {
  const queue: string[] = [];
  vi.stubGlobal("window", {
    speechSynthesis: {
      getVoices: () => [{ localService: true, lang: "en" }],
      cancel: () => queue.splice(0),
      speak: ({ words }: { words: string }) => queue.push(words),
    },
  });
  vi.stubGlobal(
    "SpeechSynthesisUtterance",
    class {
      voice = null;
      readonly words: string;
      constructor(words: string) {
        this.words = words;
      }
    },
  );
  return queue;
}

const station = (bore: string): Outcome => ({
  type: "station",
  t: 1,
  bore,
  place: { height: "upper", clock: "axial" },
  valueNm: 0 as Nm,
  spreadNm: 0 as Nm,
  sweeps: [],
  clearanceNm: 40_640 as Nm,
  again: false,
});

test("all that came together is said, not only the last of it", () => {
  const queue = machineWithVoice();
  speakOutcomes(
    [station("5I"), { type: "complete", t: 2 }, { type: "step", t: 2, step: "return" } as Outcome],
    "tenths",
  );
  expect(queue.join(" ")).toBe("5 intake, upper, 16 tenths. Return check.");
});

test("what says nothing does not cut off what is being said", () => {
  const queue = machineWithVoice();
  speakOutcomes([station("5I")], "tenths");
  speakOutcomes([{ type: "complete", t: 2 }], "tenths");
  expect(queue.join(" ")).toBe("5 intake, upper, 16 tenths.");
});
