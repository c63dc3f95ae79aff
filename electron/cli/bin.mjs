#!/usr/bin/env node
// The package's command: sets the program up where that is needed, then hands over to what was built.
// biome-ignore lint/style/noRestrictedImports: it runs before any room is built
import { SetUpError, setUp, staleBuild } from "../setup.mjs";

try {
  if (staleBuild() !== null) await setUp();
} catch (error) {
  if (!(error instanceof SetUpError)) throw error;
  console.error(error.message);
  process.exit(1);
}
// biome-ignore lint/style/noRestrictedImports: what was built from this room
await import("../../dist/cli/borewright.mjs");
