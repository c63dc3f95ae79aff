import { describe, expect, it } from "vitest";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { type CutterEvent, StreamCutter } from "../../core/sweep/streamCutter.ts";
import type { Sample } from "../../core/sweep/sweep.ts";

/** Height of these rockings over square, nm, and the time from end to end. Steps of 1 µm: the hysteresis is 3 µm. */
const TOP = 60_000;
const SWING_MS = 600;
const FAR = 300_000;

type Point = readonly [tMs: number, nm: number];

/** Readings on straight lines from point to point, the last point left out unless it is a whole interval on. */
function along(points: readonly Point[], everyMs = 20): Sample[] {
  const samples: Sample[] = [];
  const [firstMs] = points[0] as Point;
  const [lastMs] = points.at(-1) as Point;
  for (let t = firstMs; t <= lastMs; t += everyMs) {
    const at = Math.max(
      0,
      points.findLastIndex(([tMs]) => tMs <= t),
    );
    const [fromMs, from] = points[at] as Point;
    const [toMs, to] = points[Math.min(at + 1, points.length - 1)] as Point;
    samples.push({
      tMs: t,
      valueNm: toNm(toMs > fromMs ? from + ((to - from) * (t - fromMs)) / (toMs - fromMs) : from),
    });
  }
  return samples;
}

/** The corners of a rocking that begins at an end of its swing, `half` swings long. */
function zigzag(halves: number, fromMs = 0): Point[] {
  return Array.from({ length: halves + 1 }, (_, i) => [fromMs + (i * SWING_MS) / 2, i % 2 === 0 ? TOP : 0]);
}

function cutter(farNm: number | null = FAR): StreamCutter {
  const made = new StreamCutter({ resolutionNm: toNm(1000) });
  made.setFar(farNm as Nm | null);
  return made;
}

/** Events in short: a pass by its end and the times of its first and last reading, anything else by its time. */
function heard(events: readonly CutterEvent[]): string[] {
  return events.map((event) =>
    event.type === "pass"
      ? `${event.pass.end} ${event.pass.samples[0]?.tMs} to ${event.pass.samples.at(-1)?.tMs}`
      : `${event.type} at ${event.tMs}`,
  );
}

function play(samples: readonly Sample[], by: StreamCutter = cutter()): string[] {
  return heard(samples.flatMap((sample) => by.push(sample)));
}

/** One reading every `everyMs`, as listed, from `fromMs` on. */
function listed(values: readonly number[], everyMs = 100, fromMs = 0): Sample[] {
  return values.map((nm, i) => ({ tMs: fromMs + i * everyMs, valueNm: toNm(nm) }));
}

const three = ["turned 0 to 580", "turned 600 to 1180", "turned 1200 to 1780"];

