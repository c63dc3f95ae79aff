const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit += 1) rest = rest & 1 ? 0xedb88320 ^ (rest >>> 1) : rest >>> 1;
  return rest;
});

/** The check sum of a zip entry: CRC-32 as in ISO 3309. (Node's own is newer than the oldest Node this runs on.) */
export function crc32(bytes: Uint8Array): number {
  let sum = 0xffffffff;
  for (const byte of bytes) sum = (TABLE[(sum ^ byte) & 0xff] ?? 0) ^ (sum >>> 8);
  return (sum ^ 0xffffffff) >>> 0;
}
