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

/** What a new cutter says of these readings, wherever the gauge's zero lies. */
function fresh(samples: readonly Sample[], farNm: number | null = FAR): string[] {
  const plainly = play(samples, cutter(farNm));
  for (const by of [-170_000, 4_100_000]) {
    const moved = samples.map((sample) => ({ ...sample, valueNm: toNm(sample.valueNm + by) }));
    expect(play(moved, cutter(farNm === null ? null : farNm + by))).toEqual(plainly);
  }
  return plainly;
}

function play(samples: readonly Sample[], by: StreamCutter): string[] {
  return heard(samples.flatMap((sample) => by.push(sample)));
}

/** One reading every `everyMs`, as listed, from `fromMs` on. */
function listed(values: readonly number[], everyMs = 100, fromMs = 0): Sample[] {
  return values.map((nm, i) => ({ tMs: fromMs + i * everyMs, valueNm: toNm(nm) }));
}

const three = ["turned 0 to 580", "turned 600 to 1180", "turned 1200 to 1780"];

describe("where a pass begins and ends", () => {
  it("is at the maxima, each belonging to the pass that it begins", () => {
    expect(fresh(along(zigzag(7)))).toEqual(three);
    expect(fresh(along([[0, 0], ...zigzag(7, 300)]))).toEqual(
      three.map((text) => text.replace(/\d+/g, (t) => `${+t + 300}`)),
    );
  });

  it("needs a fall and a rise of the hysteresis, which is included", () => {
    expect(fresh(listed([0, -3000, 0, -3000, 0, -3000]))).toEqual(["turned 0 to 100", "turned 200 to 300"]);
    expect(fresh(listed([0, -2999, 0, -2999, 0, -2999]))).toEqual([]);
    expect(fresh(listed([-3000, 0, -3000, 0, -3000]))).toEqual(["turned 100 to 200"]);
    expect(fresh(listed([-2999, 0, -2999, 0, -2999]))).toEqual([]);
    // A fall or a rise that falls short of it does not cut.
    expect(fresh(listed([9000, 0, 2999, 0, 9000, 0]))).toEqual(["turned 0 to 300"]);
    expect(fresh(listed([9000, 0, 9000, 6001, 9000, 0]))).toEqual(["turned 0 to 300"]);
    expect(fresh(listed([9000, 0, 9000, 6000, 9000, 0]))).toEqual(["turned 0 to 100", "turned 200 to 300"]);
  });

  it("takes the last of equal maxima and the first of equal minima", () => {
    const samples = listed([9000, 9000, 0, 0, 9000, 9000, 0, 9000, 0]);
    expect(fresh(samples)).toEqual(["turned 100 to 400", "turned 500 to 600"]);
    const by = cutter();
    for (const sample of samples.slice(0, 5)) by.push(sample);
    expect(by.silenceDueMs()).toBe(200 + 1200);
  });

  it("leaves out the rest before the first fall, but for half the hysteresis", () => {
    const rested: Point[] = [[-400, TOP], ...zigzag(3)];
    expect(fresh(along(rested))).toEqual(["turned 0 to 580"]);
    expect(fresh(listed([9000, 7500, 7500, 0, 9000, 0]))).toEqual(["turned 200 to 300"]);
    expect(fresh(listed([9000, 7499, 7499, 0, 9000, 0]))).toEqual(["turned 0 to 300"]);
  });

  it("leaves out what follows the last rise, but for half the hysteresis", () => {
    const rests = [...listed([9000, 0, 7499, 7500, 9000, 9000]), ...listed([9000], 100, 1300)];
    expect(fresh(rests)).toEqual(["stopped 0 to 300", "stopped at 1300"]);
  });

  it("does not cut at a ripple on a large sweep: the hysteresis is 15 % of its lower side", () => {
    const ripple = (by: number) => fresh(listed([TOP, 0, TOP, 30_000, 30_000 + by, 0, TOP, 0], 100));
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
      "contact-lost 600 to 1200",
      "contact-lost at 1200",
    ]);
  });

  it("keeps such a reading at that time too, so that a sweep by hand has it among its last second", () => {
    const by = cutter();
    by.push({ tMs: 5000, valueNm: toNm(TOP) });
    by.push({ tMs: 3000, valueNm: toNm(TOP - 1000) });
    const [event] = by.take(5500);
    expect(event).toMatchObject({
      type: "pass",
      pass: { samples: [{ tMs: 5000 }, { tMs: 5000, valueNm: TOP - 1000 }] },
    });
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
      fresh([
        ...along(zigzag(4)),
        ...along([
          [1220, TOP],
          [2200, TOP],
        ]),
      ]),
    ).toEqual(["turned 0 to 580", "stopped 600 to 1180", "stopped at 2100"]);
    expect(
      fresh([
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
    expect(fresh(fell)).toEqual(["turned 3300 to 3880"]);
    const rose = along([
      [0, 0],
      [300, TOP],
      [3000, TOP],
      [3300, 0],
      [3600, TOP],
      [3900, 0],
    ]);
    expect(fresh(rose)).toEqual(["turned 3000 to 3580"]);
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
    expect(fresh([...along(zigzag(7)), ...small(3400)])).toEqual([...three, "stopped at 3000", "turned 3600 to 3800"]);
  });
});