describe("where a pass begins and ends", () => {
  it("is at the maxima, each belonging to the pass that it begins", () => {
    expect(play(along(zigzag(7)))).toEqual(three);
    expect(play(along([[0, 0], ...zigzag(7, 300)]))).toEqual(
      three.map((text) => text.replace(/\d+/g, (t) => `${+t + 300}`)),
    );
  });

  it("needs a fall and a rise of the hysteresis, which is included", () => {
    expect(play(listed([0, -3000, 0, -3000, 0, -3000]))).toEqual(["turned 0 to 100", "turned 200 to 300"]);
    expect(play(listed([0, -2999, 0, -2999, 0, -2999]))).toEqual([]);
    expect(play(listed([-3000, 0, -3000, 0, -3000]))).toEqual(["turned 100 to 200"]);
    expect(play(listed([-2999, 0, -2999, 0, -2999]))).toEqual([]);
    // A fall or a rise that falls short of it does not cut.
    expect(play(listed([9000, 0, 2999, 0, 9000, 0]))).toEqual(["turned 0 to 300"]);
    expect(play(listed([9000, 0, 9000, 6001, 9000, 0]))).toEqual(["turned 0 to 300"]);
    expect(play(listed([9000, 0, 9000, 6000, 9000, 0]))).toEqual(["turned 0 to 100", "turned 200 to 300"]);
  });

  it("takes the last of equal maxima and the first of equal minima", () => {
    const samples = listed([9000, 9000, 0, 0, 9000, 9000, 0, 9000, 0]);
    expect(play(samples)).toEqual(["turned 100 to 400", "turned 500 to 600"]);
    const by = cutter();
    for (const sample of samples.slice(0, 5)) by.push(sample);
    expect(by.silenceDueMs()).toBe(200 + 1200);
  });

  it("leaves out the rest before the first fall, but for half the hysteresis", () => {
    const rested: Point[] = [[-400, TOP], ...zigzag(3)];
    expect(play(along(rested))).toEqual(["turned 0 to 580"]);
    expect(play(listed([9000, 7500, 7500, 0, 9000, 0]))).toEqual(["turned 200 to 300"]);
    expect(play(listed([9000, 7499, 7499, 0, 9000, 0]))).toEqual(["turned 0 to 300"]);
  });

  it("leaves out what follows the last rise, but for half the hysteresis", () => {
    const rests = [...listed([9000, 0, 7499, 7500, 9000, 9000]), ...listed([9000], 100, 1300)];
    expect(play(rests)).toEqual(["stopped 0 to 300", "stopped at 1300"]);
  });

  it("does not cut at a ripple on a large sweep: the hysteresis is 15 % of its lower side", () => {
    const ripple = (by: number) => play(listed([TOP, 0, TOP, 30_000, 30_000 + by, 0, TOP, 0], 100));
    expect(ripple(8999)).toEqual(["turned 0 to 100", "turned 200 to 500"]);
    expect(ripple(9000)).toEqual(["turned 0 to 100", "turned 200 to 300", "turned 400 to 500"]);
  });

  it("takes a reading stamped earlier than the one before at that one's time", () => {
    const by = cutter();
    for (const sample of along(zigzag(4))) by.push(sample);
    by.push({ tMs: 0, valueNm: toNm(TOP) });
    expect(by.silenceDueMs()).toBe(900 + 1200);
    // A jump down within one instant is one: no time has passed in which to rock there.
    expect(heard(by.push({ tMs: 0, valueNm: toNm(TOP - 30_001) }))).toEqual([
      "contact-lost 600 to 0",
      "contact-lost at 1200",
    ]);
  });
});

describe("when the rocking has stopped", () => {
  it("is 1.2 s after the last turning point, by silence and by a reading", () => {
    const by = cutter();
    play(along(zigzag(5)), by);
    // The last turning point that was seen is the maximum at 1200; the last reading is the minimum at 1500.
    expect(by.silenceDueMs()).toBe(2400);
    expect(by.silence(2399)).toEqual([]);
    expect(heard(by.silence(2400))).toEqual(["stopped at 2400"]);
    const other = cutter();
    play(along(zigzag(5)), other);
    expect(heard(other.push({ tMs: toNm(2399), valueNm: toNm(0) }))).toEqual([]);
    expect(heard(other.push({ tMs: toNm(2405), valueNm: toNm(0) }))).toEqual(["stopped at 2400"]);
  });

  it("closes a sweep that had risen, and not one on its way down", () => {
    expect(
      play([
        ...along(zigzag(4)),
        ...along([
          [1220, TOP],
          [2200, TOP],
        ]),
      ]),
    ).toEqual(["turned 0 to 580", "stopped 600 to 1180", "stopped at 2100"]);
    expect(
      play([
        ...along(zigzag(5)),
        ...along([
          [1520, 0],
          [2600, 0],
        ]),
      ]),
    ).toEqual(["turned 0 to 580", "turned 600 to 1180", "stopped at 2400"]);
  });

  it("forgets a fall that no rise followed, so that no pass has a rest in it", () => {
    const fell = along([
      [0, TOP],
      [300, 0],
      [3000, 0],
      [3300, TOP],
      [3600, 0],
      [3900, TOP],
      [4200, 0],
    ]);
    expect(play(fell)).toEqual(["turned 3300 to 3880"]);
    const rose = along([
      [0, 0],
      [300, TOP],
      [3000, TOP],
      [3300, 0],
      [3600, TOP],
      [3900, 0],
    ]);
    expect(play(rose)).toEqual(["turned 3000 to 3580"]);
  });

  it("counts no turn before the rocking: nothing is due then", () => {
    const by = cutter();
    expect(by.silenceDueMs()).toBeNull();
    play(
      along([
        [0, TOP],
        [300, 0],
      ]),
      by,
    );
    expect(by.silenceDueMs()).toBeNull();
    play(
      along([
        [320, 4000],
        [380, 16_000],
      ]),
      by,
    );
    expect(by.silenceDueMs()).toBe(300 + 1200);
  });

  it("lets a small rocking follow a large one", () => {
    const small = (fromMs: number) => listed([0, 5000, 0, 5000, 0], 200, fromMs);
    expect(play([...along(zigzag(7)), ...small(3400)])).toEqual([...three, "stopped at 3000", "turned 3600 to 3800"]);
  });
});

