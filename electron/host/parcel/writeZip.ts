import { ZipFile } from "yazl";
import type { ParcelFileName } from "../../../core/report/parcelSchema.ts";

/**
 * Packs files into the one zip that a parcel of them can be, in the order given: stored as they are, with a fixed time
 * and mode, so that the same files are the same bytes always and everywhere.
 */
export async function zipOf(files: ReadonlyMap<ParcelFileName, Uint8Array>): Promise<Buffer> {
  const zip = new ZipFile();
  // Made here and not once for all: the writer turns it into the computer's own time, and so this must be meant in it.
  const mtime = new Date(1980, 0, 2);
  for (const [name, content] of files) {
    zip.addBuffer(Buffer.from(content), name, {
      compress: false,
      mtime,
      forceDosTimestamp: true,
      mode: 0o100644,
    });
  }
  zip.end();
  const pieces: Buffer[] = [];
  for await (const piece of zip.outputStream) pieces.push(piece as Buffer);
  return Buffer.concat(pieces);
}
