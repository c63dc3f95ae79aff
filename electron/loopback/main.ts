import { fileURLToPath } from "node:url";
import { hostFolder } from "../host/hostFolder.ts";
import { HostService } from "../host/hostService.ts";
import { createSimulatedBench } from "../simulator/simulatedPorts.ts";
import { type DoorFile, makeDoorFile } from "./doorFile.ts";
import { LoopbackServer } from "./loopbackServer.ts";
import { openBrowser } from "./openBrowser.ts";

const host = await HostService.open({ shell: "loopback", folder: hostFolder(), simulation: createSimulatedBench });
let door: DoorFile | null = null;
const server = await LoopbackServer.start({
  host,
  page: fileURLToPath(new URL("../renderer", import.meta.url)),
  onEnter: () => void door?.remove(),
});
const address = server.newAddress();
console.log(`Borewright: ${address}`);
console.log("The address opens once, on this computer only. Ctrl-C ends the program.");
if (!process.argv.includes("--no-open")) {
  door = await makeDoorFile(hostFolder(), address);
  if (door === null || !(await openBrowser(door.address))) {
    await door?.remove();
    console.log("No browser could be opened from here: open the address by hand.");
  }
}

let ending = false;
const end = async () => {
  // Asked a second time, the user will not wait for a disk that does not answer.
  if (ending) process.exit(1);
  ending = true;
  await door?.remove();
  try {
    await host.close();
    await server.close();
    process.exit(0);
  } catch (error) {
    console.error(error instanceof Error ? error.message : String(error));
    console.error("Not everything could be saved. Make room on the disk, or press Ctrl-C once more to give up.");
    await waitUntilSaved();
  }
};

async function waitUntilSaved(): Promise<void> {
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, 1000));
    const saved = await host.close().then(
      () => true,
      () => false,
    );
    if (saved) process.exit(0);
  }
}
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.on(signal, () => void end());