describe("a hole in the stream", () => {
  const with_ = (holeMs: number, everyMs: number) => {
    const halves = along(zigzag(12), everyMs);
    return halves.map((sample) => (sample.tMs > 1800 ? { ...sample, tMs: sample.tMs + holeMs - everyMs } : sample));
  };
  it("of more than half a second breaks off the pass, of less it does not", () => {
    expect(play(with_(500, 20)).length).toBe(5);
    expect(play(with_(501, 20)).length).toBe(4);
  });

  it("of no more than four intervals is none in a slow stream", () => {
    const slow = (holeMs: number) => {
      const values = Array.from({ length: 24 }, (_, i) => (i % 4 === 0 ? TOP : i % 4 === 2 ? 0 : TOP / 2));
      return listed(values, 150).map((s) => (s.tMs > 1350 ? { ...s, tMs: s.tMs + holeMs - 150 } : s));
    };
    expect(play(slow(600)).filter((text) => text.startsWith("turned 1200"))).toEqual(["turned 1200 to 2100"]);
    expect(play(slow(601)).filter((text) => text.startsWith("turned 1200"))).toEqual([]);
  });

  it("is measured against the intervals of late, in which a stream may settle to another rate", () => {
    const quick = along(zigzag(6), 20);
    const values = Array.from({ length: 60 }, (_, i) => (i % 4 === 0 ? TOP : i % 4 === 2 ? 0 : TOP / 2));
    const then = listed(values, 150, 1950);
    const last = then.at(-1) as Sample;
    const following = listed([30_000, 0, 30_000, TOP, 30_000, 0], 150, last.tMs + 590);
    const by = cutter();
    const events = play([...quick, ...then, ...following], by);
    // 590 ms is a hole for a stream of 20 ms, and none for one of 150 ms.
    expect(events.filter((text) => text.startsWith("turned")).length).toBe(2 + 14 + 2);
  });
});

