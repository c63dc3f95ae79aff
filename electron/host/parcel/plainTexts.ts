import { plainText } from "../../../core/length/shownText.ts";

/** The same for every text in a value made of objects and lists. */
export function plainTexts<T>(value: T): T {
  if (typeof value === "string") return plainText(value) as T;
  if (Array.isArray(value)) return value.map((entry) => plainTexts(entry)) as T;
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, entry]) => [name, plainTexts(entry)])) as T;
}
