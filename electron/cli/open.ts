import { open as openFile } from "node:fs/promises";
import { plainText } from "../../core/length/shownText.ts";
import type { ParcelCheck } from "../../core/report/parcelSchema.ts";
import type { Result } from "../../core/report/result.ts";
import { hostFolder } from "../host/hostFolder.ts";
import { isKeyWarning, KeyRefusal, keepKey } from "../host/parcel/keepKey.ts";
import { type OpenedParcel, openParcel } from "../host/parcel/openParcel.ts";
import { plainTexts } from "../host/parcel/plainTexts.ts";
import { LARGEST_PARCEL } from "../host/parcel/zipLayout.ts";
import { FileExistsError, writeWhole } from "../host/safeFiles.ts";
import { ShopKeyBook } from "../host/shopKeyBook.ts";
import { tableOf } from "./account.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { need, readOptions } from "./options.ts";
import { fileTrouble } from "./readFiles.ts";
import { unitOf } from "./recheck.ts";

export const OPEN_HELP = `borewright open FILE [--json] [--extract-session OUT [--force]] [--accept-key FINGERPRINT] [--remember no]

Checks a parcel and then shows what is in it: that the archive holds nothing but
what it should, every sum, every seal of the record, the signature, and that the
findings are what the raw lines give. Nothing in it is run, and nothing of it is
written anywhere unless asked for.
  --json             print what the check came to, and the result, as one JSON object
  --extract-session  write the session to this file, if the parcel is intact
  --force            write over a file that is there
  --accept-key       take another key for a shop whose name is known with an older
                     one: the fingerprint that the shop itself has told you
  --remember         no: do not remember the key of a shop seen for the first time
Exit status: 0 intact (what it says of a signature stands in the first line),
5 changed, 2 not readable as a parcel, or wrong use.
`;

/** `borewright open`. */
export async function open(args: readonly string[], io: Io): Promise<number> {
  const { values, files } = readOptions(
    "open",
    args,
    { json: "flag", "extract-session": "text", force: "flag", "accept-key": "text", remember: "text" },
    1,
  );
  const path = need("open", "FILE", files[0]);
  const { remember = "yes" } = values;
  if (remember !== "yes" && remember !== "no") throw new WrongUse(`open: --remember ${remember}: expected yes or no`);
  const bytes = await readParcel(path);
  const book = await ShopKeyBook.read(hostFolder());
  const first = await openParcel(bytes, { standing: (name, key) => book.standing(name, key) });
  const { opened, notes } = await keepKey(first, book, {
    remember: remember === "yes",
    accept: values["accept-key"],
  }).catch((error: unknown) => {
    throw error instanceof KeyRefusal ? new WrongUse(`open: --accept-key ${error.message}`) : error;
  });
  const extract = values["extract-session"];
  if (extract !== undefined && opened.session !== null) {
    await writeSession(extract, opened.session, values.force);
    notes.push(`The session was written to ${extract}.`);
  }
  const { check } = opened;
  if (values.json) io.out(`${JSON.stringify(check)}\n`);
  else if (check.outcome !== "unreadable") io.out(shown(path, opened, notes));
  if (check.outcome === "unreadable") {
    io.err(`borewright open: ${path}: not readable as a parcel: ${plainText(check.why ?? "")}\n`);
    return EXIT.wrongUse;
  }
  if (check.shop?.key === "other-key")
    io.err(`borewright open: ${plainText(check.warnings.find(isKeyWarning) ?? "")}\n`);
  return check.outcome === "changed" ? EXIT.sealBroken : EXIT.done;
}

async function readParcel(path: string): Promise<Buffer> {
  try {
    const handle = await openFile(path, "r");
    try {
      const { size } = await handle.stat();
      if (size > LARGEST_PARCEL) {
        throw new WrongUse(`open: ${path}: ${size} bytes; expected a parcel of at most ${LARGEST_PARCEL}`);
      }
      return await handle.readFile();
    } finally {
      await handle.close();
    }
  } catch (error) {
    if (error instanceof WrongUse) throw error;
    throw new WrongUse(`open: ${path}: ${fileTrouble(error)}`);
  }
}

async function writeSession(path: string, session: Buffer, force: boolean): Promise<void> {
  try {
    await writeWhole(path, session, force);
  } catch (error) {
    if (error instanceof FileExistsError) {
      throw new WrongUse(`open: --extract-session ${error.message}; --force writes over it`);
    }
    throw new WrongUse(`open: --extract-session ${path}: ${fileTrouble(error)}`);
  }
}

function shown(path: string, { check, read }: OpenedParcel, notes: readonly string[]): string {
  const { manifest } = check;
  if (check.outcome === "changed" || manifest === null || read === null) {
    return [
      `CHANGED: ${path} is not as it was made. Nothing of its content is shown.`,
      ...check.changes.map(({ where, what }) => `  ${plainText(where)}: ${plainText(what)}`),
      "Ask for it again from where it came from.",
      "",
    ].join("\n");
  }
  const { title, block, operator } = read.recording.job;
  const { session } = manifest;
  return [
    outcomeText(check),
    ...check.warnings.map((warning) => `! ${plainText(warning)}`),
    ...notes,
    ...named([
      ["Job", title],
      ["Block", block],
      ["Operator", operator],
    ]),
    `Begun ${plainText(session.created)}, ${session.records} records, made by ${plainText(manifest.app)}.`,
    `Last seal ${session.seal}`,
    `Checked: ${manifest.files.length} files by their SHA-256, every seal, and the findings against the raw lines.`,
    tableOf(plainTexts(check.result as Result), unitOf(read)),
  ].join("\n");
}

/** Each with its name before it, so that no text of a parcel passes for a line of this program. */
function named(texts: readonly (readonly [string, string])[]): string[] {
  return texts.filter(([, text]) => text.trim() !== "").map(([name, text]) => `${name}: ${plainText(text)}`);
}

function outcomeText({ outcome, shop }: ParcelCheck): string {
  const who = shop === null ? "" : `"${plainText(shop.name)}", key ${shop.fingerprint}`;
  switch (outcome) {
    case "signed-known":
      return `Intact, and signed by a known key: ${who}.`;
    case "signed-new":
      return shop?.key === "other-key"
        ? `Intact, BUT SIGNED BY ANOTHER KEY THAN THE ONE KNOWN FOR THIS NAME: ${who}.`
        : `Intact, and signed by a key seen for the first time: ${who}. Compare it with its owner.`;
    default:
      return "Intact. It is not signed: who it comes from is not proven.";
  }
}
