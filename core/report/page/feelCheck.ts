import { feelWords } from "../../session/feel.ts";
import { type Markup, markup, personal } from "./markup.ts";
import type { ReportInput, ResultBore } from "./reportInput.ts";

/** More bores than this have lower rows, so that sheet and signatures stay on one page. */
const ROOMY = 18;

const HOW =
  "Bore and lifter clean and at room temperature, both oiled with engine oil. The lifter is let down into its bore and turned. It should turn and slide freely over its whole travel, nowhere catch, and not rock to be felt. A lifter that drags is not to be forced: look for burrs and dirt, and measure again. The feel decides nothing that the figures leave open.";

/** How each lifter feels in its bore, both oiled: as entered, or a sheet to be filled in by hand. */
export function feelCheck({ result }: ReportInput): Markup {
  const tight = result.bores.length > ROOMY ? " tight" : "";
  return result.bores.some((bore) => bore.feel !== undefined)
    ? entered(result.bores, tight)
    : blank(result.bores, tight);
}

function blank(bores: readonly ResultBore[], tight: string): Markup {
  return markup`<p>Not part of the measurement and not in the record: a last look by hand before assembly (common practice, no source). ${HOW}</p>
<table class="hand${tight}"><thead><tr><th style="width:9%">Bore</th><th style="width:11%">Lifter</th><th style="width:14%">Verdict</th><th>Turns freely</th><th>Slides freely, whole travel</th><th>Rocks</th><th style="width:24%">Remark</th><th style="width:9%">Initials</th></tr></thead>
<tbody>${bores.map((bore) => markup`<tr><th>${bore.name}</th><td>${personal(bore.lifter ?? "")}</td><td>${bore.verdict}</td><td></td><td></td><td></td><td></td><td></td></tr>`)}</tbody></table>`;
}

function entered(bores: readonly ResultBore[], tight: string): Markup {
  const says = bores.flatMap(({ name, feel }) =>
    feel === undefined || feel.says === null ? [] : [{ name, says: feel.says }],
  );
  return markup`<p>Not part of the measurement: a last look by hand before assembly (common practice, no source). What is printed was entered into the record; what is blank was not. ${HOW}</p>
${says.length === 0 ? null : markup`<ul>${says.map(({ name, says: text }) => markup`<li><b>${name}</b>: ${text}</li>`)}</ul>`}
<table class="hand${tight}"><thead><tr><th style="width:9%">Bore</th><th style="width:11%">Lifter</th><th style="width:14%">Verdict</th><th style="width:15%">By hand</th><th style="width:16%">Oil</th><th>Remark</th><th style="width:9%">Initials</th></tr></thead>
<tbody>${bores.map(
    ({ name, lifter, verdict, feel }) =>
      markup`<tr><th>${name}</th><td>${personal(feel?.lifter ?? lifter ?? "")}</td><td>${verdict}</td><td>${feel === undefined ? null : feelWords(feel.found)}</td><td>${personal(feel?.oil ?? "")}</td><td>${personal(feel?.note ?? "")}</td><td></td></tr>`,
  )}</tbody></table>`;
}
