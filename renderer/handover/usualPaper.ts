/** Regions whose usual paper is Letter; everywhere else it is A4. From memory of the Unicode locale data (CLDR). */
const LETTER = new Set("BZ CA CL CO CR GT MX NI PA PH PR SV US VE".split(" "));

/** The usual paper where a person lives, by the language of their system ("en-US"); A4 where it names no region. */
export function usualPaper(language: string): "A4" | "Letter" {
  try {
    return LETTER.has(new Intl.Locale(language).region ?? "") ? "Letter" : "A4";
  } catch {
    return "A4";
  }
}
