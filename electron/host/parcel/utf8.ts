/** Bytes as text. @throws TypeError where they are not UTF-8. */
export function utf8(bytes: Uint8Array): string {
  return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
}
