import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type QifInput, qifOf } from "../../core/report/qif.ts";
import { type Result, resultOf } from "../../core/report/result.ts";
import { studyStations } from "../../core/report/studySession.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import type { Recording } from "../../core/session/recording.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { walkFeed } from "../session/walkFeed.ts";
import { schemaErrors, schemasPresent } from "./qifSchema.ts";

const SEAL = "0123456789abcdef".repeat(4);

/** A walk by the simulator; it makes bores for the limits of the job, so others are given to the tool alone. */
function simulated(
  change: Record<string, unknown>,
  {
    keep = (lines) => lines,
    limits = {},
  }: { keep?: (lines: readonly string[]) => readonly string[]; limits?: object } = {},
) {
  const job = { format: "borewright/job", version: 1, ...change };
  const { lines } = simulateFeed(parseJob(job), { seed: 5 });
  return walkFeed({ ...job, ...limits }, keep(lines)).recording;
}

function inputOf(recording: Recording, change: Partial<QifInput> = {}): QifInput {
  return {
    result: resultOf(recording, "intact"),
    job: recording.job,
    created: "2026-01-02T03:04:05.000Z",
    app: "borewright 0.1.0",
    seal: SEAL,
    ...change,
  };
}

const held = (unit: "in" | "mm" = "in") => [
  { id: "bore", role: "bore", sends: "held", unit, ...(unit === "mm" ? { resolution: "0.001 mm" } : {}) },
  { id: "mic", role: "micrometer", sends: "press", unit, ...(unit === "mm" ? { resolution: "0.001 mm" } : {}) },
];

const places = (heights: readonly string[], clocks: readonly string[]) =>
  heights.flatMap((height) => clocks.map((clock) => ({ height, clock })));

/** An element of a document, read without the library that wrote it. */
interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Node[];
  text: string;
}

const unescaped = (text: string) =>
  text
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#9;", "\t")
    .replaceAll("&#10;", "\n")
    .replaceAll("&#13;", "\r")
    .replaceAll("&amp;", "&");

