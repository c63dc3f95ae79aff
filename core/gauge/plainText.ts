/** Whether at most one byte in eight is none that plain text has; true of no bytes. */
export function isMostlyText(bytes: Uint8Array): boolean {
  return bytes.filter((byte) => !isText(byte)).length * 8 <= bytes.length;
}

/** Printable ASCII, tab, CR and LF. */
export function isText(code: number): boolean {
  return (code >= 0x20 && code < 0x7f) || code === 0x0d || code === 0x0a || code === 0x09;
}
