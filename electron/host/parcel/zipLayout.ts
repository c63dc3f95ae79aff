import type { ParcelFileName } from "../../../core/report/parcelSchema.ts";
import { crc32 } from "./crc32.ts";
import { EntryNames } from "./entryName.ts";
import { changed, type ParcelTrouble, unreadable } from "./parcelTrouble.ts";

/** A parcel larger than this is refused unread: 512 MiB, many times a long walk with a fast stream. */
export const LARGEST_PARCEL = 512 * 1024 * 1024;
/** A parcel has far fewer files than this; the directory of a hostile one is not even walked. */
const MOST_ENTRIES = 40;

/** What every entry of a parcel states of itself: the zip that a parcel is leaves nothing to choose. */
export const ENTRY = {
  madeBy: 0x033f,
  needed: 20,
  /** Names are UTF-8; nothing encrypted, no sizes after the data. */
  flags: 0x0800,
  /** Stored as they are: the same bytes from every version of every compressor, and no archive that swells. */
  method: 0,
  time: 0,
  /** 2 January 1980, 0:00, no edge of what a zip can state: a parcel's bytes do not depend on when it was made. */
  date: 0x0022,
  internalAttributes: 0,
  /** An ordinary file, mode 0644. */
  externalAttributes: 0x81a40000,
} as const;

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const ZIP64_LOCATOR = 0x07064b50;
const LOCAL_SIZE = 30;
const CENTRAL_SIZE = 46;
const END_SIZE = 22;

/** The fields that a local header and the directory both state. */
interface Stated {
  readonly needed: number;
  readonly flags: number;
  readonly method: number;
  readonly time: number;
  readonly date: number;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
  readonly nameLength: number;
  readonly extraLength: number;
}

/** The files of a parcel, and which of them do not match the check sum that the archive states. */
export interface ZipFiles {
  readonly files: ReadonlyMap<ParcelFileName, Buffer>;
  readonly damaged: ReadonlySet<ParcelFileName>;
}

/**
 * The files of a parcel, every byte of it accounted for: entries one after the other from the first byte, then the
 * directory, then the end, and nothing else; local headers and directory say the same.
 *
 * A general reader of archives finds the directory from the end, passes over what lies between entries and does not look
 * at local headers, so two such readers can see two different parcels in one file. Format: the zip file format
 * specification (APPNOTE 6.3), of which a parcel uses the smallest part.
 * @throws ParcelTrouble for the first thing that is not so; wrong check sums are only told of.
 */
export function filesOfZip(bytes: Buffer): ZipFiles {
  const end = findEnd(bytes);
  const names = new EntryNames();
  const files = new Map<ParcelFileName, Buffer>();
  const sums = new Map<ParcelFileName, number>();
  let at = end.directory;
  let expected = 0;
  for (let index = 0; index < end.entries; index += 1) {
    const entry = readCentral(bytes, at, end.at, names);
    if (entry.offset > expected)
      throw changed(`byte ${expected}`, `${entry.offset - expected} bytes that belong to no file`);
    if (entry.offset < expected) throw unreadable(entry.name, "it lies over another file");
    files.set(entry.name, readLocal(bytes, entry, end.directory));
    sums.set(entry.name, entry.stated.crc);
    expected = entry.offset + LOCAL_SIZE + entry.stated.nameLength + entry.stated.packed;
    at = entry.next;
  }
  if (at !== end.at) throw changed(`byte ${at}`, `${end.at - at} bytes in the directory that belong to no file`);
  if (expected !== end.directory) {
    throw changed(`byte ${expected}`, `${end.directory - expected} bytes that belong to no file`);
  }
  const damaged = [...files].filter(([name, content]) => crc32(content) !== sums.get(name)).map(([name]) => name);
  return { files, damaged: new Set(damaged) };
}

interface End {
  readonly at: number;
  readonly entries: number;
  readonly directory: number;
}

function findEnd(bytes: Buffer): End {
  if (bytes.length === 0) throw unreadable("the file", "it is empty");
  const at = bytes.length - END_SIZE;
  if (at < 0 || bytes.readUInt32LE(at) !== END) throw noEnd(bytes);
  if (at >= 20 && bytes.readUInt32LE(at - 20) === ZIP64_LOCATOR) {
    throw unreadable("the end", "it uses the large form of zip (zip64), which no parcel needs");
  }
  const entries = bytes.readUInt16LE(at + 10);
  const size = bytes.readUInt32LE(at + 12);
  const directory = bytes.readUInt32LE(at + 16);
  if (entries === 0xffff || size === 0xffffffff || directory === 0xffffffff) {
    throw unreadable("the end", "it uses the large form of zip (zip64), which no parcel needs");
  }
  if (bytes.readUInt16LE(at + 4) !== 0 || bytes.readUInt16LE(at + 6) !== 0) {
    throw unreadable("the end", "it is one of several volumes");
  }
  if (bytes.readUInt16LE(at + 8) !== entries) throw changed("the end", "it states two numbers of files");
  if (bytes.readUInt16LE(at + 20) !== 0) throw changed("the end", "it announces a remark that is not there");
  if (entries > MOST_ENTRIES) throw unreadable("the end", `${entries} files; expected at most ${MOST_ENTRIES}`);
  if (directory + size < at) throw startsLate(bytes, at - directory - size);
  if (directory + size > at) throw unreadable("the end", "the directory it points to is not in the file");
  return { at, entries, directory };
}

/** Bytes before the first file push the directory away from where the end says it is. */
function startsLate(bytes: Buffer, by: number): ParcelTrouble {
  if (bytes.length >= by + 4 && bytes.readUInt32LE(by) === LOCAL)
    return changed("byte 0", `${by} bytes before the first file`);
  return changed("the end", `${by} bytes between what it points to and itself`);
}