function readXml(xml: string): Node {
  const top: Node = { name: "", attributes: {}, children: [], text: "" };
  const open: Node[] = [top];
  for (const [, close, name, inside, alone, text] of xml
    .replace(/^<\?xml[^>]*\?>/, "")
    .matchAll(/<(?:(\/)[^>]*|([A-Za-z0-9]+)((?:\s+[\w:]+="[^"]*")*)\s*(\/?))>|([^<]+)/g)) {
    const here = open.at(-1) ?? top;
    if (text !== undefined) here.text += unescaped(text);
    else if (close !== undefined) open.pop();
    else {
      const attributes = Object.fromEntries(
        [...(inside ?? "").matchAll(/([\w:]+)="([^"]*)"/g)].map((found) => [found[1] ?? "", unescaped(found[2] ?? "")]),
      );
      const node: Node = { name: name ?? "", attributes, children: [], text: "" };
      here.children.push(node);
      if (alone === "") open.push(node);
    }
  }
  const [root] = top.children;
  if (root === undefined || open.length !== 1) throw new Error("not well-formed");
  return root;
}

const all = (node: Node): Node[] => [node, ...node.children.flatMap(all)];
const named = (node: Node, name: string) => all(node).filter((found) => found.name === name);
const child = (node: Node, name: string) => node.children.find((found) => found.name === name);
const textOf = (node: Node, name: string) => named(node, name)[0]?.text ?? "";
const about = (node: Node) =>
  Object.fromEntries(
    (child(node, "Attributes")?.children ?? []).map(({ attributes }) => [attributes.name, attributes.value]),
  );

/** A decimal of millimetres in nanometres, exact, by its digits. */
function nanometres(decimal: string | undefined): number {
  const found = /^(-?)(\d+)\.(\d{6})$/.exec(decimal ?? "");
  if (found === null) throw new Error(`not a decimal of six places: ${decimal}`);
  return Number(`${found[1]}${found[2]}${found[3]}`) + 0;
}

/** What the schemas do not check: counts, ids, and that every reference leads to the right kind of thing. */
function expectWhole(root: Node): void {
  const nodes = all(root);
  for (const node of nodes) {
    if (node.attributes.n !== undefined) expect(node.children.length, node.name).toBe(Number(node.attributes.n));
  }
  const ids = nodes.flatMap((node) => (node.attributes.id === undefined ? [] : [Number(node.attributes.id)]));
  expect(new Set(ids).size).toBe(ids.length);
  expect(Math.max(...ids)).toBe(Number(root.attributes.idMax));
  const kindOf = new Map(nodes.map((node) => [node.attributes.id, node.name]));
  const leads: Readonly<Record<string, string>> = {
    FormalStandardId: "Standard",
    FeatureDefinitionId: "OtherShapeFeatureDefinition",
    FeatureNominalId: "OtherShapeFeatureNominal",
    CharacteristicDefinitionId: "UserDefinedLinearCharacteristicDefinition",
    CharacteristicNominalId: "UserDefinedLinearCharacteristicNominal",
    CharacteristicItemId: "UserDefinedLinearCharacteristicItem",
  };
  const lists: Readonly<Record<string, string>> = {
    FeatureItemIds: "OtherShapeFeatureItem",
    MeasurementDeviceIds: "ManualMeasurementDevice",
    AnalysisSoftware: "Software",
  };
  let followed = 0;
  for (const node of nodes) {
    const wanted = leads[node.name];
    if (wanted !== undefined) {
      expect(kindOf.get(node.text), node.name).toBe(wanted);
      followed += 1;
    } else if (/Ids?$/.test(node.name) && node.name !== "Id" && node.name !== "QPId") {
      expect(Object.keys(lists), node.name).toContain(node.name);
    }
    for (const { text } of lists[node.name] === undefined ? [] : node.children) {
      expect(kindOf.get(text), node.name).toBe(lists[node.name]);
    }
  }
  expect(followed).toBeGreaterThan(0);
}

const STATUS = {
  fits: "PASS",
  "too tight": "FAIL",
  "too loose": "FAIL",
  undecided: "INDETERMINATE",
  "not measured": "NOT_ANALYZED",
} as const;

/** Every figure of the result stands in the document, to the nanometre, at the bore and station it belongs to. */
function expectSameFigures(root: Node, result: Result): void {
  const items = new Map(named(root, "UserDefinedLinearCharacteristicItem").map((item) => [item.attributes.id, item]));
  const measured = new Map(
    named(root, "UserDefinedLinearCharacteristicMeasurement").map((measurement) => [
      textOf(items.get(textOf(measurement, "CharacteristicItemId")) ?? measurement, "Name"),
      measurement,
    ]),
  );
  expect(measured.size).toBe(items.size);
  const statusOf = (node: Node) => textOf(node, "CharacteristicStatusEnum");
  const get = (name: string) => {
    const node = measured.get(name);
    if (node === undefined) throw new Error(`${name} is not in the document`);
    return node;
  };
  for (const bore of result.bores) {
    for (const station of bore.stations) {
      const node = get(`${bore.name} ${station.height.trim()} ${station.clock}`);
      const value = child(node, "Value");
      if (station.clearanceNm === null) {
        expect(value).toBeUndefined();
        expect(statusOf(node)).toBe("NOT_ANALYZED");
        continue;
      }
      expect(nanometres(value?.text)).toBe(station.clearanceNm);
      const squares = station.budget.reduce((sum, line) => sum + line.contributionNm ** 2, 0);
      expect(nanometres(value?.attributes.combinedUncertainty)).toBe(Math.round(Math.sqrt(squares)));
      expect(nanometres(about(node)["expanded uncertainty, mm"])).toBe(station.uncertaintyNm);
      expect(about(node).coverage).toBe("0.95");
      if (bore.verdict === "fits") expect(statusOf(node)).toBe("PASS");
      else expect(["PASS", "FAIL", "INDETERMINATE"]).toContain(statusOf(node));
    }
    const whole = get(`${bore.name} clearance of a bore`);
    expect(statusOf(whole)).toBe(STATUS[bore.verdict]);
    expect(about(whole).verdict).toBe(bore.verdict);
    if (bore.clearanceMinNm === null) expect(child(whole, "MinValue")).toBeUndefined();
    else {
      expect(nanometres(child(whole, "MinValue")?.text)).toBe(bore.clearanceMinNm);
      expect(nanometres(child(whole, "MaxValue")?.text)).toBe(bore.clearanceMaxNm);
    }
    if (bore.verdict === "too loose" || bore.verdict === "too tight") {
      const statuses = bore.stations.map((station) =>
        statusOf(get(`${bore.name} ${station.height.trim()} ${station.clock}`)),
      );
      expect(statuses).toContain("FAIL");
    }
    if (bore.taperNm !== null) expect(nanometres(textOf(get(`${bore.name} taper`), "Value"))).toBe(bore.taperNm);
    if (bore.outOfRoundNm !== null) {
      expect(nanometres(textOf(get(`${bore.name} out-of-round`), "Value"))).toBe(bore.outOfRoundNm);
    }
  }
  for (const tolerance of named(root, "Tolerance")) {
    expect(nanometres(textOf(tolerance, "MinValue"))).toBe(result.limits.lowNm);
    expect(nanometres(textOf(tolerance, "MaxValue"))).toBe(result.limits.highNm);
    expect(textOf(tolerance, "DefinedAsLimit")).toBe("true");
  }
}

const cases: Readonly<Record<string, () => Recording>> = {
  "a V8 whose bores and lifters were all measured": () => simulated({ gauges: held() }),
  "an inline four in millimetres": () =>
    simulated({ layout: "i4", lifter: { style: "roller", nominal: "21.400 mm" }, gauges: held("mm") }),
  "many stations": () =>
    simulated({
      walk: ["3E", "1I"],
      stations: places(["oil hole", "upper", "middle", "lower", "skirt"], ["axial", "cross"]),
      gauges: held(),
    }),
  "one station only": () => simulated({ walk: ["1I", "1E"], stations: places(["upper"], ["cross"]), gauges: held() }),
  "undecided bores": () =>
    simulated({
      walk: ["1I", "1E", "2I", "2E", "3I"],
      limits: { low: "36 um", high: "41 um", source: "so narrow that nothing can be decided" },
      gauges: held(),
    }),
  "bores that do not fit": () =>
    simulated(
      { walk: ["1I", "1E", "2I"], gauges: held() },
      { limits: { limits: { low: "20 um", high: "25 um", source: "another sheet" } } },
    ),
  "bores too tight and simply judged": () =>
    simulated(
      { walk: ["1I", "1E", "2I"], rule: "simple", gauges: held() },
      { limits: { limits: { low: "80 um", high: "90 um" } } },
    ),
  "a simple rule and a wear limit": () =>
    simulated({
      walk: ["1I", "1E"],
      rule: "simple",
      limits: { low: "30 um", high: "50 um", serviceHigh: "70 um" },
      gauges: held(),
    }),
  "a study of the gauge": () =>
    simulated({
      walk: ["1I", "1E"],
      stations: studyStations({ people: ["Ann", "Bo"], repeats: 2, clock: "axial" }),
      gauges: held(),
    }),
  "nothing measured": () => simulated({ gauges: held() }, { keep: (lines) => lines.slice(0, 3) }),
  "a walk left half way": () => simulated({ gauges: held() }, { keep: (lines) => lines.slice(0, lines.length / 2) }),
  "other alphabets, marks of XML and signs that XML cannot hold": () =>
    simulated({
      title: 'Блок «Дон» 発動機 مُحَرِّك \u202Eabc\u202C 🛠 <a b="c">&amp; &nbsp; &#65; ]]>\n\u0000\u0007\uFFFE',
      block: " \t\n ",
      operator: "Ιωάννα \u001b[31m",
      walk: ["1I", "1E"],
      stations: places(["  ober <&> \n en  ", "нижний"], ["axial", "cross"]),
      limits: { low: "30 um", high: "50 um", source: '"blatt" des herstellers\n§ 4 <q>\u0001' },
      gauges: held(),
    }),
};

describe("the QIF document", () => {
  it.each(Object.entries(cases).filter(([name]) => name !== "a study of the gauge"))(
    "holds every figure of the result, whole and well counted: %s",
    (_, make) => {
      const recording = make();
      const result = resultOf(recording, "intact");
      const xml = qifOf(inputOf(recording));
      const root = readXml(xml);
      expect(root.name).toBe("QIFDocument");
      expect(root.attributes).toMatchObject({ xmlns: "http://qifstandards.org/xsd/qif3", versionQIF: "3.0.0" });
      expectWhole(root);
      // The names of stations are tokens in the document: their blanks are collapsed there.
      const tidy = {
        ...result,
        bores: result.bores.map((bore) => ({
          ...bore,
          stations: bore.stations.map((station) => ({
            ...station,
            height: station.height.trim().replace(/\s+/g, " "),
          })),
        })),
      };
      expectSameFigures(root, tidy);
    },
  );

  it.skipIf(!schemasPresent).each(Object.entries(cases))(
    "is valid by the published schemas (../shared/data/qif; skipped where absent): %s",
    async (_, make) => {
      expect(await schemaErrors(qifOf(inputOf(make())))).toEqual([]);
    },
    60_000,
  );

  it.skipIf(!schemasPresent)(
    "is seen as wrong by the same check when it is wrong (skipped where the schemas are absent)",
    async () => {
      const xml = qifOf(inputOf(simulated({ walk: ["1I"], gauges: held() })));
      expect(await schemaErrors(xml.replace("<MaxValue", "<MaximumValue"))).not.toEqual([]);
      expect(await schemaErrors(xml.replace(/<FormalStandardId>[^<]*<\/FormalStandardId>/, ""))).not.toEqual([]);
      expect(await schemaErrors(xml.replace(/<CharacteristicItemId>\d+/, "<CharacteristicItemId>99999"))).not.toEqual(
        [],
      );
      expect(await schemaErrors(xml.replace(/combinedUncertainty="[^"]*"/, 'combinedUncertainty="1e-3"'))).not.toEqual(
        [],
      );
    },
    60_000,
  );

  it("shows each verdict that the cases were made for", () => {
    const verdicts = (name: keyof typeof cases & string) =>
      new Set(resultOf((cases[name] as () => Recording)(), "intact").bores.map(({ verdict }) => verdict));
    expect(verdicts("undecided bores")).toContain("undecided");
    expect(verdicts("bores that do not fit")).toContain("too loose");
    expect(verdicts("bores too tight and simply judged")).toEqual(new Set(["too tight"]));
    expect(verdicts("nothing measured")).toEqual(new Set(["not measured"]));
    expect(verdicts("a V8 whose bores and lifters were all measured")).toContain("fits");
  });

  it("judges nothing in a study of the gauge, which speaks of no block", () => {
    const root = readXml(qifOf(inputOf((cases["a study of the gauge"] as () => Recording)())));
    expect(new Set(named(root, "CharacteristicStatusEnum").map(({ text }) => text))).toEqual(new Set(["NOT_ANALYZED"]));
    expect(textOf(root, "InspectionStatusEnum")).toBe("NOT_CALCULATED");
    expect(textOf(root, "Description")).toContain("study of the gauge");
    expect(named(root, "Name").map(({ text }) => text)).not.toContain("taper");
  });

  it("says of the block what its bores say", () => {
    const status = (name: string) =>
      textOf(readXml(qifOf(inputOf((cases[name] as () => Recording)()))), "InspectionStatusEnum");
    expect(status("bores that do not fit")).toBe("FAIL");
    expect(status("nothing measured")).toBe("NOT_MEASURED");
    expect(status("undecided bores")).toBe("UNKNOWN");
    expect(status("one station only")).toBe("PASS");
  });

  it("is the same text for the same session, with an id of its own for another", () => {
    const recording = simulated({ walk: ["1I"], gauges: held() });
    const once = qifOf(inputOf(recording));
    expect(qifOf(inputOf(recording))).toBe(once);
    const id = (xml: string) => textOf(readXml(xml), "QPId");
    expect(id(once)).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(id(qifOf(inputOf(recording, { seal: "f".repeat(64) })))).not.toBe(id(once));
  });

  it("never writes an exponent nor a number that is none", () => {
    for (const make of Object.values(cases)) {
      const xml = qifOf(inputOf(make()));
      for (const node of all(readXml(xml))) {
        if (/Value$/.test(node.name)) expect(node.text).toMatch(/^-?\d+\.\d{6}$/);
      }
      expect(xml).not.toMatch(/NaN|Infinity|undefined/);
    }
  });

  it("says loudly that simulated gauges prove nothing", () => {
    const recording = simulated({ walk: ["1I"], gauges: held() });
    const result = { ...resultOf(recording, "intact"), simulated: true };
    const root = readXml(qifOf(inputOf(recording, { result })));
    expect(textOf(child(root, "Header") ?? root, "Description")).toContain("SIMULATED");
    expect(about(root)["simulated gauges"]).toBe("true");
  });

  it("keeps other alphabets and replaces what XML cannot hold", () => {
    const make = cases["other alphabets, marks of XML and signs that XML cannot hold"] as () => Recording;
    const xml = qifOf(inputOf(make()));
    const root = readXml(xml);
    // A reader takes a bare line end in an attribute for a blank.
    expect(xml).toContain("]]&gt;&#10;");
    const title = about(root).title ?? "";
    for (const part of ["Блок «Дон»", "発動機", "مُحَرِّك", "🛠", '<a b="c">&amp; &nbsp; &#65; ]]>\n'])
      expect(title).toContain(part);
    expect(title).toContain("\uFFFD\uFFFD\uFFFD");
  });
});

it("the document given as smallest with the schemas passes the same check (skipped where absent)", async ({ skip }) => {
  if (!schemasPresent) skip("the published schemas are not beside this checkout");
  const path = new URL("../../../shared/data/qif/smallest_diameters.qif", import.meta.url);
  expect(await schemaErrors(readFileSync(path, "utf8"))).toEqual([]);
});
