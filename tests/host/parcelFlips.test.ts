import { beforeAll, describe, expect, it } from "vitest";
import { openParcel } from "../../electron/host/parcel/openParcel.ts";
import { filesOfZip } from "../../electron/host/parcel/zipLayout.ts";
import { Random } from "../../electron/simulator/random.ts";
import { APP, parcelOf } from "./parcelOf.ts";
import { testKey } from "./testKey.ts";

const SEED = 20_260_102;
const FLIPS = 2_000;

let parcel: Buffer;
/** Bytes of the archive itself, which belong to no file in it. */
let frame: number[];

beforeAll(async () => {
  parcel = (await parcelOf({ key: testKey("Bench shop") })).bytes;
  const inFiles = new Uint8Array(parcel.length);
  for (const content of filesOfZip(parcel).files.values()) {
    const start = content.byteOffset - parcel.byteOffset;
    inFiles.fill(1, start, start + content.length);
  }
  frame = [...inFiles.keys()].filter((at) => inFiles[at] === 0);
});

function flipped(bit: number): Buffer {
  const bytes = Buffer.from(parcel);
  bytes[bit >> 3] = (bytes[bit >> 3] ?? 0) ^ (1 << (bit & 7));
  return bytes;
}

describe("a parcel with one bit changed", () => {
  it("is intact without it", async () => {
    expect((await openParcel(parcel, { app: APP })).check).toMatchObject({ outcome: "signed-new" });
  });

  it(`is found out, ${FLIPS} times of ${FLIPS} (seed ${SEED}; half of them in the archive's own bytes)`, async () => {
    const random = new Random(SEED);
    const bits = Array.from({ length: FLIPS }, (_, index) =>
      index % 2 === 0
        ? random.below(parcel.length * 8)
        : (frame[random.below(frame.length)] ?? 0) * 8 + random.below(8),
    );
    const missed: number[] = [];
    for (const bit of bits) {
      // The first sign of a change is enough: none of these gets as far as being computed again.
      const { check, session } = await openParcel(flipped(bit), { app: APP, locate: false });
      if ((check.outcome !== "changed" && check.outcome !== "unreadable") || session !== null) missed.push(bit);
    }
    expect(missed).toEqual([]);
  });

  it("is found out in every bit of its headers, directory and end", async () => {
    const missed: number[] = [];
    for (const at of frame) {
      for (let bit = at * 8; bit < at * 8 + 8; bit += 1) {
        const { check } = await openParcel(flipped(bit), { app: APP, locate: false });
        if (check.outcome !== "changed" && check.outcome !== "unreadable") missed.push(bit);
      }
    }
    expect(missed).toEqual([]);
  });

  it("names the line of the record that was changed", async () => {
    const session = filesOfZip(parcel).files.get("session.bwsession") as Buffer;
    const start = session.byteOffset - parcel.byteOffset;
    const lines = session.toString("latin1").split("\n");
    for (const line of [1, 2, 30, lines.length - 1]) {
      const before = lines.slice(0, line - 1).reduce((sum, text) => sum + text.length + 1, 0);
      // In the digits of the seal, so that it stays a record.
      const at = before + (lines[line - 1] ?? "").lastIndexOf('"seal":"') + 12;
      const { check } = await openParcel(flipped((start + at) * 8), { app: APP });
      expect(check.outcome).toBe("changed");
      expect(check.changes.map(({ where }) => where)).toContain(`session.bwsession, line ${line}`);
    }
  });

  it("is changed, not unreadable, when the manifest itself is damaged", async () => {
    const manifest = filesOfZip(parcel).files.get("manifest.json") as Buffer;
    const { check } = await openParcel(flipped((manifest.byteOffset - parcel.byteOffset) * 8), { app: APP });
    expect(check).toMatchObject({
      outcome: "changed",
      changes: [{ where: "manifest.json", what: "it does not match its check sum in the archive" }],
    });
  });

  it("names the value that was changed in the result, and the line where it is no longer JSON", async () => {
    const result = filesOfZip(parcel).files.get("result.json") as Buffer;
    const start = result.byteOffset - parcel.byteOffset;
    const digit = start + result.indexOf('"clearanceNm": ') + 16;
    const value = await openParcel(flipped(digit * 8), { app: APP });
    expect(value.check.changes.at(-1)?.where).toBe("result.json");
    expect(value.check.changes.at(-1)?.what).toMatch(
      /^bores, 1I, stations, upper axial, clearanceNm: \d+ there, \d+ by the raw lines$/,
    );
    const brace = await openParcel(flipped(start * 8), { app: APP });
    expect(brace.check.changes.at(-1)?.where).toBe("result.json, line 1");
  });

  it("names the line of a table that was changed", async () => {
    const table = filesOfZip(parcel).files.get("bores.csv") as Buffer;
    const start = table.byteOffset - parcel.byteOffset + table.lastIndexOf("fits");
    const { check } = await openParcel(flipped(start * 8), { app: APP });
    expect(check.changes.map(({ where }) => where)).toContain("bores.csv, line 3");
  });
});