describe("a hole in the stream", () => {
  const with_ = (holeMs: number, everyMs: number) => {
    const halves = along(zigzag(12), everyMs);
    return halves.map((sample) => (sample.tMs > 1800 ? { ...sample, tMs: sample.tMs + holeMs - everyMs } : sample));
  };
  it("of more than half a second breaks off the pass, of less it does not", () => {
    expect(fresh(with_(500, 20)).length).toBe(5);
    expect(fresh(with_(501, 20)).length).toBe(4);
  });

  it("of no more than four intervals is none in a slow stream", () => {
    const slow = (holeMs: number) => {
      const values = Array.from({ length: 24 }, (_, i) => (i % 4 === 0 ? TOP : i % 4 === 2 ? 0 : TOP / 2));
      return listed(values, 150).map((s) => (s.tMs > 1350 ? { ...s, tMs: s.tMs + holeMs - 150 } : s));
    };
    expect(fresh(slow(600)).filter((text) => text.startsWith("turned 1200"))).toEqual(["turned 1200 to 2100"]);
    expect(fresh(slow(601)).filter((text) => text.startsWith("turned 1200"))).toEqual([]);
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
  const following = (points: readonly Point[]) => fresh([...rocked, ...along(points)]).slice(3);

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
    expect(fresh([...rocked, ...air, ...small]).slice(3)).toEqual([
      "withdrawn at 2120",
      "entered at 2400",
      "turned 2600 to 2800",
    ]);
    // 3.9 µm a millisecond, where the sweeps before went at 0.2.
    const brisk = listed([0, 78_000, 156_000, 78_000, 0, 78_000, 156_000, 78_000, 0], 20, 2400);
    expect(fresh([...rocked, ...air, ...brisk]).slice(3)).toEqual([
      "withdrawn at 2120",
      "entered at 2400",
      "turned 2440 to 2500",
    ]);
  });
});

