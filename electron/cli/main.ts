import { runProcess } from "./borewright.ts";

await runProcess();
