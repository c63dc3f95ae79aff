/** Turns addresses of schemes Chromium does not know into ones it does, and back. */
const ENDING = ".invalid";

/** `app://host/path` → `https://host.app.invalid/path`; others stay as they are. */
export function toChromium(address: string): string {
  const match = /^([a-z][a-z0-9+.-]*):\/\/([^/?#]+)(.*)$/i.exec(address);
  if (match === null || ["http", "https", "file"].includes(match[1] ?? "")) return address;
  return `https://${match[2]}.${match[1]}${ENDING}${match[3]}`;
}

/** The way back. */
export function fromChromium(address: string): string {
  const match = /^https:\/\/([^/?#]+)\.([a-z]+)\.invalid([/?#].*)?$/i.exec(address);
  return match === null ? address : `${match[2]}://${match[1]}${match[3] ?? "/"}`;
}
