import { basename } from "node:path";
import { defineConfig } from "vitest/config";
import { BaseSequencer } from "vitest/node";
import { rooms } from "./rooms.mjs";

/** The tests named after the changed file come first: mostly they notice, and the rest need not run. */
class NearestFirst extends BaseSequencer {
  async sort(files) {
    const changed = basename(this.ctx.config.related?.[0] ?? "", ".ts");
    const far = (file) => (changed !== "" && basename(file.moduleId).startsWith(changed) ? 0 : 1);
    return [...files].sort((a, b) => far(a) - far(b) || (a.moduleId < b.moduleId ? 1 : -1));
  }
}

/** Only the pure tests of the room that is mutated, so that each change is judged in a second or two. */
export default defineConfig({
  test: {
    ...rooms[process.env.MUTATION_ROOM ?? "sweep"],
    environment: "node",
    isolate: false,
    sequence: { sequencer: NearestFirst },
    testTimeout: 60_000,
  },
});