describe("the way out, without a known range", () => {
  const rocked = along(zigzag(7));
  const following = (samples: readonly Sample[]) => fresh([...rocked, ...samples], null).slice(3);

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
  const following = (samples: readonly Sample[]) => fresh([...rocked, ...samples]).slice(3);
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
    expect(fresh(listed([0, 200_000, 0, -200_000], 20))).toEqual([]);
    expect(fresh([...listed([0, 0, 0], 20), ...along(zigzag(7, 60))])).toEqual(
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
      return fresh([...rocked, ...still, ...then]).slice(3);
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

  it("at the end of a swing that had risen is a rest: the sweep is whole and ends where its rise did", () => {
    const rested = (last: Point, to: number) => {
      const [fromMs, at] = last;
      const still = listed(Array(20).fill(at), 20, fromMs + 20);
      return fresh([...along([...zigzag(7), last]), ...still, ...listed([to], 20, fromMs + 420)]).slice(3);
    };
    // The hysteresis is 9 µm here: to come down by that is the ordinary turn, by more a display that goes on elsewhere.
    expect(rested([2400, TOP], TOP - 9000)).toEqual(["turned 1800 to 2780"]);
    expect(rested([2400, TOP], TOP - 9001)).toEqual(["stopped 1800 to 2380"]);
    // A rise of the hysteresis is one, and of less is none: what stood still may then have hidden the minimum.
    expect(rested([2160, 9000], 60_000)).toEqual(["stopped 1800 to 2140"]);
    expect(rested([2160, 8999], 60_000)).toEqual([]);
  });

  it("in a fall leaves a hole, and there is no sweep", () => {
    const rocked = [...along([...zigzag(6), [1980, 30_000]]), ...listed(Array(20).fill(30_000), 20, 2000)];
    expect(fresh([...rocked, ...listed([10_000], 20, 2400)]).slice(3)).toEqual([]);
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
      return fresh([...rocked, ...still]).filter((text) => text.startsWith("frozen"));
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
      expect(fresh([...wobbling, ...rocking]), `${restMs}`).toEqual(
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

describe("what else a rule of cutting asks for", () => {
  /** A rest that wobbles by a tenth of a micrometre, so that the display does not stand still. */
  const rest = (fromMs: number, untilMs: number, nm: number) =>
    along([
      [fromMs, 0],
      [untilMs, 0],
    ]).map((sample, i) => ({ ...sample, valueNm: toNm(nm + (i % 2) * 100) }));

  it("a rest in a fall that came before any rocking belongs to no pass", () => {
    const fell = [...listed([TOP, TOP / 2, 0], 20), ...rest(60, 3000, 0), ...along(zigzag(4, 3320), 20)];
    const up = along([
      [3020, 0],
      [3300, TOP - 1000],
    ]);
    const events = fresh([...fell.filter(({ tMs }) => tMs < 3020), ...up, ...fell.filter(({ tMs }) => tMs >= 3320)]);
    expect(events).toEqual(["turned 3320 to 3900"]);
  });

  it("the lower side of a sweep sets the hysteresis, and only a whole swing does", () => {
    // Sides of 20 and 60 µm: a ripple of 3 µm still cuts, as 15 % of 20 µm are no more.
    const sides = fresh(listed([20_000, 0, 60_000, 30_000, 33_000, 0, 60_000, 0]));
    expect(sides).toEqual(["turned 0 to 100", "turned 200 to 300", "turned 400 to 500"]);
    expect(fresh(listed([60_000, 0, 20_000, 10_000, 13_000, 0, 60_000, 0]))).toEqual([
      "turned 0 to 100",
      "turned 200 to 300",
      "turned 400 to 500",
    ]);
  });

  it("what the rocking stood above a second ago is forgotten, and the highest since then counts", () => {
    const values = Array(12).fill(-200);
    values[0] = 2700;
    values[5] = 1500;
    // 1.2 s on the first is forgotten; a fall of 3 µm from the second is one, and its pass begins there.
    const falls = (by: number) => fresh(listed([...values, 1500 - by, 1500 - by, 6000, 6000 - by, 6000 - by]));
    expect(falls(3000)).toEqual(["turned 500 to 1300"]);
    expect(falls(2999)).toEqual([]);
    // From the first it would have been one long before.
    expect(fresh(listed([2900, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, -150, 4000, 0]))).toEqual([]);
    expect(fresh(listed([2900, 0, 0, 0, 0, 0, 0, 0, -100, 4000, 0]))).toEqual(["turned 0 to 800"]);
  });

  it("what it stood below a second ago is forgotten too, and the lowest since then counts", () => {
    const by = (values: readonly number[]) => {
      const made = cutter();
      play(listed(values), made);
      return heard(made.take((values.length - 1) * 100));
    };
    const values = [-2900, 0, 0, 0, 0, -1500, 0, -1500, 0, 0, 0, 0];
    // In a rise a sweep taken by hand begins with it: at its last lowest reading.
    expect(by([...values, 1499])).toEqual(["taken 200 to 1200"]);
    expect(by([...values, 1500])).toEqual(["taken 700 to 1200"]);
    // Rest, and a rise from it: what is taken begins where the rest ended.
    expect(by([...Array(15).fill(0), 20_000])).toEqual(["taken 1400 to 1500"]);
    expect(by([...Array(15).fill(0), 2999])).toEqual(["taken 500 to 1500"]);
  });

  it("a sweep taken by hand in a swing reaches back to the maximum, though it is more than a second ago", () => {
    const by = cutter();
    play(along([[0, 0], ...zigzag(2, 300)]), by);
    play(
      along([
        [920, TOP - 2000],
        [2000, TOP - 50_000],
      ]),
      by,
    );
    expect(heard(by.take(2000))).toEqual(["taken 900 to 2000"]);
  });

  it("a jump that waits to be told from the way out does not keep the stop from closing its sweep", () => {
    const by = cutter();
    play(along(zigzag(6)), by);
    expect(play(listed([TOP, TOP - 100, TOP, TOP - 100, 210_000], 180, 1820), by)).toEqual([]);
    expect(heard(by.silence(2700))).toEqual(["stopped 1200 to 1780", "stopped at 2700"]);
  });

  it("a jump that was the way out does not keep it from closing its sweep", () => {
    const events = fresh([...along(zigzag(8)), ...listed([200_000, FAR + 1], 20, 2420)]);
    expect(events).toEqual([...three, "withdrawn 1800 to 2380", "withdrawn at 2440"]);
    // Over the range by a step that is no jump itself.
    const crept = fresh([...along(zigzag(8)), ...listed([FAR - 10_000, FAR + 1], 20, 2420)]);
    expect(crept).toEqual([...three, "withdrawn 1800 to 2380", "withdrawn at 2440"]);
  });

  it("only a jump upwards above the range is the way out", () => {
    const rise = along(
      [
        [2101, 2000],
        [2350, FAR + 200_000],
      ],
      1,
    );
    const events = fresh([...along(zigzag(7)), ...rise, ...listed([FAR + 50_000], 20, 2370)]);
    expect(events.slice(3)).toEqual(["contact-lost 1800 to 2350", "contact-lost at 2370"]);
  });

  it("the last sweep ends with its highest reading inside the range, and only one that rose there counts", () => {
    const out = (values: readonly number[], far: number) => {
      const rocked = along(zigzag(7));
      return fresh(
        [...rocked, ...listed(values, 20, 2120), ...listed([far + 2_000_000], 20, 2120 + 20 * values.length)],
        far,
      ).slice(3);
    };
    expect(out([4000, 4400, 9000, 6000, 5000], FAR)).toEqual(["withdrawn 1800 to 2160", "withdrawn at 2220"]);
    // What it rose above a range that ends at 8 µm does not count; up to 9 µm it does.
    expect(out([4000, 8000, 12_000, 16_000], 8000)).toEqual(["withdrawn at 2200"]);
    expect(out([4000, 8000, 9000, 16_000], 9000).at(-2)).toBe("withdrawn 1800 to 2140");
  });

  it("what was due before a reading comes before what that reading brings", () => {
    const by = cutter();
    play(along(zigzag(4)), by);
    expect(heard(by.push({ tMs: 2150, valueNm: toNm(2_000_000) }))).toEqual([
      "stopped 600 to 1180",
      "stopped at 2100",
      "withdrawn at 2150",
    ]);
    const other = cutter();
    play([...along(zigzag(4)), ...rest(1220, 2080, TOP)], other);
    expect(heard(other.push({ tMs: 2100, valueNm: toNm(-250_000) }))).toEqual([
      "stopped 600 to 1180",
      "stopped at 2100",
    ]);
  });

  it("contact lost where no pass had begun is told without one", () => {
    const by = cutter();
    play(along(zigzag(3)), by);
    by.take(910);
    play(listed([4000, 8000, 12_000], 20, 920), by);
    expect(play(listed([-150_000], 20, 980), by)).toEqual(["contact-lost at 980"]);
  });

  it("80 µm in 20 ms is no jump yet before two sweeps were seen, 1 nm more is", () => {
    const jump = (by: number) => fresh([...along(zigzag(2)), ...listed([TOP - by], 20, 620)]);
    expect(jump(80_000)).toEqual(["turned 0 to 580"]);
    expect(jump(80_001)).toEqual(["contact-lost 0 to 600", "contact-lost at 620"]);
  });

  it("readings that come in one instant do not make a slow stream a quick one", () => {
    const values = Array.from({ length: 24 }, (_, i) => (i % 4 === 0 ? TOP : i % 4 === 2 ? 0 : TOP / 2));
    const slow = listed(values, 150).map((s) => (s.tMs > 1350 ? { ...s, tMs: s.tMs + 450 } : s));
    const doubled = slow.flatMap((sample) => [sample, sample, sample]);
    expect(fresh(doubled).filter((text) => text.startsWith("turned 1200"))).toEqual(["turned 1200 to 2250"]);
  });

  it("a stream that has become quick has its holes measured by that", () => {
    const values = Array.from({ length: 24 }, (_, i) => (i % 4 === 0 ? TOP : i % 4 === 2 ? 0 : TOP / 2));
    const quick = along(zigzag(9, 3600));
    const last = quick.at(-1) as Sample;
    const after = along(zigzag(5, last.tMs + 590));
    const turned = fresh([...listed(values, 150), ...quick, ...after]).filter((text) => text.startsWith("turned"));
    // The top is left by half the hysteresis of these sweeps at 6910; what the hole lies in is no pass.
    expect(last.tMs + 590).toBe(6890);
    expect(turned.slice(-3)).toEqual(["turned 5400 to 5980", "turned 6910 to 7470", "turned 7490 to 8070"]);
  });
});

describe("a movement broken off, as only a display does it", () => {
  // The steepest of these sweeps is 314 nm a millisecond; six tenths of it over the last 40 ms are 7540 nm.
  const broke = (values: readonly number[], everyMs: number, halves = 6) => {
    const before = along(zigzag(halves));
    const { tMs } = before.at(-1) as Sample;
    const moving = listed(values, everyMs, tMs + everyMs);
    const stillMs = (moving.at(-1) as Sample).tMs;
    const still = listed(Array(Math.ceil(4000 / everyMs)).fill(values.at(-1)), everyMs, stillMs + everyMs);
    return fresh([...before, ...moving, ...still]).filter((text) => text.startsWith("frozen")).length;
  };

  it("is seen on the way up as on the way down", () => {
    expect(broke([TOP - 8000, TOP - 16_000, TOP - 24_000], 20)).toBe(1);
    expect(broke([8000, 16_000, 24_000], 20, 7)).toBe(1);
    expect(broke([3000, 6000, 9000, 12_000], 20, 7)).toBe(0);
  });

  it("is judged by whole intervals where the display is quick, as the last may have been caught half way", () => {
    expect(broke([TOP - 8000, TOP - 16_000, TOP - 24_000, TOP - 24_100], 20)).toBe(1);
    // At 25 ms the last interval itself counts: 100 nm and 5000 before it in 50 ms, where 9425 are asked for.
    expect(broke([TOP - 5000, TOP - 10_000, TOP - 15_000, TOP - 15_100], 25)).toBe(0);
    expect(broke([TOP - 5000, TOP - 10_000, TOP - 15_000, TOP - 19_500], 25)).toBe(1);
  });

  it("is not told from a stop within the first 40 ms after a maximum, unless the display is slower than that", () => {
    expect(broke([TOP - 9000], 30)).toBe(0);
    expect(broke([TOP - 9000], 40)).toBe(1);
    expect(broke([TOP - 18_000], 50)).toBe(1);
  });

  it("is at least four steps of the display, however slowly the gauge was rocked", () => {
    const small = (step: number) => {
      const low = along(zigzag(6)).map((sample) => ({ ...sample, valueNm: toNm(sample.valueNm / 12) }));
      const { tMs } = low.at(-1) as Sample;
      const moving = listed([5000 - step, 5000 - 2 * step, 5000 - 3 * step], 20, tMs + 20);
      const last = moving.at(-1) as Sample;
      return fresh([...low, ...moving, ...listed(Array(200).fill(last.valueNm), 20, last.tMs + 20)]).filter((text) =>
        text.startsWith("frozen"),
      ).length;
    };
    expect(small(1999)).toBe(0);
    expect(small(2000)).toBe(1);
  });

  it("is nothing that a sweep taken by hand lies in", () => {
    const by = cutter();
    play([...along(zigzag(6)), ...listed([TOP - 8000, TOP - 16_000, TOP - 24_000], 20, 1820)], by);
    by.take(1870);
    expect(play(listed(Array(200).fill(TOP - 24_000), 20, 1880), by)).toEqual(["stopped at 3070"]);
  });
});
