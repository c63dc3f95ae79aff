/** Longest name made here, bytes of UTF-8 without its ending; what is put before and behind it must fit in 255 as well. */
const MOST_BYTES = 120;

/**
 * Names that Windows gives to devices, with whatever ending ("Naming Files, Paths, and Namespaces", Microsoft's
 * documentation of Win32).
 */
const DEVICE = /^(con|prn|aux|nul|conin|conout|(com|lpt)[0-9¹²³])$/i;

/**
 * A name for a file, without its ending, from a text of anywhere: letters of every script, digits, blanks, dots, hyphens
 * and low lines stay, all else becomes a hyphen. So it leads into no other folder, is hidden nowhere, means no device,
 * reads as it is written (no sign that turns the direction or cannot be seen), ends in no dot or blank, and is short
 * enough, on Linux, macOS and Windows alike. "" where nothing of the text is left.
 */
export function plainFileName(text: string, mostBytes = MOST_BYTES): string {
  const plain = text
    .replace(/\p{Cf}/gu, "")
    .replace(/\p{Zs}/gu, " ")
    .normalize("NFC")
    .replace(/[^\p{L}\p{M}\p{N} ._-]+/gu, "-");
  const fitting = trimmed(shortened(trimmed(plain), mostBytes));
  if (!/[\p{L}\p{N}]/u.test(fitting)) return "";
  const device = (fitting.split(".")[0] ?? "").trim();
  return DEVICE.test(device) ? trimmed(shortened(`file ${fitting}`, mostBytes)) : fitting;
}

// A mark belongs to the letter before it; at the beginning of a name it would cling to whatever stands there.
const trimmed = (text: string): string => text.replace(/^[. \p{M}-]+/gu, "").replace(/[. -]+$/g, "");

const signs = new Intl.Segmenter("en");

/** As many whole signs from the beginning as fit. */
function shortened(text: string, mostBytes: number): string {
  if (Buffer.byteLength(text) <= mostBytes) return text;
  let bytes = 0;
  let kept = "";
  for (const { segment } of signs.segment(text)) {
    bytes += Buffer.byteLength(segment);
    if (bytes > mostBytes) break;
    kept += segment;
  }
  return kept;
}
