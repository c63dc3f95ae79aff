import { describe, expect, test } from "vitest";
import { BAUDS, connectionOf, DEFAULT_CONNECTION, FRAMINGS } from "../../renderer/gauges/connection.ts";

describe("how a gauge is connected", () => {
  test("the job's serial settings come first, what it leaves open is the likeliest", () => {
    expect(connectionOf({})).toEqual(DEFAULT_CONNECTION);
    expect(connectionOf({ serial: { baud: 4800, framing: "7E2", rts: false, settleMs: 200 } })).toEqual({
      path: "",
      baud: 4800,
      framing: "7E2",
      dtr: true,
      rts: false,
      settleMs: 200,
    });
  });

  test("everything that a teaching can find may be chosen by hand as well", () => {
    for (const baud of [300, 600, 1200, 2400, 4800, 9600, 19_200, 38_400, 57_600, 115_200])
      expect(BAUDS).toContain(baud);
    for (const framing of ["8N1", "8E1", "8O1", "7E2", "7O2", "7N2"]) expect(FRAMINGS).toContain(framing);
  });
});
