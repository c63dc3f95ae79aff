import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { advisories, runtimePackages, troubles } from "../../electron/packaging/dependencies.mjs";

const read = (name: string) =>
  JSON.parse(readFileSync(fileURLToPath(new URL(`../../${name}`, import.meta.url)), "utf8"));
const { dependencies } = read("package.json");
const packages = runtimePackages(read("package-lock.json"));

it("every package that runs has a licence on the list, a reason and a version alone", () => {
  expect(packages.length).toBeGreaterThan(Object.keys(dependencies).length);
  expect(packages.filter(({ direct }) => direct).map(({ name }) => name)).toEqual(
    Object.keys(dependencies).toSorted((a, b) => a.localeCompare(b, "en")),
  );
  expect(troubles(packages, dependencies)).toEqual([]);
});

it("a licence off the list, a missing reason, a reason too many and a loose version stand in the way", () => {
  const one = (licence: string) => [{ name: "a", version: "1.0.0", licence, direct: true }];
  const why = { a: "it is needed" };
  expect(troubles(one("MIT"), { a: "1.0.0" }, why)).toEqual([]);
  expect(troubles(one("(WTFPL OR MIT)"), { a: "1.0.0" }, why)).toEqual([]);
  for (const licence of ["GPL-3.0", "MIT AND GPL-3.0", "not stated", "UNLICENSED", "SEE LICENSE IN X"])
    expect(troubles(one(licence), { a: "1.0.0" }, why)).toEqual([expect.stringContaining(`licence ${licence}`)]);
  expect(troubles([], { a: "1.0.0" }, {})).toEqual([expect.stringContaining("nothing says why")]);
  expect(troubles([], {}, why)).toEqual([expect.stringContaining("no such dependency")]);
  expect(troubles([], { a: "^1.0.0" }, why)).toEqual([expect.stringContaining("one version alone")]);
});

it("says of the known advisories which there are, and whether they could be asked for at all", () => {
  expect(advisories('{"vulnerabilities":{}}')).toEqual({ found: [] });
  const one = { a: { name: "a", severity: "high", via: ["b", { title: "it leaks" }] } };
  expect(advisories(JSON.stringify({ vulnerabilities: one }))).toEqual({ found: ["a: high, it leaks"] });
  for (const output of ["", "no network", '{"message":"not found","error":{}}']) expect(advisories(output)).toBeNull();
});