describe("the way out, with a known range", () => {
  const rocked = along(zigzag(7));
  const following = (points: readonly Point[]) => play([...rocked, ...along(points)]).slice(3);

  it("is more than 1 mm beyond the range at once, however slowly it was reached", () => {
    // A millisecond a reading and 1 µm each: nothing jumps, and 1 mm is passed before 0.7 s are over.
    const slowly = (to: number) => {
      const by = cutter();
      play(rocked, by);
      const rise = along(
        [
          [2101, 2000],
          [2101 + to / 2000 - 1, to],
        ],
        1,
      );
      return play(rise, by);
    };
    expect(slowly(FAR + 1_000_000)).toEqual([]);
    expect(slowly(FAR + 1_002_000)).toEqual(["withdrawn 1800 to 2248", "withdrawn at 2751"]);
  });

  it("is anything beyond the range for 0.7 s, and not what swings above it for less", () => {
    const above = (untilMs: number): Point[] => [
      [2120, 4000],
      [2320, FAR],
      [2340, FAR + 10],
      [untilMs, FAR + 10],
    ];
    expect(following(above(3020))).toEqual([]);
    expect(following(above(3040))).toEqual(["withdrawn 1800 to 2320", "withdrawn at 3040"]);
    // Exactly at the range is inside it.
    expect(following([...above(2340).slice(0, 2), [3280, FAR]])).toEqual([]);
    // Back for one reading, and the time begins anew.
    expect(following([...above(2780), [2800, FAR], [2820, FAR + 10], [3280, FAR + 10]])).toEqual([]);
  });

  it("is a jump beyond the range, also after waiting whether it was one", () => {
    expect(
      following([
        [2120, FAR + 1],
        [2140, FAR + 1],
      ]),
    ).toEqual(["withdrawn at 2120"]);
    expect(
      following([
        [2120, 100_000],
        [2140, FAR + 1],
      ]),
    ).toEqual(["withdrawn at 2140"]);
    expect(
      following([
        [2120, FAR + 1],
        [2140, FAR - 1],
        [2160, FAR - 1],
      ]),
    ).toEqual(["withdrawn at 2120", "entered at 2140"]);
  });

  it("closes the sweep that had risen by the hysteresis inside the range, up to there", () => {
    const out = (top: number) =>
      following([
        [2120, 4000],
        [2140, 4400],
        [2160, top],
        [2180, 2_000_000],
        [2200, 2_000_000],
      ]);
    expect(out(8999)).toEqual(["withdrawn at 2180"]);
    expect(out(9000)).toEqual(["withdrawn 1800 to 2160", "withdrawn at 2180"]);
  });

  it("leads into the air, from which a reading at the range or below is back", () => {
    const by = cutter();
    play(
      along([
        [0, 2_000_000],
        [100, 2_000_000],
      ]),
      by,
    );
    expect(by.take(110)).toEqual([]);
    expect(play(listed([FAR + 1], 20, 120), by)).toEqual([]);
    expect(play(listed([FAR], 20, 140), by)).toEqual(["entered at 140"]);
    // The first reading inside is the first of the new stream.
    expect(play(listed([0, FAR, 0, FAR, 0], 200, 340), by)).toEqual(["turned 140 to 340", "turned 540 to 740"]);
  });

  it("makes the next rocking as small and as brisk as it likes", () => {
    const air = along([
      [2120, 2_000_000],
      [2200, 2_000_000],
    ]);
    const small = listed([50_000, 55_000, 50_000, 55_000, 50_000], 200, 2400);
    expect(play([...rocked, ...air, ...small]).slice(3)).toEqual([
      "withdrawn at 2120",
      "entered at 2400",
      "turned 2600 to 2800",
    ]);
    // 3.9 µm a millisecond, where the sweeps before went at 0.2.
    const brisk = listed([0, 78_000, 156_000, 78_000, 0, 78_000, 156_000, 78_000, 0], 20, 2400);
    expect(play([...rocked, ...air, ...brisk]).slice(3)).toEqual([
      "withdrawn at 2120",
      "entered at 2400",
      "turned 2440 to 2500",
    ]);
  });
});

