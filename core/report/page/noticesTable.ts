import type { Result } from "../result.ts";
import { type Markup, markup, personal } from "./markup.ts";
import type { ReportInput } from "./reportInput.ts";
import { elapsed } from "./times.ts";

type ResultNotice = Result["notices"][number];

/** Everything the program noticed during the work, cured or not; the same notice again is counted on one row. */
export function noticesTable({ result }: ReportInput): Markup {
  if (result.notices.length === 0) return markup`<p>None.</p>`;
  const groups = new Map<string, ResultNotice[]>();
  for (const notice of result.notices) {
    const key = JSON.stringify([notice.code, notice.text, whereOf(notice), notice.curedT === undefined]);
    groups.set(key, [...(groups.get(key) ?? []), notice]);
  }
  return markup`<table><thead><tr><th style="width:12%">At, h:min:s</th><th style="width:15%">Where</th><th style="width:15%">Notice</th><th>What was seen</th><th style="width:14%">State</th></tr></thead>
<tbody>${[...groups.values()].map((group) => {
    const [notice] = group;
    if (notice === undefined) return null;
    const left = group.reduce((sum, each) => sum + (each.unlisted ?? 0), 0);
    const unlisted = left === 0 ? null : markup`<br>${left} earlier ones like it are not listed`;
    const times = group.length === 1 ? null : markup`<br>${group.length} times`;
    return markup`<tr><td>${elapsed(notice.t)}${times}</td><td>${personal(whereOf(notice))}</td><td>${notice.code}</td><td>${personal(notice.text)}</td><td>${notice.curedT === undefined ? markup`<b>stands</b>` : `cured at ${elapsed(group.at(-1)?.curedT ?? notice.curedT)}`}${unlisted}</td></tr>`;
  })}</tbody></table>`;
}

function whereOf({ bore, height, clock, gauge }: ResultNotice): string {
  return [bore, height, clock, gauge === undefined ? undefined : `gauge ${gauge}`]
    .filter((part) => part !== undefined)
    .join(" ");
}
