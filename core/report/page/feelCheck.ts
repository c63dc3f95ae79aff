import { type Markup, markup, personal } from "./markup.ts";
import type { ReportInput } from "./reportInput.ts";

/** More bores than this have lower rows, so that sheet and signatures stay on one page. */
const ROOMY = 18;

/** A sheet to be filled in by hand: how each lifter feels in its bore, both oiled. */
export function feelCheck({ result }: ReportInput): Markup {
  return markup`<p>Not part of the measurement and not in the record: a last look by hand before assembly (common practice, no source). Bore and lifter clean and at room temperature, both oiled with engine oil. The lifter is let down into its bore and turned. It should turn and slide freely over its whole travel, nowhere catch, and not rock to be felt. A lifter that drags is not to be forced: look for burrs and dirt, and measure again. The feel decides nothing that the figures leave open.</p>
<table class="hand${result.bores.length > ROOMY ? " tight" : ""}"><thead><tr><th style="width:9%">Bore</th><th style="width:11%">Lifter</th><th style="width:14%">Verdict</th><th>Turns freely</th><th>Slides freely, whole travel</th><th>Rocks</th><th style="width:24%">Remark</th><th style="width:9%">Initials</th></tr></thead>
<tbody>${result.bores.map((bore) => markup`<tr><th>${bore.name}</th><td>${personal(bore.lifter ?? "")}</td><td>${bore.verdict}</td><td></td><td></td><td></td><td></td><td></td></tr>`)}</tbody></table>`;
}
