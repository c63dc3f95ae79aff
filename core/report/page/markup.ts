/** Text that is markup already and is not escaped again. */
export class Markup {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

/** What may stand in a piece of markup: plain text is escaped, null and false leave nothing. */
export type Part = Markup | string | number | null | false | readonly Part[];

/** Control characters that no page may hold, and halves of characters; tab and line ends are blanks. */
const UNPRINTABLE = /[\p{Cc}\p{Surrogate}\p{Noncharacter_Code_Point}]/gu;
const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Plain text so that it can stand between tags and in quoted attributes; what cannot be printed becomes U+FFFD. */
export function escapeText(text: string): string {
  return text
    .replace(/[\t\n\r]+/g, " ")
    .replace(UNPRINTABLE, "\uFFFD")
    .replace(/[&<>"']/g, (character) => ESCAPES[character] ?? character);
}

function partText(part: Part): string {
  if (part === null || part === false) return "";
  if (part instanceof Markup) return part.text;
  if (typeof part === "string" || typeof part === "number") return escapeText(String(part));
  return part.map(partText).join("");
}

/** Markup from a template: what stands in it as written is markup, what is put in is escaped unless it is markup too. */
export function markup(strings: TemplateStringsArray, ...parts: readonly Part[]): Markup {
  return new Markup(
    strings.map((text, index) => text + (index < parts.length ? partText(parts[index] as Part) : "")).join(""),
  );
}

/** A word of more letters than this may be broken anywhere, so that it cannot push a table off the paper. */
const LONG_WORD = /\S{17}/u;

/**
 * Words that a person wrote: of any alphabet and direction, kept from turning round what stands beside them. Empty text
 * leaves the given words in its place.
 */
export function personal(text: string, otherwise: Part = null): Markup {
  if (text.trim() === "") return markup`${otherwise}`;
  return LONG_WORD.test(text) ? markup`<bdi class="long">${text}</bdi>` : markup`<bdi>${text}</bdi>`;
}
