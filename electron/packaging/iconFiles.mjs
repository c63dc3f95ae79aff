/** Sizes in an .ico. */
const ICO = [16, 24, 32, 48, 64, 128, 256];

/**
 * The kinds of pictures in an .icns that hold PNG, and their sizes in pixels (Apple's icon file format; kinds and sizes
 * from memory).
 */
const ICNS = /** @type {const} */ ([
  ["icp4", 16],
  ["icp5", 32],
  ["icp6", 64],
  ["ic07", 128],
  ["ic08", 256],
  ["ic09", 512],
  ["ic10", 1024],
]);

/** @returns {Buffer} */
function pictureOf(/** @type {ReadonlyMap<number, Buffer>} */ pictures, /** @type {number} */ size) {
  const found = pictures.get(size);
  if (found === undefined) throw new Error(`there is no picture of ${size} pixels`);
  return found;
}

/** An icon file for Windows: a directory of 16 bytes each, then the pictures, all as PNG. */
export function icoOf(/** @type {ReadonlyMap<number, Buffer>} */ pictures) {
  const all = ICO.map((size) => ({ size, png: pictureOf(pictures, size) }));
  const head = Buffer.alloc(6 + 16 * all.length);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(all.length, 4);
  let at = head.length;
  for (const [index, { size, png }] of all.entries()) {
    const entry = 6 + 16 * index;
    // 256 is written as 0.
    head.writeUInt8(size % 256, entry);
    head.writeUInt8(size % 256, entry + 1);
    head.writeUInt16LE(1, entry + 4);
    head.writeUInt16LE(32, entry + 6);
    head.writeUInt32LE(png.length, entry + 8);
    head.writeUInt32LE(at, entry + 12);
    at += png.length;
  }
  return Buffer.concat([head, ...all.map(({ png }) => png)]);
}

/** An icon file for macOS: its length, then each picture behind its kind and length, all as PNG. */
export function icnsOf(/** @type {ReadonlyMap<number, Buffer>} */ pictures) {
  const parts = ICNS.map(([kind, size]) => chunk(kind, pictureOf(pictures, size)));
  return chunk("icns", Buffer.concat(parts));
}

function chunk(/** @type {string} */ kind, /** @type {Buffer} */ content) {
  const head = Buffer.alloc(8);
  head.write(kind, 0, "latin1");
  head.writeUInt32BE(8 + content.length, 4);
  return Buffer.concat([head, content]);
}
