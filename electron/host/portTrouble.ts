import { readFileSync, statSync } from "node:fs";
import { PortError } from "./gaugePort.ts";

/** Turns what the system says of a port that would not open, or not be written to, into a sentence a user understands. */
export function portTrouble(path: string, error: unknown, doing: "opened" | "written to" = "opened"): PortError {
  if (error instanceof PortError) return error;
  const says = error instanceof Error ? error.message : String(error);
  if (/no such file|file not found|ENOENT|cannot find the|unknown error code 31\b/i.test(says)) {
    return new PortError("absent", path, `There is no port ${path}: plug the gauge in, or choose another port.`);
  }
  if (/cannot lock port|resource (temporarily unavailable|busy)|EBUSY|EAGAIN|EWOULDBLOCK/i.test(says)) {
    return new PortError(
      "busy",
      path,
      `Port ${path} is in use by another program: close it there, then connect again.`,
    );
  }
  if (/access denied|access is denied|permission denied|EACCES|EPERM/i.test(says)) return notAllowed(path);
  if (/not a tty|inappropriate ioctl|ENOTTY|bad file descriptor/i.test(says)) {
    return new PortError("not-a-port", path, `${path} is not a serial port: choose another.`);
  }
  if (/EIO|ENXIO|no such device|input\/output error|unknown error code 121/i.test(says)) {
    return new PortError(
      "absent",
      path,
      `Port ${path} does not answer: the adapter may have been pulled; plug it in again.`,
    );
  }
  return new PortError("failed", path, `Port ${path} could not be ${doing} (${says}).`);
}

function notAllowed(path: string): PortError {
  if (process.platform === "win32") {
    return new PortError(
      "busy",
      path,
      `Port ${path} is in use by another program or not allowed for this user: close it there, then connect again.`,
    );
  }
  const group = groupOf(path);
  const what =
    group === null
      ? "ask whoever looks after this computer for the right to use it"
      : `this user must be in the group "${group}" (as administrator: usermod -aG ${group} NAME, then log in again)`;
  return new PortError("not-allowed", path, `Port ${path} is there but may not be used: ${what}.`);
}

/** The group that owns the device file, by name where it has one; null where the file cannot be looked at. */
function groupOf(path: string): string | null {
  try {
    const { gid } = statSync(path);
    const line = readFileSync("/etc/group", "utf8")
      .split("\n")
      .find((entry) => entry.split(":")[2] === String(gid));
    return line?.split(":")[0] ?? String(gid);
  } catch {
    return null;
  }
}
