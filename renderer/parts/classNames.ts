/** Class names that apply, joined by blanks. */
export function classNames(...names: readonly (string | false | null | undefined)[]): string {
  return names.filter((name) => typeof name === "string" && name !== "").join(" ");
}
