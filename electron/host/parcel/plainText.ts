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

/** The same for every text in a value made of objects and lists. */
export function plainTexts<T>(value: T): T {
  if (typeof value === "string") return plainText(value) as T;
  if (Array.isArray(value)) return value.map((entry) => plainTexts(entry)) as T;
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, entry]) => [name, plainTexts(entry)])) as T;
}