describe("the way out, without a known range", () => {
  const rocked = along(zigzag(7));
  const following = (samples: readonly Sample[]) => play([...rocked, ...samples], cutter(null)).slice(3);

  it("is a jump of more than any rocking goes, 0.6 mm", () => {
    expect(following(listed([600_001], 20, 2120))).toEqual(["withdrawn at 2120"]);
    expect(following(listed([600_000, 600_000], 20, 2120))).toEqual([]);
  });

  it("is a jump that goes on beyond that, or a slow way of more than 1 mm", () => {
    expect(following(listed([500_000, 600_000], 20, 2120))).toEqual([]);
    expect(following(listed([500_000, 600_001], 20, 2120))).toEqual(["withdrawn at 2140"]);
    const slowly = (to: number) =>
      following(
        along(
          [
            [2101, 2000],
            [2101 + to / 2000 - 1, to],
          ],
          1,
        ),
      ).at(-1);
    expect(slowly(1_000_000)).toBeUndefined();
    expect(slowly(1_002_000)).toBe("withdrawn at 2601");
  });

  it("ends 0.3 mm below the highest reading in the air", () => {
    const by = cutter(null);
    play([...rocked, ...listed([900_000, 950_000, 940_000], 20, 2120)], by);
    expect(play(listed([650_001], 20, 2200), by)).toEqual([]);
    expect(play(listed([650_000], 20, 2220), by)).toEqual(["entered at 2220"]);
  });

  it("is over once the range becomes known, by the range alone", () => {
    const by = cutter(null);
    play([...rocked, ...listed([900_000], 20, 2120)], by);
    by.setFar(toNm(700_000));
    expect(play(listed([700_001, 700_000], 20, 2140), by)).toEqual(["entered at 2160"]);
    by.setFar(null);
    expect(play(listed([700_000, 800_000, 900_000, 1_000_000], 200, 2180), by)).toEqual([]);
  });
});

describe("contact lost", () => {
  const rocked = along(zigzag(7));
  const following = (samples: readonly Sample[]) => play([...rocked, ...samples]).slice(3);
  /** After three sweeps 0.06 mm high in 0.6 s, 20 ms on: 30 µm and one and a half of the steepest. */
  const limit = Math.floor(30_000 + (1.5 * TOP * Math.PI * 20) / SWING_MS);

  it("is a jump upwards that comes back, within the range; the pass it broke is lost, and the rest goes on", () => {
    const jump = (by: number) => following(listed([by, by - 1, 4000], 20, 2120));
    expect(jump(limit)).toEqual(["turned 1800 to 2100"]);
    expect(jump(limit + 1)).toEqual(["contact-lost 1800 to 2100", "contact-lost at 2140"]);
  });

  it("is any jump downwards, at once", () => {
    expect(following(listed([-limit], 20, 2120))).toEqual([]);
    expect(following(listed([-limit - 1], 20, 2120))).toEqual(["contact-lost 1800 to 2100", "contact-lost at 2120"]);
  });

  it("waits 0.4 s to see whether a jump upwards was the way out, and no longer", () => {
    const held = (ms: number) =>
      following(
        along([
          [2120, 150_000],
          [2120 + ms, 150_000],
        ]),
      );
    expect(held(400)).toEqual([]);
    expect(held(420)).toEqual(["contact-lost 1800 to 2100", "contact-lost at 2540"]);
  });

  it("within a second of the last is the same one", () => {
    // Up and down by 0.15 mm every 300 ms: four jumps, the fourth more than a second after the one that was told.
    const jumps = (secondMs: number) =>
      following([
        ...listed([-150_000], 20, 2120),
        ...along([
          [2140, -150_000],
          [2240, -130_000],
          [2340, -150_000],
          [2440, -130_000],
          [2540, -150_000],
          [2640, -130_000],
          [2740, -150_000],
          [2840, -130_000],
          [2940, -150_000],
          [3040, -130_000],
          [3100, -142_000],
        ]),
        ...listed([-400_000], 20, secondMs),
      ]).filter((text) => text.startsWith("contact-lost at"));
    expect(jumps(3120)).toEqual(["contact-lost at 2120"]);
    expect(jumps(3121)).toEqual(["contact-lost at 2120", "contact-lost at 3121"]);
  });

  it("is none before the rocking: the gauge was set down somewhere else", () => {
    expect(play(listed([0, 200_000, 0, -200_000], 20))).toEqual([]);
    expect(play([...listed([0, 0, 0], 20), ...along(zigzag(7, 60))])).toEqual(
      three.map((text) => text.replace(/\d+/g, (t) => `${+t + 60}`)),
    );
  });

  it("allows half more after an alarm, so that who rocks harder is not set aside for ever", () => {
    const again = (by: number) =>
      following([
        ...listed([-limit - 1], 20, 2120),
        ...along([
          [2140, -limit],
          [3200, -limit + 1],
        ]),
        ...listed([-limit - by], 20, 3220),
      ]);
    const wider = Math.floor(30_000 + (1.5 * 1.5 * TOP * Math.PI * 20) / SWING_MS);
    expect(again(wider - 10).filter((text) => text.startsWith("contact-lost at")).length).toBe(1);
  });
});

