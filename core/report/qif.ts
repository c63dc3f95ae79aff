import { create } from "xmlbuilder2";
import type { Job, JobGauge } from "../session/job.ts";
import { writeCharacteristics, writeMeasurements } from "./qifCharacteristics.ts";
import { blockStatus } from "./qifStatus.ts";
import { type Element, Ids, millimetres, token, writeAttributes, writeIds, writeText } from "./qifText.ts";
import type { Result } from "./result.ts";
import { studyPlanOf } from "./studySession.ts";

/** What the document is made of. */
export interface QifInput {
  readonly result: Result;
  readonly job: Job;
  /** When the session was begun, ISO 8601. */
  readonly created: string;
  /** Program and version. */
  readonly app: string;
  /** Seal of the session's last record, 64 hex digits; the document's own id comes from it. */
  readonly seal: string;
}

const NAMESPACE = "http://qifstandards.org/xsd/qif3";

/** What stands for a character that XML 1.0 cannot hold. */
const REPLACEMENT = "\uFFFD";

/**
 * The result as a QIF 3.0 results document (XML, UTF-8, lengths in mm): every bore a feature; its clearance at each
 * station, its smallest and largest clearance, its taper and out-of-round its characteristics. The standard knows no
 * characteristic for the clearance of a fit, so they are user-defined linear ones; "clearance" is meant as in ISO 286-1.
 * `combinedUncertainty` is the combined standard uncertainty; the expanded one stands beside it as an attribute, with
 * its coverage. A study of the gauge speaks of no block: its values are there, and nothing of it is judged. Order of elements: the published schema, QIFDocument.xsd 3.0.0.
 */
export function qifOf(input: QifInput): string {
  const { result, job } = input;
  const ids = new Ids();
  const document = create({ version: "1.0", encoding: "UTF-8", invalidCharReplacement: REPLACEMENT });
  const root = document.ele(NAMESPACE, "QIFDocument", { versionQIF: "3.0.0" });
  writeText(root, "QPId", documentId(input.seal));
  writeAttributes(root, aboutJob(input));
  writeHeader(root, input);
  const standard = writeStandards(root, ids, result);
  const software = writeSoftware(root, ids, input.app);
  writeUnits(root);
  const devices = writeDevices(root, ids, job.gauges);
  const features = writeFeatures(
    root,
    ids,
    result.bores.map((bore) => bore.name),
  );
  const study = isStudy(input);
  const characteristics = writeCharacteristics(root, ids, result, { standard, features, study });
  const results = root
    .ele("Results")
    .ele("MeasurementResultsSet", { n: 1 })
    .ele("MeasurementResults", { id: ids.next() });
  writeTrace(results, input, software);
  writeMeasurements(results, ids, result, characteristics, { devices, study, centringNm: job.budget.centringNm });
  writeText(results.ele("InspectionStatus"), "InspectionStatusEnum", study ? "NOT_CALCULATED" : blockStatus(result));
  root.att("idMax", String(ids.last));
  return `${document.end({ prettyPrint: true, indent: " " })}\n`;
}

const isStudy = ({ job }: QifInput): boolean => studyPlanOf(job) !== null;

