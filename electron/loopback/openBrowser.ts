import { spawn } from "node:child_process";

/** The system's own way to open a file or an address with whatever opens it, and nothing of a shell in between. */
export function openingCommand(platform: NodeJS.Platform, what: string): readonly [command: string, args: string[]] {
  if (platform === "darwin") return ["open", [what]];
  if (platform === "win32") return ["rundll32", ["url.dll,FileProtocolHandler", what]];
  return ["xdg-open", [what]];
}

/**
 * Asks the system to open a page's file in its browser; false where that cannot be asked. Never an address with a code
 * in it: every user of this computer can read what a command was given.
 */
export async function openBrowser(path: string): Promise<boolean> {
  if (process.platform === "linux" && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) return false;
  const [command, args] = openingCommand(process.platform, path);
  return new Promise((resolve) => {
    const child = spawn(command, args, { stdio: "ignore", detached: true });
    child.once("error", () => resolve(false));
    child.once("spawn", () => {
      child.unref();
      resolve(true);
    });
  });
}
