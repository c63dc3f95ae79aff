/** A value in a JSON text, or a member of an object from the first quote of its key to the end of its value. */
export interface Span {
  readonly start: number;
  readonly end: number;
  readonly kind: "value" | "member" | "key";
}

/** Every value, key and member of a JSON text with its place in it; none of a text that is no JSON, or that is nested too deep. */
export function jsonSpans(text: string): readonly Span[] {
  const spans: Span[] = [];
  let at = 0;
  const blanks = () => {
    while (at < text.length && " \t\r\n".includes(text.charAt(at))) at += 1;
  };
  const string = () => {
    at += 1;
    while (text[at] !== '"') at += text[at] === "\\" ? 2 : 1;
    at += 1;
  };
  const value = (): void => {
    blanks();
    const start = at;
    if (text[at] === '"') string();
    else if (text[at] === "{" || text[at] === "[") {
      const close = text[at] === "{" ? "}" : "]";
      at += 1;
      blanks();
      while (text[at] !== close) {
        blanks();
        const from = at;
        if (close === "}") {
          string();
          spans.push({ start: from, end: at, kind: "key" });
          blanks();
          at += 1;
        }
        value();
        if (close === "}") spans.push({ start: from, end: at, kind: "member" });
        blanks();
        if (text[at] === ",") at += 1;
        blanks();
      }
      at += 1;
    } else while (at < text.length && !",]} \t\r\n".includes(text.charAt(at))) at += 1;
    spans.push({ start, end: at, kind: "value" });
  };
  try {
    JSON.parse(text);
  } catch {
    return [];
  }
  try {
    value();
  } catch (error) {
    // Nested deeper than this can follow: what is inside is left alone.
    if (!(error instanceof RangeError)) throw error;
    return [];
  }
  return spans;
}