/** A document id (RFC 9562, version 8) that is always the same for the same session. */
function documentId(seal: string): string {
  const hex = seal.slice(0, 32).padEnd(32, "0");
  const variant = ((Number.parseInt(hex[16] ?? "0", 16) & 3) | 8).toString(16);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20)}`;
}

function aboutJob(input: QifInput): [string, string][] {
  const { result, job, seal } = input;
  return [
    ["title", job.title],
    ["block", job.block],
    ["layout", job.layout.title],
    ["lifter style", job.lifter.style],
    ["decision rule", result.rule],
    ["source of the limits", result.limits.source],
    ["walk complete", String(result.complete)],
    ["simulated gauges", String(result.simulated)],
    ["study of the gauge", String(isStudy(input))],
    ["seals of the session", result.seal],
    ["last seal", seal],
  ];
}

function writeHeader(root: Element, input: QifInput): void {
  const { result, job, app } = input;
  const header = root.ele("Header");
  writeText(header.ele("Application"), "Name", app);
  if (job.operator.trim() !== "") writeText(header.ele("Author"), "Name", job.operator);
  const simulated = result.simulated ? ["SIMULATED gauges: this proves nothing about a block."] : [];
  const study = isStudy(input) ? ["A study of the gauge, which speaks of no block."] : [];
  const named = [job.title, job.block].filter((part) => part.trim() !== "").map((part) => `${token(part)}.`);
  writeText(header, "Description", [...simulated, ...study, "Clearance of lifter bores.", ...named].join(" "));
}

const STANDARDS = {
  clearance: {
    designator: "286-1",
    title: "Geometrical product specifications (GPS) - ISO code system for tolerances on linear sizes - Part 1",
    says: "what a clearance is",
  },
  decision: {
    designator: "14253-1",
    title: "Geometrical product specifications (GPS) - Inspection by measurement of workpieces - Part 1",
    says: "the decision rule: 95 % certain before a bore is said to fit or not to fit",
  },
} as const;

/** Returns the id of the standard that says what a clearance is. */
function writeStandards(root: Element, ids: Ids, { rule }: Result): number {
  const others = rule === "guarded" ? [STANDARDS.decision] : [];
  const list = root.ele("StandardsDefinitions", { n: 1 + others.length });
  const write = ({ designator, title, says }: (typeof STANDARDS)["clearance" | "decision"]) => {
    const id = ids.next();
    const standard = list.ele("Standard", { id });
    writeText(standard.ele("Organization"), "StandardsOrganizationEnum", "ISO");
    writeText(standard, "Designator", designator);
    writeText(standard, "Title", title);
    writeText(standard, "Description", says);
    return id;
  };
  const id = write(STANDARDS.clearance);
  others.forEach(write);
  return id;
}

function writeSoftware(root: Element, ids: Ids, app: string): number {
  const id = ids.next();
  const [name = "", ...version] = token(app).split(" ");
  const software = root.ele("SoftwareDefinitions", { n: 1 }).ele("Software", { id });
  writeText(software, "VendorName", "none");
  writeText(software, "ApplicationName", name);
  if (version.length > 0) writeText(software, "Version", version.join(" "));
  return id;
}

function writeUnits(root: Element): void {
  const unit = root.ele("FileUnits").ele("PrimaryUnits").ele("LinearUnit");
  writeText(unit, "SIUnitName", "meter");
  writeText(unit, "UnitName", "mm");
  writeText(unit.ele("UnitConversion"), "Factor", "0.001");
}

/** Returns the ids of the gauges. */
function writeDevices(root: Element, ids: Ids, gauges: readonly JobGauge[]): number[] {
  const list = root.ele("MeasurementResources").ele("MeasurementDevices", { n: gauges.length });
  return gauges.map(({ id: name, role, unit, resolutionNm }) => {
    const id = ids.next();
    const device = list.ele("ManualMeasurementDevice", { id });
    writeText(device, "Name", token(name));
    const what = role === "bore" ? "Bore gauge" : "Micrometer";
    writeText(device, "Description", `${what} in ${unit}, resolution ${millimetres(resolutionNm)} mm`);
    return id;
  });
}

/** Returns the ids of the bores' items, in the order of the bores. */
function writeFeatures(root: Element, ids: Ids, bores: readonly string[]): number[] {
  const features = root.ele("Features");
  const definition = ids.next();
  writeText(
    features.ele("FeatureDefinitions", { n: 1 }).ele("OtherShapeFeatureDefinition", { id: definition }),
    "Description",
    "Lifter bore: an internal cylinder. Its place in the block was not measured.",
  );
  const nominals = features.ele("FeatureNominals", { n: bores.length });
  const nominalIds = bores.map((bore) => {
    const id = ids.next();
    const nominal = nominals.ele("OtherShapeFeatureNominal", { id });
    writeText(nominal, "Name", token(bore));
    writeText(nominal, "FeatureDefinitionId", String(definition));
    return id;
  });
  const items = features.ele("FeatureItems", { n: bores.length });
  return bores.map((bore, index) => {
    const id = ids.next();
    const item = items.ele("OtherShapeFeatureItem", { id });
    writeText(item, "FeatureNominalId", String(nominalIds[index]));
    writeText(item, "FeatureName", token(bore));
    item.ele("DeterminationMode").ele("Checked");
    return id;
  });
}

function writeTrace(results: Element, { job, created }: QifInput, software: number): void {
  const trace = results.ele("InspectionTraceability");
  if (isDateTime(created)) writeText(trace, "InspectionStart", created);
  writeIds(trace.ele("InspectionSoftwareItems"), "AnalysisSoftware", [software]);
  if (job.operator.trim() !== "") writeText(trace.ele("InspectionOperator"), "Name", token(job.operator));
}

/** Whether a text can stand as xs:dateTime. */
function isDateTime(text: string): boolean {
  return /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/.test(text) && !Number.isNaN(Date.parse(text));
}
