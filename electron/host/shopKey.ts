import {
  createHash,
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  type KeyObject,
  sign as signBytes,
  verify as verifyBytes,
} from "node:crypto";
import { mkdir, readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { shopName } from "../../core/report/parcelSchema.ts";
import { z } from "../../core/zod.ts";
import { FileExistsError, writeWhole } from "./safeFiles.ts";

/** Thrown when the shop's key cannot be used; the message says what was found and what to do. */
export class ShopKeyError extends Error {
  override readonly name = "ShopKeyError";
}

/** The key a shop signs its parcels with (Ed25519, RFC 8032), and the name it signs under. */
export interface ShopKey {
  readonly name: string;
  /** The public half, 32 bytes as base64. */
  readonly publicKey: string;
  /** Signature over the bytes, 64 bytes. */
  sign(bytes: Uint8Array): Buffer;
}

/** What stands before the 32 bytes of an Ed25519 public key in its general form (SubjectPublicKeyInfo, RFC 8410). */
const SPKI_BEGIN = Buffer.from("302a300506032b6570032100", "hex");

const fileSchema = z.strictObject({
  format: z.literal("borewright/shop-key"),
  version: z.literal(1),
  name: shopName,
  privateKey: z.string(),
});

/** Where the shop's key is kept in the data folder; only its owner may read it. */
export const shopKeyPath = (folder: string): string => join(folder, "shop-key.json");

/**
 * The shop's key from the data folder. Where there is none yet it is made, for the name given.
 * @throws ShopKeyError when it has to be made and there is no name, when it has another name, when others may read it, or
 * when its file is damaged.
 */
export async function shopKeyIn(
  folder: string,
  name?: string,
): Promise<{ readonly key: ShopKey; readonly made: boolean }> {
  const path = shopKeyPath(folder);
  const found = await readKey(path, name);
  if (found !== null) return { key: found, made: false };
  if (name === undefined) {
    throw new ShopKeyError("there is no key yet to sign with; give the shop's name, for which it is then made");
  }
  const parsed = shopName.safeParse(name);
  if (!parsed.success) throw new ShopKeyError(`shop "${name}": ${parsed.error.issues[0]?.message}`);
  const { privateKey } = generateKeyPairSync("ed25519");
  const content = {
    format: "borewright/shop-key",
    version: 1,
    name,
    privateKey: privateKey.export({ type: "pkcs8", format: "pem" }),
  };
  await mkdir(folder, { recursive: true, mode: 0o700 });
  try {
    await writeWhole(path, `${JSON.stringify(content, null, 2)}\n`, false, 0o600);
  } catch (error) {
    if (!(error instanceof FileExistsError)) throw error;
    // Another program made it a moment ago: there is one key, and it is that one.
    const other = await readKey(path, name);
    if (other === null) throw error;
    return { key: other, made: false };
  }
  return { key: keyOf(name, privateKey), made: true };
}

async function readKey(path: string, name: string | undefined): Promise<ShopKey | null> {
  let text: string;
  try {
    const { mode } = await stat(path);
    // Windows keeps no such bits; there the folder is the user's own.
    if (process.platform !== "win32" && (mode & 0o077) !== 0) {
      throw new ShopKeyError(
        `${path}: others than its owner may read or change the key (mode ${(mode & 0o777).toString(8)}); make it 600, or take it as lost`,
      );
    }
    text = await readFile(path, "utf8");
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
  const { name: own, key } = parseKey(path, text);
  if (name !== undefined && name !== own) {
    throw new ShopKeyError(
      `the key in ${path} is that of "${own}", not of "${name}"; a key keeps its name, as others remember it by that`,
    );
  }
  return keyOf(own, key);
}

function parseKey(path: string, text: string): { readonly name: string; readonly key: KeyObject } {
  try {
    const { name, privateKey } = fileSchema.parse(JSON.parse(text));
    const key = createPrivateKey(privateKey);
    if (key.asymmetricKeyType !== "ed25519") throw new Error("another kind of key");
    return { name, key };
  } catch {
    // Nothing of the file is repeated here: it holds a secret.
    throw new ShopKeyError(`${path}: not a shop's key; restore it from a copy, or move it away to have a new one made`);
  }
}

function keyOf(name: string, privateKey: KeyObject): ShopKey {
  const spki = createPublicKey(privateKey).export({ type: "spki", format: "der" });
  return {
    name,
    publicKey: spki.subarray(SPKI_BEGIN.length).toString("base64"),
    sign: (bytes) => signBytes(null, bytes, privateKey),
  };
}

/** A public key (32 bytes as base64) as other programs read it. */
export function publicKeyPem(publicKey: string): string {
  return publicKeyObject(publicKey).export({ type: "spki", format: "pem" }) as string;
}

function publicKeyObject(publicKey: string): KeyObject {
  const der = Buffer.concat([SPKI_BEGIN, Buffer.from(publicKey, "base64")]);
  return createPublicKey({ key: der, format: "der", type: "spki" });
}

/** Whether a signature over the bytes was made with this key; false as well for what is no key or no signature. */
export function isSignedBy(publicKey: string, bytes: Uint8Array, signature: Uint8Array): boolean {
  try {
    return verifyBytes(null, bytes, publicKeyObject(publicKey), signature);
  } catch {
    return false;
  }
}

/**
 * What two people read to each other to compare a key: the first 128 bits of the SHA-256 of its 32 bytes, in groups of
 * four hex digits.
 */
export function fingerprintOf(publicKey: string): string {
  const hash = createHash("sha256").update(Buffer.from(publicKey, "base64")).digest("hex");
  return hash.slice(0, 32).replace(/.{4}(?!$)/g, "$& ");
}
