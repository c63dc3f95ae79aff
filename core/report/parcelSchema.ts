import { z } from "../zod.ts";

/**
 * Every file that a parcel may hold, in the order in which they stand in it, each with whether it must be there. A name
 * that is not here is refused.
 */
export const PARCEL_FILES = {
  "README.txt": true,
  "manifest.json": true,
  "manifest.sig": false,
  "signer.pem": false,
  "checksums.txt": true,
  "session.bwsession": true,
  "result.json": true,
  "pairing.json": false,
  "remedy.json": false,
  "report.html": true,
  "stations.csv": true,
  "bores.csv": true,
  "lifters.csv": true,
  "sweeps.csv": true,
  "pairing.csv": false,
  "remedy.csv": false,
  "results.qif": true,
} as const;
export type ParcelFileName = keyof typeof PARCEL_FILES;

export const isParcelFileName = (name: string): name is ParcelFileName => Object.hasOwn(PARCEL_FILES, name);

/** The manifest states hash and size of every file but itself and what can only be made after it. */
export const OUTSIDE_MANIFEST: ReadonlySet<ParcelFileName> = new Set(["manifest.json", "manifest.sig"]);

const sha256 = z.string().regex(/^[0-9a-f]{64}$/, "expected 64 hex digits, lower case");

/** A shop's name: 1 to 100 characters, none of them a control, a line end or one that turns the direction of writing. */
export const shopName = z
  .string()
  .min(1)
  .max(100)
  .refine((name) => name.trim() === name && !/[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\p{Bidi_Control}]/u.test(name), {
    message: "expected a name without control signs and without blanks at its ends",
  });

/** `manifest.json` of a parcel; it stands there as canonical JSON (RFC 8785), and a signature is over those bytes. */
export const parcelManifestSchema = z.strictObject({
  format: z.literal("borewright/parcel"),
  version: z.literal(1),
  /** Program and version that made it. */
  app: z.string().min(1).max(100),
  session: z.strictObject({
    created: z.string().max(100),
    /** Number of the last record. */
    records: z.number().int().min(0),
    /** Seal of the last record. */
    seal: sha256,
    /** Bytes of a torn last record that were left out. */
    tornBytes: z.number().int().min(0),
  }),
  /** How numbers are written in the tables (*.csv). */
  tables: z.strictObject({ decimal: z.enum(["point", "comma"]) }),
  /** Who signed it; absent when nobody did. */
  shop: z.strictObject({ name: shopName, key: z.string().regex(/^[A-Za-z0-9+/]{43}=$/) }).optional(),
  files: z.array(z.strictObject({ name: z.string(), size: z.number().int().min(0), sha256 })).max(100),
});
export type ParcelManifest = z.infer<typeof parcelManifestSchema>;

/** What opening a parcel came to: what `open --json` prints. Fields may be added later. */
export const parcelCheckSchema = z.object({
  format: z.literal("borewright/parcel-check"),
  version: z.literal(1),
  /**
   * `signed-known`: intact and signed by a key known for that name. `signed-new`: intact and signed by a key not known
   * for that name. `intact`: nobody signed it. `changed`: something in it is not as it was made. `unreadable`: it could
   * not be read as a parcel, or was refused.
   */
  outcome: z.enum(["signed-known", "signed-new", "intact", "changed", "unreadable"]),
  /** Who signed it, when the signature is right. */
  shop: z
    .object({
      name: z.string(),
      fingerprint: z.string(),
      /** `other-key`: the name is known with another key. */
      key: z.enum(["known", "new", "other-key"]),
    })
    .nullable(),
  /** With `changed`: what and where. */
  changes: z.array(z.object({ where: z.string(), what: z.string() })),
  /** With `unreadable`: why. */
  why: z.string().nullable(),
  /** What a reader must know besides, such as that the gauges were simulated. */
  warnings: z.array(z.string()),
  /** Null unless it is intact. */
  manifest: parcelManifestSchema.nullable(),
  /** Computed again from the raw lines; null unless it is intact. */
  result: z.unknown().nullable(),
});
export type ParcelCheck = z.infer<typeof parcelCheckSchema>;
