import { defineConfig } from "vitest/config";
import { rooms } from "./rooms.mjs";

/** Only the pure tests of the room that is mutated, so that each change is judged in a second or two. */
export default defineConfig({
  test: { ...rooms[process.env.MUTATION_ROOM ?? "sweep"], environment: "node", isolate: false, testTimeout: 60_000 },
});
