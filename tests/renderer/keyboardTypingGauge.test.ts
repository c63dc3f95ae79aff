import { describe, expect, test } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import { typingGauge } from "../../renderer/keyboard/typingGauge.ts";

const job = parseJob({ format: "borewright/job", version: 1 });
const alone = parseJob({ format: "borewright/job", version: 1, gauges: [{ id: "g", role: "bore" }] });

describe("whose line a keyboard-type cable types", () => {
  test("the micrometer's at the lifters, the bore gauge's at zero and bores", () => {
    expect(typingGauge(job, "Lifters", null)).toBe("mic");
    expect(typingGauge(job, "Zero", null)).toBe("bore");
    expect(typingGauge(job, "Bores", null)).toBe("bore");
  });
  test("the chosen gauge's, where the job has it", () => {
    expect(typingGauge(job, "Lifters", "bore")).toBe("bore");
    expect(typingGauge(job, "Bores", "another job's")).toBe("bore");
  });
  test("nobody's elsewhere, without a job, or without such a gauge", () => {
    expect(typingGauge(job, "Job", null)).toBeNull();
    expect(typingGauge(job, "Findings", "bore")).toBeNull();
    expect(typingGauge(null, "Bores", null)).toBeNull();
    expect(typingGauge(alone, "Lifters", null)).toBeNull();
  });
});
