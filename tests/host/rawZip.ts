import { crc32 } from "../../electron/host/parcel/crc32.ts";

/** An entry of an archive, every field to be stated as one likes; what is left out is as in a parcel. */
export interface RawEntry {
  readonly name: string | Buffer;
  /** The bytes in the archive. */
  readonly data: Buffer;
  /** In the local header and in the directory. */
  readonly both?: Partial<RawFields>;
  readonly local?: Partial<RawFields>;
  readonly central?: Partial<RawFields>;
  readonly localName?: string | Buffer;
  readonly localExtra?: Buffer;
  readonly centralExtra?: Buffer;
  readonly comment?: Buffer;
  /** Bytes before the local header. */
  readonly before?: Buffer;
  /** Stated offset, instead of the true one. */
  readonly offset?: number;
  /** Leaves out the data: the entry lies where another one does. */
  readonly overlay?: boolean;
}

export interface RawFields {
  needed: number;
  flags: number;
  method: number;
  time: number;
  date: number;
  crc: number;
  packed: number;
  size: number;
  madeBy: number;
  disk: number;
  internal: number;
  external: number;
}

export interface RawArchive {
  readonly entries: readonly RawEntry[];
  readonly beforeFirst?: Buffer;
  readonly beforeDirectory?: Buffer;
  readonly beforeEnd?: Buffer;
  readonly afterEnd?: Buffer;
  readonly comment?: Buffer;
  /** Stated in the end record, instead of what is true. */
  readonly end?: Partial<{ disk: number; here: number; entries: number; size: number; directory: number }>;
}

const bytesOf = (name: string | Buffer) => (typeof name === "string" ? Buffer.from(name, "utf8") : name);

function little(parts: readonly (readonly [2 | 4, number])[]): Buffer {
  const buffer = Buffer.alloc(parts.reduce((sum, [width]) => sum + width, 0));
  let at = 0;
  for (const [width, value] of parts) {
    buffer.writeUIntLE(value, at, width);
    at += width;
  }
  return buffer;
}

/** Builds an archive byte by byte, sound or not. Format: the zip file format specification (APPNOTE 6.3), 4.3. */
export function rawZip(archive: RawArchive): Buffer {
  const pieces: Buffer[] = [archive.beforeFirst ?? Buffer.alloc(0)];
  const directory: Buffer[] = [];
  let at = archive.beforeFirst?.length ?? 0;
  const add = (piece: Buffer) => {
    pieces.push(piece);
    at += piece.length;
  };
  // What is before the first file is not part of the archive: offsets are counted without it, as such files have them.
  const shift = archive.beforeFirst?.length ?? 0;
  for (const entry of archive.entries) {
    const fields: RawFields = {
      needed: 20,
      flags: 0x0800,
      method: 0,
      time: 0,
      date: 0x0022,
      crc: crc32(entry.data),
      packed: entry.data.length,
      size: entry.data.length,
      madeBy: 0x033f,
      disk: 0,
      internal: 0,
      external: 0x81a40000,
      ...entry.both,
    };
    const stated = (own: RawFields, name: Buffer, extra: Buffer) =>
      little([
        [2, own.needed],
        [2, own.flags],
        [2, own.method],
        [2, own.time],
        [2, own.date],
        [4, own.crc],
        [4, own.packed],
        [4, own.size],
        [2, name.length],
        [2, extra.length],
      ]);
    if (entry.before !== undefined) add(entry.before);
    const offset = at - shift;
    const name = bytesOf(entry.name);
    const localName = bytesOf(entry.localName ?? entry.name);
    const localExtra = entry.localExtra ?? Buffer.alloc(0);
    if (entry.overlay !== true) {
      add(little([[4, 0x04034b50]]));
      add(stated({ ...fields, ...entry.local }, localName, localExtra));
      add(Buffer.concat([localName, localExtra, entry.data]));
    }
    const central = { ...fields, ...entry.central };
    const centralExtra = entry.centralExtra ?? Buffer.alloc(0);
    const comment = entry.comment ?? Buffer.alloc(0);
    directory.push(
      little([
        [4, 0x02014b50],
        [2, central.madeBy],
      ]),
      stated(central, name, centralExtra),
      little([
        [2, comment.length],
        [2, central.disk],
        [2, central.internal],
        [4, central.external],
        [4, entry.offset ?? offset],
      ]),
      name,
      centralExtra,
      comment,
    );
  }
  if (archive.beforeDirectory !== undefined) add(archive.beforeDirectory);
  const directoryAt = at - shift;
  const whole = Buffer.concat(directory);
  add(whole);
  if (archive.beforeEnd !== undefined) add(archive.beforeEnd);
  const count = archive.entries.length;
  const comment = archive.comment ?? Buffer.alloc(0);
  const {
    disk = 0,
    here = count,
    entries = count,
    size = whole.length,
    directory: start = directoryAt,
  } = archive.end ?? {};
  add(
    little([
      [4, 0x06054b50],
      [2, disk],
      [2, disk],
      [2, here],
      [2, entries],
      [4, size],
      [4, start],
      [2, comment.length],
    ]),
  );
  return Buffer.concat([...pieces, comment, archive.afterEnd ?? Buffer.alloc(0)]);
}
