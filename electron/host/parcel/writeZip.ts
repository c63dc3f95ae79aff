import { ZipFile } from "yazl";
import type { ParcelFileName } from "../../../core/report/parcelSchema.ts";

/** The first moment a zip can state; given in the computer's own time zone, as the writer turns it into that. */
const FIRST_MOMENT = new Date(1980, 0, 1);

/**
 * Packs files into the one zip that a parcel of them can be, in the order given: stored as they are, with a fixed time
 * and mode, so that the same files are the same bytes always and everywhere.
 */
export async function zipOf(files: ReadonlyMap<ParcelFileName, Uint8Array>): Promise<Buffer> {
  const zip = new ZipFile();
  for (const [name, content] of files) {
    zip.addBuffer(Buffer.from(content), name, {
      compress: false,
      mtime: FIRST_MOMENT,
      forceDosTimestamp: true,
      mode: 0o100644,
    });
  }
  zip.end();
  const pieces: Buffer[] = [];
  for await (const piece of zip.outputStream) pieces.push(piece as Buffer);
  return Buffer.concat(pieces);
}
