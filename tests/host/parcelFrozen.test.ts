import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Result } from "../../core/report/result.ts";
import { sha256Of } from "../../electron/host/parcel/content.ts";
import { openParcel } from "../../electron/host/parcel/openParcel.ts";

/** Parcels as they were made once, each with its SHA-256: they are never made again. */
const FROZEN = [
  ["two-bores.bwparcel", "intact", "cdb9feadd7d8e7d15686181940325b729ba15bfa9edbc3ece0cf315106023bec"],
  ["two-bores-signed.bwparcel", "signed-new", "ee69e88ddaab6b611f6d9d6938bee1b69e4b90f17f79bc4a0c2f9fe9c1c92502"],
] as const;

describe("a parcel once made", () => {
  it.each(FROZEN)("is the file that was kept, and still opens: %s", async (name, outcome, sha256) => {
    const bytes = readFileSync(new URL(`../../fixtures/parcels/${name}`, import.meta.url));
    expect(sha256Of(bytes)).toBe(sha256);
    const { check } = await openParcel(bytes);
    expect(check.changes).toEqual([]);
    expect(check.outcome).toBe(outcome);
    expect(check.manifest?.app).toBe("borewright 0.1.0");
    const { bores } = check.result as Result;
    expect(bores.map((bore) => [bore.name, bore.verdict])).toEqual([
      ["1I", "fits"],
      ["1E", "fits"],
    ]);
  });

  it("is signed by the key that signed it then", async () => {
    const bytes = readFileSync(new URL("../../fixtures/parcels/two-bores-signed.bwparcel", import.meta.url));
    const { check } = await openParcel(bytes);
    expect(check.shop).toEqual({
      name: "Test shop, not to be trusted",
      key: "new",
      fingerprint: "3475 0f98 bd59 fcfc 946d a45a aabe 933b",
    });
  });
});
