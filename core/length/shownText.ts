/**
 * A text from elsewhere made safe to print: what steers a terminal, starts a new line or turns the direction of writing
 * is shown as its number.
 */
export function plainText(text: string): string {
  return text.replace(
    /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\p{Bidi_Control}]/gu,
    (sign) => `\\u{${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase()}}`,
  );
}

/** Whether a text has no half of a sign in it (a lone surrogate), which no file in UTF-8 and no seal can hold. */
export function wellFormed(text: string): boolean {
  return !/\p{Surrogate}/u.test(text);
}

/** Longest text of somebody else's that a message carries, characters; what is wrong shows in far fewer. */
const LONGEST_FOUND = 80;
/** Longest sentence that an error says, characters: a few lines of a terminal. */
const LONGEST_MESSAGE = 600;

function cut(text: string, longest: number): string {
  return text.length <= longest ? text : `${text.slice(0, longest - 1)}…`;
}

/** A sentence that may carry texts from a file, as an error says it: on one line, of a bearable length. */
export function errorText(message: string): string {
  // Cut first, so that a monstrous text costs nothing; and again, as signs are shown longer than they are.
  return cut(plainText(cut(message, LONGEST_MESSAGE)), LONGEST_MESSAGE);
}

/** A value read from a file, as a message shows what was found: JSON, shortened; "nothing" where there is none. */
export function shownValue(value: unknown): string {
  if (value === undefined) return "nothing";
  if (typeof value === "string") return plainText(JSON.stringify(cut(value, LONGEST_FOUND)));
  if (typeof value === "number" && !Number.isFinite(value)) return "a number too large to hold";
  if (Array.isArray(value) && value.length > LONGEST_FOUND) return `a list of ${value.length} entries`;
  try {
    return plainText(cut(JSON.stringify(value), LONGEST_FOUND));
  } catch {
    // The only way in which what JSON gave can not be JSON again.
    return "something nested too deep to show";
  }
}

/** What a schema says it expected, without the words that it puts before and after. */
export function expectedText(message: string): string {
  return message.replace(/^(?:Invalid|Too)[^:]*: (?=expected)/, "").replace(/, received \w+$/, "");
}
