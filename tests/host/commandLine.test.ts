import { copyFile, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runCommand } from "../../electron/cli/borewright.ts";
import { asFeed } from "./asFeed.ts";
import { heldFeed, heldJob, heldLines, ndjson } from "./benchFiles.ts";
import { PseudoTerminal } from "./pseudoTerminal.ts";
import { type SmallDisk, smallDisk } from "./smallDisk.ts";

const tried = await smallDisk("64k");
await tried?.remove();
const mayMount = tried !== null;

let folder: string;
const at = (name: string) => join(folder, name);
const write = (name: string, content: unknown) =>
  writeFile(at(name), typeof content === "string" ? content : JSON.stringify(content, null, 2));

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-cli-"));
  await write("a.job.json", heldJob);
  await write("a.feed.ndjson", ndjson(heldFeed()));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

interface Ran {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

async function run(
  args: readonly string[],
  onOut: (text: string) => void = () => {},
  {
    stop = new AbortController().signal,
    leave = new AbortController().signal,
    typed = [],
    onErr = () => {},
  }: {
    stop?: AbortSignal;
    leave?: AbortSignal;
    typed?: Iterable<string> | AsyncIterable<string>;
    onErr?: (text: string) => void;
  } = {},
): Promise<Ran> {
  let out = "";
  let err = "";
  const status = await runCommand(args, {
    out(text) {
      out += text;
      onOut(text);
    },
    err(text) {
      err += text;
      onErr(text);
    },
    typed: (async function* () {
      yield* typed;
    })(),
    stop,
    leave,
  });
  return { status, out, err };
}

const walkFeed = (...more: string[]) => [
  "walk",
  "--job",
  at("a.job.json"),
  "--feed",
  at("a.feed.ndjson"),
  "--session",
  at("a.bwsession"),
  ...more,
];

const records = (out: string) =>
  out
    .trim()
    .split("\n")
    .map((line) => JSON.parse(line));

describe("borewright walk --feed", () => {
  it("walks to the end, prints each record and the result, and is found to agree afterwards", async () => {
    const walked = await run(walkFeed("--json"));
    expect(walked.err).toBe("");
    expect(walked.status).toBe(0);
    const all = records(walked.out);
    const result = all.at(-1);
    expect(result).toMatchObject({ format: "borewright/result", version: 1, seal: "intact", complete: true });
    expect(result.bores.map((bore: { verdict: string }) => bore.verdict)).toEqual(["fits", "fits"]);
    expect(all.filter((record) => record.type === "station")).toHaveLength(4);
    expect(all.filter((record) => record.type === "zero")).toHaveLength(2);
    expect(all.filter((record) => record.type === "sweep")).toHaveLength(18);
    const rechecked = await run(["recheck", at("a.bwsession"), "--json"]);
    expect(rechecked.status).toBe(0);
    expect(JSON.parse(rechecked.out)).toEqual(result);
    expect(await readdir(folder)).toEqual(["a.bwsession", "a.feed.ndjson", "a.job.json"]);
  });

  it("ends with 3 when the input ends before the walk is complete", async () => {
    await write("a.feed.ndjson", ndjson(heldFeed().slice(0, 12)));
    const walked = await run(walkFeed());
    expect(walked.status).toBe(3);
    expect(walked.out).toContain("The walk is not complete.");
  });

  it("goes on with a session where it was left, and only when told to", async () => {
    const feed = heldFeed();
    await write("a.feed.ndjson", ndjson(feed.slice(0, 12)));
    expect((await run(walkFeed())).status).toBe(3);
    expect((await run(walkFeed())).status).toBe(2);
    await write("a.feed.ndjson", ndjson(feed.slice(12)));
    const walked = await run(walkFeed("--resume", "--json"));
    expect(walked.status).toBe(0);
    expect((await run(["recheck", at("a.bwsession")])).status).toBe(0);
  });

  it("overwrites only with --force", async () => {
    await write("a.bwsession", "somebody's file");
    const refused = await run(walkFeed());
    expect(refused.status).toBe(2);
    expect(refused.err).toContain("already there");
    expect(await readFile(at("a.bwsession"), "utf8")).toBe("somebody's file");
    expect((await run(walkFeed("--force"))).status).toBe(0);
  });
});

describe("borewright walk --port (pseudo-terminals, no hardware)", () => {
  it("moves on by itself, and a feed of what it heard gives the same result to the last digit", async () => {
    const bore = await PseudoTerminal.make();
    const mic = await PseudoTerminal.make();
    const waiting = heldLines.map(({ step, gauge, lines }) => ({ step, gauge, lines: [...lines] }));
    const speak = async (step: string) => {
      const next = waiting[0];
      if (next === undefined || next.step !== step) return;
      waiting.shift();
      for (const line of next.lines) {
        await (next.gauge === "bore" ? bore : mic).send(`${line}\r\n`);
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
    };
    try {
      const ports = [`bore=${bore.path}`, `mic=${mic.path},9600,8N1`].flatMap((port) => ["--port", port]);
      const walked = await run(
        ["walk", "--job", at("a.job.json"), ...ports, "--session", at("b.bwsession"), "--json"],
        (text) => {
          for (const record of records(text)) {
            // The first line after an opening is not believed when it comes at once.
            if (record.type === "step") setTimeout(() => void speak(record.step), 150);
          }
        },
      );
      expect(walked.err).toBe("");
      expect(walked.status).toBe(0);
      const result = records(walked.out).at(-1);
      expect(result.bores.map((bore: { verdict: string }) => bore.verdict)).toEqual(["fits", "fits"]);
      expect(result.zeros[0].lifter).toBe("1I");
      expect(records(walked.out).find((record) => record.type === "guide")?.text).toContain("micrometer to lifter 1I");
      await write("a.feed.ndjson", asFeed(await readFile(at("b.bwsession"), "utf8")));
      const fed = records((await run(walkFeed("--json"))).out).at(-1);
      expect(fed).toEqual(result);
      expect((await run(["recheck", at("b.bwsession")])).status).toBe(0);
    } finally {
      await bore.cleanUp();
      await mic.cleanUp();
    }
  });

  it("waits for a lost gauge no longer than asked, then ends with 3", async () => {
    const bore = await PseudoTerminal.make();
    try {
      const walking = run(
        [
          ...["walk", "--job", at("a.job.json"), "--port", `bore=${bore.path}`, "--session", at("b.bwsession")],
          ...["--patience", "0.2", "--json"],
        ],
        (text) => {
          if (text.includes('"step"')) void bore.pull();
        },
      );
      const walked = await walking;
      expect(walked.status).toBe(3);
      expect(walked.out).toContain('"link-lost"');
    } finally {
      await bore.cleanUp();
    }
  });

  it("does what is typed, says what it did not understand, and ends with 3 when it is stopped", async () => {
    const bore = await PseudoTerminal.make();
    const stop = new AbortController();
    try {
      const walked = await run(
        ["walk", "--job", at("a.job.json"), "--port", `bore=${bore.path}`, "--session", at("b.bwsession"), "--json"],
        (text) => {
          if (text.includes('"step":"lifters"')) stop.abort();
        },
        { stop: stop.signal, typed: ["", "dance", "go 9I", "step lifters"] },
      );
      expect(walked.status).toBe(3);
      expect(walked.err).toContain('found "dance"; expected take, strike');
      expect(walked.err).toContain('found "9I"; expected a bore of the walk: 1I, 1E');
      expect((await run(["recheck", at("b.bwsession")])).status).toBe(0);
    } finally {
      await bore.cleanUp();
    }
  });

  it("says which port is not there, and leaves no half-made session", async () => {
    const walked = await run([
      ...["walk", "--job", at("a.job.json"), "--session", at("b.bwsession")],
      ...["--port", "bore=/dev/borewright-no-such-port"],
    ]);
    expect(walked.status).toBe(2);
    expect(walked.err).toContain("There is no port /dev/borewright-no-such-port");
    await write("no-port", "a file");
    const other = await run([
      ...["walk", "--job", at("a.job.json"), "--session", at("b.bwsession"), "--port", `bore=${at("no-port")}`],
    ]);
    expect(other.status).toBe(2);
    expect(other.err).toContain("is not a serial port");
    expect(await readdir(folder)).not.toContain("b.bwsession");
  });

  it("puts back what --force wrote over when a port does not open", async () => {
    await write("no-port", "a file");
    await write("b.bwsession", "an earlier one");
    const walked = await run([
      ...["walk", "--job", at("a.job.json"), "--session", at("b.bwsession"), "--force"],
      ...["--port", `bore=${at("no-port")}`],
    ]);
    expect(walked.status).toBe(2);
    expect(await readFile(at("b.bwsession"), "utf8")).toBe("an earlier one");
    expect((await readdir(folder)).filter((name) => name.startsWith("b.") || name.includes("tmp"))).toEqual([
      "b.bwsession",
    ]);
  });
});

describe.skipIf(!mayMount)(
  "borewright walk --port, stopped while the disk is full (a real one; needs the right to mount)",
  () => {
    let disk: SmallDisk;
    let bore: PseudoTerminal;
    beforeEach(async () => {
      disk = (await smallDisk("64k")) as SmallDisk;
      bore = await PseudoTerminal.make();
    });
    afterEach(async () => {
      await bore.cleanUp();
      await disk.remove();
    });

    /** A walk that has more to save than there is room for, and is asked to stop when it says so. */
    const stoppedWhenFull = (onWaiting: () => void, leave = new AbortController().signal) => {
      const stop = new AbortController();
      return run(
        ["walk", "--job", at("a.job.json"), "--port", `bore=${bore.path}`, "--session", join(disk.path, "b.bwsession")],
        () => {},
        {
          stop: stop.signal,
          leave,
          typed: (async function* () {
            await writeFile(join(disk.path, "filler"), Buffer.alloc(64 * 1024)).catch(() => {});
            for (let note = 0; note < 20; note += 1) yield `note ${"oil ".repeat(200)}`;
          })(),
          onErr(text) {
            if (text.startsWith("NOT SAVED")) stop.abort();
            if (text.includes("Ctrl-C again")) onWaiting();
          },
        },
      );
    };

    it("waits until there is room, and loses nothing", async () => {
      const walked = await stoppedWhenFull(() => void rm(join(disk.path, "filler")));
      expect(walked.err).toContain("Saved again");
      expect(walked.status).toBe(3);
      const text = await readFile(join(disk.path, "b.bwsession"), "utf8");
      expect(text.match(/"type":"note"/g)).toHaveLength(20);
    });

    it("says what is lost when it is asked to leave all the same", async () => {
      const leave = new AbortController();
      const walked = await stoppedWhenFull(() => leave.abort(), leave.signal);
      expect(walked.status).toBe(1);
      expect(walked.err).toContain(
        "The last records could not be saved (the disk is full; make room on it) and are lost; what was announced is safe.",
      );
    });
  },
);

describe("borewright recheck", () => {
  it("judges by other limits and rules without touching the file", async () => {
    await run(walkFeed());
    const before = await readFile(at("a.bwsession"));
    const roller = await run(["recheck", at("a.bwsession"), "--limits", "roller", "--rule", "simple", "--json"]);
    expect(roller.status).toBe(0);
    const result = JSON.parse(roller.out);
    expect(result.limits.lowNm).toBe(50_800);
    expect(result.rule).toBe("simple");
    expect(result.bores[0].verdict).toBe("too tight");
    await write("own.json", { low: "0.0010 in", high: "0.0015 in", source: "maker's sheet" });
    const own = await run(["recheck", at("a.bwsession"), "--limits", at("own.json"), "--rule", "simple", "--json"]);
    expect(JSON.parse(own.out).bores[0].verdict).toBe("too loose");
    expect(await readFile(at("a.bwsession"))).toEqual(before);
  });

  it("ends with 5 and names the line when a seal is broken", async () => {
    await run(walkFeed());
    const text = await readFile(at("a.bwsession"), "utf8");
    await write("a.bwsession", text.replace("+0.00145", "+0.00140"));
    const rechecked = await run(["recheck", at("a.bwsession")]);
    expect(rechecked.status).toBe(5);
    expect(rechecked.out).toMatch(/Seal broken at line \d+/);
    const json = await run(["recheck", at("a.bwsession"), "--json"]);
    expect(json.status).toBe(5);
    expect(JSON.parse(json.out).seal).toBe("broken");
  });

  it("reads a torn session and leaves it as it is", async () => {
    await run(walkFeed());
    const whole = await readFile(at("a.bwsession"));
    await writeFile(at("torn.bwsession"), whole.subarray(0, whole.length - 40));
    const rechecked = await run(["recheck", at("torn.bwsession")]);
    expect(rechecked.status).toBe(0);
    expect(rechecked.out).toContain("A torn record");
    await copyFile(at("torn.bwsession"), at("a.bwsession"));
    await write("a.feed.ndjson", ndjson([{ t: 0, step: "bores" }]));
    const resumed = await run(walkFeed("--resume"));
    expect(resumed.err).toContain("was set aside in");
    const aside = (await readdir(folder)).find((name) => name.includes(".torn"));
    expect((await readFile(at(aside as string))).length).toBeGreaterThan(0);
    expect((await run(["recheck", at("a.bwsession")])).status).toBe(0);
  });
});

describe("borewright schema", () => {
  it.each([
    "job",
    "feed",
    "session",
    "result",
    "pairing",
    "remedy",
    "comparison",
    "planning",
    "parcel",
    "parcel-check",
  ])("prints a JSON Schema of %s", async (name) => {
    const printed = await run(["schema", name]);
    expect(printed.status).toBe(0);
    expect(JSON.parse(printed.out).$schema).toContain("2020-12");
  });
});

describe("wrong use and bad files", () => {
  const refuses = async (args: readonly string[], ...says: (string | RegExp)[]) => {
    const ran = await run(args);
    expect(ran.out).toBe("");
    expect(ran.status).toBe(2);
    expect(ran.err.trimEnd()).not.toContain("\n");
    for (const part of says) expect(ran.err).toMatch(part);
    return ran;
  };

  it.each([
    [[], /no command/],
    [["measure"], /command "measure"; expected one of walk/],
    [["walk"], /--job FILE is missing/],
    [["walk", "--speed", "3"], /Unknown option '--speed'/],
    [["walk", "--job"], /--job/],
    [["recheck"], /SESSION is missing/],
    [["recheck", "a", "b"], /found "b"/],
    [["recheck", "a", "--rule", "strict"], /expected simple or guarded/],
    [["recheck", "/no/such.bwsession"], /\/no\/such.bwsession: there is no such file/],
    [["recheck", "/tmp"], /it is a folder/],
    [["schema", "recipe"], /expected one of job, feed, session, result/],
    [["schema", "toString"], /expected one of job, feed, session, result/],
  ])("%j", async (args, says) => {
    await refuses(args, says);
  });

  it("wants a feed or ports, not both", async () => {
    await refuses(["walk", "--job", at("a.job.json"), "--session", at("x")], /either --feed FILE or --port/);
    await refuses(walkFeed("--port", "bore=/dev/x"), /either --feed FILE or --port/);
  });

  it.each([
    ['{"format": "borewright/job",\n "version": 1,\n "rule" "simple"}', /a\.job\.json:3: not JSON/],
    ['{"format": "borewright/job",\n "version": 1,\n "colour": "red"}', /a\.job\.json:3: colour: unknown field/],
    ['{"format": "borewright/job",\n "version": 2}', /a\.job\.json:2: version: found 2/],
    [
      '{"format": "borewright/job", "version": 1,\n "lifter": {\n  "nominal": "0.842"}}',
      /a\.job\.json:3: lifter\.nominal: .*the unit is missing/,
    ],
    ["[]", /a\.job\.json:1: expected an object/],
    ["", /a\.job\.json:1: not JSON/],
  ])("names file, line and field of a bad job %#", async (text, says) => {
    await write("a.job.json", text);
    await refuses(walkFeed(), says);
    expect(await readdir(folder)).not.toContain("a.bwsession");
  });

  it.each([
    [
      '{"t": 0, "step": "lifters"}\n{"t": 5, "gauge": "mic", "line": "+0.84200", "unit": "in"}',
      /:2: unit: unknown field/,
    ],
    ['{"t": 9, "step": "lifters"}\n{"t": 5, "gauge": "mic", "line": "x"}', /:2: t: time goes back: found 5 after 9/],
    ['{"t": 0, "gauge": "depth", "line": "x"}', /:1: gauge: found "depth"; expected a gauge of the job: "bore", "mic"/],
    ['{"t": 0, "step": "dance"}', /:1: step: found "dance"; expected one of lifters, zero/],
    ['{"t": 0, "step": "zero", "lifter": "9I"}', /:1: lifter: found "9I"/],
    ['{"t": 0, "step": "go", "bore": "2I"}', /:1: bore: found "2I"; expected a bore of the walk: 1I, 1E/],
    ['{"t": 0, "step": "step-check", "opened": "0.001"}', /:1: opened: the unit is missing/],
    ['{"t": 0, "step": "step-check", "opened": "0 in"}', /:1: opened: .*above zero/],
    ['{"t": -1, "step": "lifters"}', /:1: t: found -1/],
    ['{"t": "0", "step": "lifters"}', /:1: t: found "0"/],
    ['{"step": "lifters"}', /:1: t: found nothing/],
    ['{"t": 0}', /:1: found neither "line" nor "step"/],
    ['{"t": 0, "step": "lifters"}\n\nnot json', /:3: found "not json"; expected one JSON object a line/],
    ["", /:1: it is empty/],
  ])("names file, line and field of a bad feed %#", async (text, says) => {
    await write("a.feed.ndjson", text);
    const ran = await refuses(walkFeed(), says);
    expect(ran.err).toContain("a.feed.ndjson");
    expect(await readdir(folder)).not.toContain("a.bwsession");
  });

  it.each([
    ["bore", /no gauge named/],
    ["depth=/dev/x", /no gauge "depth"/],
    ["bore=", /no path/],
    ["bore=/dev/x,fast", /found speed "fast"/],
    ["bore=/dev/x,9600,9N1", /found framing "9N1"/],
    ["bore=/dev/x,9600,8N1,more", /found "more" at the end/],
  ])("refuses --port %s", async (port, says) => {
    await refuses(["walk", "--job", at("a.job.json"), "--session", at("x.bwsession"), "--port", port], says);
  });

  it("refuses a session that is none, and a folder that is not there", async () => {
    await write("x.bwsession", "notes\n");
    await refuses(["recheck", at("x.bwsession")], /x\.bwsession:1: the first line is not JSON/);
    await refuses(
      ["walk", "--job", at("a.job.json"), "--feed", at("a.feed.ndjson"), "--session", at("none/x.bwsession")],
      /none\/x\.bwsession: there is no such file or folder/,
    );
  });
});
