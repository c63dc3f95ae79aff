import { spawn } from "node:child_process";

/** Asks the system to open an address in its browser; false where that cannot be asked. */
export async function openBrowser(address: string): Promise<boolean> {
  if (process.platform === "linux" && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) return false;
  const [command, args]: [string, string[]] =
    process.platform === "darwin"
      ? ["open", [address]]
      : process.platform === "win32"
        ? ["rundll32", ["url.dll,FileProtocolHandler", address]]
        : ["xdg-open", [address]];
  return new Promise((resolve) => {
    const child = spawn(command, args, { stdio: "ignore", detached: true });
    child.once("error", () => resolve(false));
    child.once("spawn", () => {
      child.unref();
      resolve(true);
    });
  });
}