describe("a display that stands still", () => {
  it("for 0.3 s and four readings, then goes on elsewhere, has a hole and no lost contact", () => {
    const stuck = (readings: number, everyMs: number, to: number) => {
      const rocked = along(zigzag(7));
      const still = listed(Array(readings - 1).fill(0), everyMs, 2100 + everyMs);
      const then = listed([to], 20, (still.at(-1) as Sample).tMs + 20);
      return play([...rocked, ...still, ...then]).slice(3);
    };
    const far = 150_000;
    expect(stuck(15, 20, -far)).toEqual([]);
    expect(stuck(14, 20, -far).length).toBe(2);
    expect(stuck(4, 100, -far)).toEqual([]);
    expect(stuck(3, 140, -far).length).toBe(2);
    // From the hole on nothing is left of the pass.
    const by = cutter();
    play([...along(zigzag(7)), ...listed(Array(20).fill(0), 20, 2120), ...listed([9001], 20, 2520)], by);
    expect(heard(by.take(2530))).toEqual(["taken 2520 to 2520"]);
    const on = cutter();
    play([...along(zigzag(7)), ...listed(Array(20).fill(0), 20, 2120), ...listed([9000], 20, 2520)], on);
    expect(heard(on.take(2530))).toEqual(["taken 1800 to 2520"]);
  });

  it("is frozen after 3 s of one value if it ought to move, once for each such run", () => {
    const by = cutter();
    by.expectMotion(true);
    const events = play(
      [
        ...along(zigzag(7)),
        ...along([
          [2120, 0],
          [9000, 0],
        ]),
      ],
      by,
    ).slice(3);
    expect(events).toEqual(["stopped at 3000", "frozen at 5100"]);
    expect(
      play(
        along([
          [9020, 1000],
          [12_000, 1000],
        ]),
        by,
      ),
    ).toEqual([]);
    expect(
      play(
        along([
          [12_020, 1000],
          [15_000, 1000],
        ]),
        by,
      ),
    ).toEqual(["frozen at 12020"]);
    by.expectMotion(false);
    expect(
      play(
        along([
          [15_020, 0],
          [19_000, 0],
        ]),
        by,
      ),
    ).toEqual([]);
  });

  it("is no longer judged by the place before, once the gauge has been out", () => {
    const by = cutter();
    by.expectMotion(true);
    play([...along(zigzag(7)), ...listed([2_000_000], 20, 2120)], by);
    expect(
      play(
        along([
          [2140, 2_000_000],
          [6000, 2_000_000],
        ]),
        by,
      ),
    ).toEqual([]);
    expect(
      play(
        along([
          [6020, 0],
          [12_000, 0],
        ]),
        by,
      ),
    ).toEqual(["entered at 6020"]);
  });

  it("is frozen, whoever watches, if it broke off a movement that no hand stops at once", () => {
    // 200 nm a millisecond through the swing, where the steepest of these sweeps is 314.
    const broke = (perReading: number) => {
      const down = Array.from({ length: 5 }, (_, i) => 30_000 - perReading * (i + 1));
      const rocked = [...along([...zigzag(6), [1950, 30_000]]), ...listed(down, 20, 1970)];
      const still = along([
        [2070, down.at(-1) as number],
        [6000, down.at(-1) as number],
      ]);
      return play([...rocked, ...still]).filter((text) => text.startsWith("frozen"));
    };
    expect(broke(3769)).toEqual([]);
    expect(broke(3771)).toEqual(["frozen at 5050"]);
  });
});

