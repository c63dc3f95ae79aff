/**
 * The line, 1 = first, on which the value at `path` ("gauges[0].unit") begins in a text of valid JSON. Where the path
 * is not there, the line of the nearest thing around it.
 */
export function locateInJson(text: string, path: string): number {
  const steps = [...path.matchAll(/\[(\d+)\]|([^.[\]]+)/g)].map((match) =>
    match[1] === undefined ? (match[2] as string) : Number(match[1]),
  );
  let at = skipBlank(text, 0);
  for (const step of steps) {
    const inside = enter(text, at, step);
    if (inside === null) break;
    at = inside;
  }
  return lineOf(text, at);
}

/** The line, 1 = first, of a character's place. */
export function lineOf(text: string, at: number): number {
  let line = 1;
  for (let index = 0; index < at && index < text.length; index += 1) if (text[index] === "\n") line += 1;
  return line;
}

function enter(text: string, at: number, step: string | number): number | null {
  const open = text[at];
  if ((open !== "{" || typeof step !== "string") && (open !== "[" || typeof step !== "number")) return null;
  let index = skipBlank(text, at + 1);
  for (let count = 0; text[index] !== "}" && text[index] !== "]"; count += 1) {
    let key: string | number = count;
    if (open === "{") {
      const end = skipValue(text, index);
      key = JSON.parse(text.slice(index, end)) as string;
      index = skipBlank(text, skipBlank(text, end) + 1);
    }
    if (key === step) return index;
    index = skipBlank(text, skipValue(text, index));
    if (text[index] === ",") index = skipBlank(text, index + 1);
    if (index >= text.length) return null;
  }
  return null;
}

function skipBlank(text: string, at: number): number {
  let index = at;
  while (index < text.length && /\s/.test(text[index] as string)) index += 1;
  return index;
}

function skipValue(text: string, at: number): number {
  const first = text[at];
  if (first === '"') {
    let index = at + 1;
    while (index < text.length && text[index] !== '"') index += text[index] === "\\" ? 2 : 1;
    return index + 1;
  }
  if (first === "{" || first === "[") {
    let depth = 0;
    let index = at;
    do {
      const character = text[index];
      if (character === '"') {
        index = skipValue(text, index);
        continue;
      }
      if (character === "{" || character === "[") depth += 1;
      if (character === "}" || character === "]") depth -= 1;
      index += 1;
    } while (depth > 0 && index < text.length);
    return index;
  }
  let index = at;
  while (index < text.length && !/[\s,}\]]/.test(text[index] as string)) index += 1;
  return index;
}
