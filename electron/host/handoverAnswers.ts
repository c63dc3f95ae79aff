import type { MethodOutput } from "../../core/bridge/messages.ts";
import { reportOf } from "../../core/report/reportOf.ts";
import type { DecimalSign } from "./csv.ts";
import { sha256Of } from "./parcel/content.ts";
import { findingsOf } from "./parcel/findings.ts";
import { KeyRefusal, keepKey } from "./parcel/keepKey.ts";
import { BrokenSessionError, makeParcel } from "./parcel/makeParcel.ts";
import { openParcel } from "./parcel/openParcel.ts";
import { Refusal } from "./refusal.ts";
import { readSessionInSlices } from "./sessionFile.ts";
import { fingerprintOf, ShopKeyError, shopKeyIn, shopKeyPath } from "./shopKey.ts";
import { ShopKeyBook } from "./shopKeyBook.ts";

/** The parcel of a session, from the bytes of its file. @throws Refusal when it can not be made, or not signed. */
export async function answerHandover(
  session: Uint8Array,
  name: string,
  folder: string,
  wish: { readonly sign: boolean; readonly shop?: string | undefined; readonly decimal: DecimalSign },
): Promise<MethodOutput<"session.handover">> {
  const signer = wish.sign ? await signerIn(folder, wish.shop) : null;
  try {
    const { bytes, manifest } = await makeParcel(session, {
      decimal: wish.decimal,
      ...(signer === null ? {} : { key: signer.key }),
    });
    return {
      name: `${name}.bwparcel`,
      content: bytes.toString("base64"),
      sha256: sha256Of(bytes),
      files: manifest.files.map(({ name: file, size }) => ({ name: file, size })),
      signedBy: signer === null ? null : { name: signer.key.name, fingerprint: fingerprintOf(signer.key.publicKey) },
      keyMadeAt: signer?.made === true ? shopKeyPath(folder) : null,
    };
  } catch (error) {
    if (!(error instanceof BrokenSessionError)) throw error;
    throw new Refusal(
      "broken-seal",
      `The seal of this session is broken at line ${error.line} (${error.message}). No parcel is made of it.`,
    );
  }
}

async function signerIn(folder: string, shop: string | undefined) {
  try {
    return await shopKeyIn(folder, shop);
  } catch (error) {
    if (error instanceof ShopKeyError) throw new Refusal("shop-key", `It could not be signed: ${error.message}.`);
    throw error;
  }
}

/** The report (HTML) of a session as it stands on disk. */
export async function answerReport(
  session: Uint8Array,
  choices: { readonly unitFirst?: "in" | "um" | undefined; readonly seenFrom?: "front" | "rear" | undefined },
): Promise<MethodOutput<"session.report">> {
  const read = await readSessionInSlices(session);
  const { pairing, remedy } = await findingsOf(read);
  const html = reportOf(read, {
    ...(pairing === null ? {} : { pairing }),
    ...(remedy === null ? {} : { remedy }),
    choices: {
      ...(choices.unitFirst === undefined ? {} : { unitFirst: choices.unitFirst }),
      ...(choices.seenFrom === undefined ? {} : { seenFrom: choices.seenFrom }),
    },
  });
  return { html };
}

/** What the checks of a parcel from elsewhere come to. */
export async function answerParcel(
  bytes: Buffer,
  folder: string,
  wish: { readonly remember: boolean; readonly accept?: string | undefined },
): Promise<MethodOutput<"parcel.open">> {
  const book = await ShopKeyBook.read(folder);
  const first = await openParcel(bytes, { standing: (name, key) => book.standing(name, key) });
  try {
    const { opened, notes } = await keepKey(first, book, { remember: wish.remember, accept: wish.accept });
    const job = opened.read?.recording.job;
    const { check, key } = opened;
    const { shop } = check;
    // A person who looked at the fingerprint and remembers the key knows it from here on.
    const remembered =
      wish.remember && shop?.key === "new" && key !== null && book.standing(shop.name, key) === "known";
    return {
      check: remembered ? { ...check, outcome: "signed-known", shop: { ...shop, key: "known" } } : check,
      notes,
      title: job?.title ?? "",
      block: job?.block ?? "",
    };
  } catch (error) {
    if (error instanceof KeyRefusal) throw new Refusal("other-key", `Found ${error.message}.`);
    throw error;
  }
}

/** The session in a parcel, as text. @throws Refusal unless the parcel is intact. */
export async function sessionInParcel(bytes: Buffer): Promise<string> {
  const { check, session } = await openParcel(bytes);
  if (session === null) {
    throw new Refusal("not-intact", `The parcel is ${check.outcome}; nothing is taken out of it.`);
  }
  return session.toString("utf8");
}