/** Why the last bytes are not an archive's end: something follows it, it is cut off, or it never was an archive. */
function noEnd(bytes: Buffer): ParcelTrouble {
  const found = bytes.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]));
  if (found !== -1 && found + END_SIZE <= bytes.length && bytes.readUInt32LE(found + 16) < found) {
    return changed(`byte ${found + END_SIZE}`, `${bytes.length - found - END_SIZE} bytes after the end`);
  }
  if (bytes.length >= 4 && bytes.readUInt32LE(0) === LOCAL) {
    return unreadable("the end", "it is not there: the file is cut off, or its end is damaged");
  }
  if (bytes.subarray(0, 65_536).includes('"borewright/session"')) {
    return unreadable("byte 0", "the file is a session and no parcel; recheck reads it, handover packs it");
  }
  return unreadable("byte 0", "the file is no parcel: it does not begin as one");
}

interface Central {
  readonly name: ParcelFileName;
  readonly nameBytes: Buffer;
  readonly stated: Stated;
  readonly offset: number;
  readonly next: number;
}

function readCentral(bytes: Buffer, at: number, end: number, names: EntryNames): Central {
  if (at + CENTRAL_SIZE > end || bytes.readUInt32LE(at) !== CENTRAL) {
    throw unreadable(`byte ${at}`, "expected an entry of the directory");
  }
  const stated = readStated(bytes, at + 6);
  const commentLength = bytes.readUInt16LE(at + 32);
  const next = at + CENTRAL_SIZE + stated.nameLength + stated.extraLength + commentLength;
  if (next > end) throw unreadable(`byte ${at}`, "an entry of the directory that does not end in it");
  const nameBytes = bytes.subarray(at + CENTRAL_SIZE, at + CENTRAL_SIZE + stated.nameLength);
  const mode = bytes.readUInt32LE(at + 38);
  // Before its name, as the mark of a link stands with it.
  if (mode >>> 28 === 0xa) throw unreadable("the directory", "a link; a parcel has none");
  const name = names.take(nameBytes);
  expectStated(name, stated);
  if (commentLength !== 0) throw changed(name, "a remark beside it in the directory");
  if (bytes.readUInt16LE(at + 4) !== ENTRY.madeBy) throw changed(name, "the directory states another maker");
  if (bytes.readUInt16LE(at + 34) !== 0) throw unreadable(name, "it is said to lie in another volume");
  if (bytes.readUInt16LE(at + 36) !== ENTRY.internalAttributes || mode !== ENTRY.externalAttributes) {
    throw changed(name, "the directory states other attributes");
  }
  return { name, nameBytes, stated, offset: bytes.readUInt32LE(at + 42), next };
}

function readStated(bytes: Buffer, at: number): Stated {
  return {
    needed: bytes.readUInt16LE(at),
    flags: bytes.readUInt16LE(at + 2),
    method: bytes.readUInt16LE(at + 4),
    time: bytes.readUInt16LE(at + 6),
    date: bytes.readUInt16LE(at + 8),
    crc: bytes.readUInt32LE(at + 10),
    packed: bytes.readUInt32LE(at + 14),
    size: bytes.readUInt32LE(at + 18),
    nameLength: bytes.readUInt16LE(at + 22),
    extraLength: bytes.readUInt16LE(at + 24),
  };
}

/** What the directory states of an entry, against the one way in which a parcel is written. */
function expectStated(name: string, stated: Stated): void {
  if ((stated.flags & 0x2041) !== 0) throw unreadable(name, "it is encrypted");
  if ((stated.flags & 0x0008) !== 0) throw unreadable(name, "its size stands after it and not before");
  if (stated.packed === 0xffffffff || stated.size === 0xffffffff) {
    throw unreadable(name, "it uses the large form of zip (zip64), which no parcel needs");
  }
  if (stated.method !== ENTRY.method) {
    throw unreadable(name, "it is compressed; a parcel's files stand in it as they are");
  }
  if (stated.packed !== stated.size) throw unreadable(name, "its two sizes differ");
  if (stated.extraLength !== 0) throw changed(name, "an extra field beside it in the directory");
  if (
    stated.flags !== ENTRY.flags ||
    stated.needed !== ENTRY.needed ||
    stated.time !== ENTRY.time ||
    stated.date !== ENTRY.date
  ) {
    throw changed(name, "the directory states another time, version or flag");
  }
}

function readLocal(bytes: Buffer, { name, nameBytes, stated, offset }: Central, directory: number): Buffer {
  const start = offset + LOCAL_SIZE + stated.nameLength;
  const stop = start + stated.packed;
  if (stop > directory) throw unreadable(name, "it does not end before the directory begins");
  if (bytes.readUInt32LE(offset) !== LOCAL) throw unreadable(name, "its header is not where the directory says");
  const local = readStated(bytes, offset + 4);
  for (const field of Object.keys(stated) as (keyof Stated)[]) {
    if (local[field] !== stated[field]) throw unreadable(name, `its header and the directory differ (${WORDS[field]})`);
  }
  if (!bytes.subarray(offset + LOCAL_SIZE, start).equals(nameBytes)) {
    throw unreadable(name, "its header and the directory differ (name)");
  }
  return bytes.subarray(start, stop);
}

const WORDS: Readonly<Record<keyof Stated, string>> = {
  needed: "version",
  flags: "flags",
  method: "compression",
  time: "time",
  date: "date",
  crc: "check sum",
  packed: "size",
  size: "size",
  nameLength: "length of the name",
  extraLength: "extra field",
};