describe("a sweep taken by hand", () => {
  it("without rocking is of the last second", () => {
    const by = cutter();
    play(
      along([
        [0, 0],
        [3000, 0],
      ]),
      by,
    );
    expect(heard(by.take(3000))).toEqual(["taken 2000 to 3000"]);
    expect(heard(by.take(3000))).toEqual([]);
  });

  it("in a swing is all since the maximum, and the next begins at the next maximum", () => {
    const by = cutter();
    play(along(zigzag(3)), by);
    expect(heard(by.take(910))).toEqual(["taken 600 to 900"]);
    expect(by.silenceDueMs()).toBe(2110);
    expect(
      play(
        along([
          [920, 4000],
          [1200, TOP],
          [1500, 0],
          [1800, TOP],
          [2100, 0],
        ]),
        by,
      ),
    ).toEqual(["turned 1200 to 1780"]);
  });

  it("counts as a sweep here: a display that stands still after it is frozen", () => {
    const by = cutter();
    by.expectMotion(true);
    play(
      along([
        [0, 0],
        [500, 1000],
      ]),
      by,
    );
    by.take(510);
    expect(
      play(
        along([
          [520, 1000],
          [5000, 1000],
        ]),
        by,
      ),
    ).toEqual(["stopped at 1710", "frozen at 3500"]);
  });

  it("comes after what was due: the rocking had stopped", () => {
    const by = cutter();
    play(along(zigzag(4)), by);
    expect(heard(by.take(2200))).toEqual(["stopped 600 to 1180", "stopped at 2100"]);
  });
});

describe("a stream that creeps, idles, or whose clock stands still", () => {
  it("falls or rises by the hysteresis within a second, or not at all", () => {
    const creep = (perReading: number) => {
      const by = cutter();
      play(
        listed(
          Array.from({ length: 100 }, (_, i) => perReading * i),
          100,
        ),
        by,
      );
      return heard(by.take(9900));
    };
    // In `seek` a sweep taken is of the last second; in a fall it is all since the beginning of it.
    expect(creep(-299)).toEqual(["taken 8900 to 9900"]);
    expect(creep(299)).toEqual(["taken 8900 to 9900"]);
    expect(creep(-300)).not.toEqual(["taken 8900 to 9900"]);
    expect(creep(300)).not.toEqual(["taken 8900 to 9900"]);
  });

  it("is cut rightly after a long rest, in which old readings were forgotten", () => {
    for (const restMs of [900, 1500, 2600, 5000, 20_000]) {
      const wobbling = along([
        [0, TOP],
        [restMs, TOP],
      ]).map((s, i) => ({ ...s, valueNm: toNm(s.valueNm + 900 * ((i * 7) % 3)) }));
      const rocking = along(zigzag(7, restMs + 20));
      expect(play([...wobbling, ...rocking]), `${restMs}`).toEqual(
        three.map((text) => text.replace(/\d+/g, (t) => `${+t + restMs + 20}`)),
      );
    }
  });

  it("fills no memory: after twenty thousand readings without a turn it begins anew", () => {
    const by = cutter();
    play(listed([TOP, 0], 100), by);
    for (let i = 0; i < 19_998; i += 1) by.push({ tMs: 100, valueNm: toNm(i % 2) });
    expect(by.take(100).map((event) => (event.type === "pass" ? event.pass.samples.length : 0))).toEqual([20_000]);
    const full = cutter();
    play(listed([TOP, 0], 100), full);
    for (let i = 0; i < 19_999; i += 1) full.push({ tMs: 100, valueNm: toNm(i % 2) });
    expect(full.take(100).map((event) => (event.type === "pass" ? event.pass.samples.length : 0))).toEqual([1]);
  });
});

describe("a pulled cable", () => {
  it("drops the pass, the time of the last turn, and the reading that the next would be compared with", () => {
    const by = cutter();
    play(along(zigzag(7)), by);
    by.interrupt();
    expect(by.silenceDueMs()).toBeNull();
    expect(by.silence(60_000)).toEqual([]);
    // A first reading far off is no jump, and its rocking is cut from its first maximum on.
    expect(play(listed([250_000, 200_000, 250_000, 200_000], 100, 2120), by)).toEqual(["turned 2120 to 2220"]);
  });
});
