import { describe, expect, test } from "vitest";
import { readTemperature } from "../../renderer/zero/readTemperature.ts";

describe("a temperature as typed", () => {
  test.each([
    ["20.5", 20.5],
    ["20,5", 20.5],
    [" -3 ", -3],
    ["150", 150],
  ])("%s is read", (text, value) => expect(readTemperature(text)).toEqual({ value, error: null }));
  test("nothing typed is no value and no error", () =>
    expect(readTemperature(" ")).toEqual({ value: null, error: null }));
  test.each(["warm", "20.5.1", "1e2", "-41", "151"])("%s is refused with what was expected", (text) => {
    expect(readTemperature(text).value).toBeNull();
    expect(readTemperature(text).error).toContain("expected");
  });
});
