import { realpath } from "node:fs/promises";
import { plainText } from "../../core/length/shownText.ts";
import { SessionError } from "../../core/session/recording.ts";
import { hostFolder } from "../host/hostFolder.ts";
import { sha256Of } from "../host/parcel/content.ts";
import { BrokenSessionError, type MadeParcel, makeParcel } from "../host/parcel/makeParcel.ts";
import { FileExistsError, writeWhole } from "../host/safeFiles.ts";
import { fingerprintOf, type ShopKey, ShopKeyError, shopKeyIn, shopKeyPath } from "../host/shopKey.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { need, readOptions } from "./options.ts";
import { fileTrouble, readBytes } from "./readFiles.ts";

export const HANDOVER_HELP = `borewright handover SESSION --out FILE.bwparcel [--sign [--shop NAME]] [--decimal comma] [--force] [--json]

Packs a session for the next builder into one file: every raw reading with its
seals, the findings as JSON, as tables, as a report to print and as a QIF
document, and a text on how to read and check all of it without this program.
  --out      the parcel to write
  --sign     sign it with the shop's own key, which is made on first use and
             kept in the data folder, readable by its owner only
  --shop     the shop's name; needed when the key is made, kept with it from then on
  --decimal  point (default) or comma: how numbers are written in the tables
  --force    write over a file that is there
  --json     print the parcel's manifest as one JSON object
Exit status: 0 done, 5 a seal of the session is broken and no parcel was made.
`;

/** `borewright handover`. */
export async function handover(args: readonly string[], io: Io): Promise<number> {
  const { values, files } = readOptions(
    "handover",
    args,
    { out: "text", sign: "flag", shop: "text", decimal: "text", force: "flag", json: "flag" },
    1,
  );
  const path = need("handover", "SESSION", files[0]);
  const out = need("handover", "--out FILE", values.out);
  const { decimal = "point" } = values;
  if (decimal !== "point" && decimal !== "comma") {
    throw new WrongUse(`handover: --decimal ${decimal}: expected point or comma`);
  }
  if (values.shop !== undefined && !values.sign) throw new WrongUse("handover: --shop goes with --sign only");
  const session = await readBytes("session", path);
  if (await isSameFile(path, out))
    throw new WrongUse(`handover: --out ${out}: it is the session itself; expected another name`);
  const signer = values.sign ? await signerOf(values.shop) : null;
  let parcel: MadeParcel;
  try {
    parcel = await makeParcel(session, { decimal, ...(signer === null ? {} : { key: signer.key }) });
  } catch (error) {
    if (error instanceof SessionError) throw new WrongUse(`session ${path}:${error.line}: ${error.message}`);
    if (!(error instanceof BrokenSessionError)) throw error;
    io.err(
      `borewright handover: session ${path}:${error.line}: the seal is broken (${error.message}); no parcel was made of it\n`,
    );
    return EXIT.sealBroken;
  }
  await write(out, parcel.bytes, values.force);
  io.out(values.json ? `${JSON.stringify(parcel.manifest)}\n` : told(out, parcel, signer));
  return EXIT.done;
}

interface Signer {
  readonly key: ShopKey;
  /** Where the key was made just now; null when it was there. */
  readonly madeAt: string | null;
}

async function signerOf(shop: string | undefined): Promise<Signer> {
  const folder = hostFolder();
  try {
    const { key, made } = await shopKeyIn(folder, shop);
    return { key, madeAt: made ? shopKeyPath(folder) : null };
  } catch (error) {
    if (error instanceof ShopKeyError) {
      throw new WrongUse(`handover: --sign: ${error.message}${shop === undefined ? " (--shop NAME)" : ""}`);
    }
    if ((error as NodeJS.ErrnoException).code === undefined) throw error;
    throw new WrongUse(`handover: --sign: ${shopKeyPath(folder)}: ${fileTrouble(error)}`);
  }
}

async function isSameFile(one: string, other: string): Promise<boolean> {
  const real = (path: string) => realpath(path).catch(() => null);
  const found = await real(other);
  return found !== null && found === (await real(one));
}

async function write(path: string, bytes: Buffer, force: boolean): Promise<void> {
  try {
    await writeWhole(path, bytes, force);
  } catch (error) {
    if (error instanceof FileExistsError)
      throw new WrongUse(`handover: --out ${error.message}; --force writes over it`);
    if ((error as NodeJS.ErrnoException).code === undefined) throw error;
    throw new WrongUse(`handover: --out ${path}: ${fileTrouble(error)}`);
  }
}

function told(path: string, { bytes, manifest, result }: MadeParcel, signer: Signer | null): string {
  return [
    `${path}: ${manifest.files.length + (signer === null ? 1 : 2)} files, ${bytes.length} bytes.`,
    `SHA-256 ${sha256Of(bytes)}`,
    ...(signer === null
      ? ["It is not signed: it shows damage, not who it comes from (--sign signs it)."]
      : [
          `Signed as "${plainText(signer.key.name)}", key ${fingerprintOf(signer.key.publicKey)}.`,
          "Give the next builder that key by another way than the parcel, by telephone for example.",
        ]),
    ...(signer?.madeAt == null
      ? []
      : [`The key was made just now: ${signer.madeAt}. Keep a copy in a safe place, and give it to nobody.`]),
    ...(result.simulated ? ["SIMULATED gauges were connected: this proves nothing about a block."] : []),
    ...(result.complete ? [] : ["The walk is not complete; the parcel says so."]),
    ...(manifest.session.tornBytes === 0
      ? []
      : [`A torn last record of ${manifest.session.tornBytes} bytes was left out.`]),
    ...(result.differences.length === 0
      ? []
      : [`${result.differences.length} records are not what their raw lines give now; the parcel says so.`]),
    "",
  ].join("\n");
}
