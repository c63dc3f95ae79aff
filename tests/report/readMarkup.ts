/** An element's opening tag as it stands in a page. */
export interface Tag {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
}

const TAG = /<(\/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[a-zA-Z-]+="[^"<>]*")*)\s*(\/?)>/g;

/** Every opening tag, in order. @throws Error for a "<" that begins no well-written tag. */
export function tagsOf(html: string): Tag[] {
  const body = html.replace(/^<!doctype html>/, "").replace(/<style>[\s\S]*?<\/style>/, "<style></style>");
  const tags: Tag[] = [];
  const rest = body.replace(TAG, (_whole, closing: string, name: string, attributes: string) => {
    if (closing === "") {
      const pairs = [...attributes.matchAll(/([a-zA-Z-]+)="([^"]*)"/g)].map(
        ([, key = "", value = ""]) => [key, plain(value)] as const,
      );
      tags.push({ name, attributes: new Map(pairs) });
    }
    return "";
  });
  const stray = rest.search(/[<>]/);
  if (stray !== -1) throw new Error(`not a tag: ${rest.slice(Math.max(0, stray - 40), stray + 80)}`);
  return tags;
}

function plain(text: string): string {
  return text
    .replace(/&lt;/g, "<")
    .replace(/&gt;/g, ">")
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&amp;/g, "&");
}

/** What a person reads: the text between the tags, blanks run together and none of them kept from breaking. */
export function textOf(html: string): string {
  const body = html.replace(/<head>[\s\S]*?<\/head>/, "").replace(/<span class="label">([^<]*)<\/span>/g, " $1: ");
  return plain(body.replace(/<\/?(?:b|bdi|strong|span)(?:\s[^>]*)?>/g, "").replace(/<[^>]*>/g, " ")).replace(
    /[\s\u00a0]+/g,
    " ",
  );
}

/** The rows of the first table after a heading, each cell as text. */
export function rowsUnder(html: string, heading: string): string[][] {
  const from = html.indexOf(heading);
  if (from === -1) throw new Error(`no heading "${heading}"`);
  const table = /<table[\s\S]*?<\/table>/.exec(html.slice(from))?.[0] ?? "";
  const body = table.replace(/<thead>[\s\S]*?<\/thead>/, "");
  return [...body.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].map(([, row = ""]) =>
    [...row.matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map(([, cell = ""]) => textOf(cell).trim()),
  );
}
