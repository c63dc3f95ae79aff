import { sha256 } from "@noble/hashes/sha2";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils";
import canonicalize from "canonicalize";

/** SHA-256 of a text's UTF-8 bytes as 64 lower-case hex digits (FIPS 180-4). */
export type Hash = (text: string) => string;

/** The pure SHA-256; a host may pass a faster one. */
export const pureHash: Hash = (text) => bytesToHex(sha256(utf8ToBytes(text)));

/**
 * Canonical JSON of a record (RFC 8785).
 * @throws Error for what JSON can not hold (NaN, infinite, a lone surrogate).
 */
export function canonical(record: object): string {
  const text = canonicalize(record);
  if (text === undefined) throw new Error("not a record");
  return text;
}

/**
 * Seals a record: SHA-256 of the previous record's seal followed by this record's canonical JSON without its seal.
 * `previous` is "" for the header. Returns the seal and the file's line (canonical JSON with the seal, no line end).
 */
export function sealRecord(previous: string, record: object, hash: Hash): { seal: string; line: string } {
  // Every field is made canonical once; the seal then goes to its place among them.
  const before: string[] = [];
  const after: string[] = [];
  for (const key of Object.keys(record).sort()) {
    const value: unknown = record[key as keyof typeof record];
    if (value === undefined) continue;
    (key < "seal" ? before : after).push(`${field(key)}:${field(value)}`);
  }
  const seal = hash(`${previous}{${[...before, ...after].join(",")}}`);
  return { seal, line: `{${[...before, `"seal":"${seal}"`, ...after].join(",")}}` };
}

function field(value: unknown): string {
  const text = canonicalize(value);
  if (text === undefined) throw new Error("not a record");
  return text;
}

/**
 * Whether a record's seal is right. `line` is the record as it stands in the file, `record` the same parsed.
 * The bytes are tried first, as the writer leaves them canonical; only if they do not match is the record made
 * canonical again, so that a file written with other blanks or another order of fields is judged by its content.
 */
export function sealHolds(previous: string, line: string, record: { seal?: unknown }, hash: Hash): boolean {
  if (typeof record.seal !== "string") return false;
  const place = line.indexOf(`"seal":"${record.seal}"`);
  if (place > 0) {
    const end = place + record.seal.length + 9;
    const without =
      line[end] === "," ? line.slice(0, place) + line.slice(end + 1) : line.slice(0, place - 1) + line.slice(end);
    if (hash(previous + without) === record.seal) return true;
  }
  const { seal, ...rest } = record;
  try {
    return hash(previous + canonical(rest)) === seal;
  } catch {
    return false;
  }
}
