/** What a person writes for control characters ("?\r") as the characters themselves; undefined for nothing. */
export function controlCharacters(text: string): string | undefined {
  if (text === "") return undefined;
  return text.replace(/\\r/g, "\r").replace(/\\n/g, "\n").replace(/\\t/g, "\t");
}
