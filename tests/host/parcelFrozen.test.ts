import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Result } from "../../core/report/result.ts";
import { sha256Of } from "../../electron/host/parcel/content.ts";
import { openParcel } from "../../electron/host/parcel/openParcel.ts";

/** Parcels as they were made once, each with its SHA-256: they are never made again. */
const FROZEN = [
  ["two-bores.bwparcel", "intact", "fa628d096d93026856379a37fb8d1babbb6f5f2e1fe6a8f9a46c18662bff0ce9"],
  ["two-bores-signed.bwparcel", "signed-new", "957729bcb4d0c5cd7bfdb9d7c6744b7dbec69a5a3475376ad2c2acfedb6e9c14"],
] as const;

describe("a parcel once made", () => {
  it.each(FROZEN)("is the file that was kept, and still opens: %s", async (name, outcome, sha256) => {
    const bytes = readFileSync(new URL(`../../fixtures/parcels/${name}`, import.meta.url));
    expect(sha256Of(bytes)).toBe(sha256);
    const { check } = await openParcel(bytes);
    expect(check.changes).toEqual([]);
    expect(check.outcome).toBe(outcome);
    expect(check.manifest?.app).toBe("borewright 0.0.9");
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
