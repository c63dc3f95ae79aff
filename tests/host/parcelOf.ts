import type { MadeParcel, ParcelOptions } from "../../electron/host/parcel/makeParcel.ts";
import { makeParcel } from "../../electron/host/parcel/makeParcel.ts";
import { walkFeed } from "../session/walkFeed.ts";
import { heldFeed, heldJob } from "./benchFiles.ts";

/** What the tests' parcels say that they were made by, and what opens them. */
export const APP = "borewright 9.9.9";

/** The file of a whole session of two bores. */
export function sessionBytes(job: Record<string, unknown> = heldJob): Buffer {
  const lines = heldFeed().map((line) => JSON.stringify(line));
  return Buffer.from(walkFeed(job, lines).text, "utf8");
}

/** A parcel of that session. */
export function parcelOf(options: ParcelOptions = {}, session: Uint8Array = sessionBytes()): Promise<MadeParcel> {
  return makeParcel(session, { app: APP, ...options });
}
