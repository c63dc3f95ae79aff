import { stringify } from "csv-stringify/sync";
import type { Table } from "../../core/report/tables.ts";

/** What a number's decimals stand behind. */
export type DecimalSign = "point" | "comma";

/**
 * A table as CSV (RFC 4180) with Windows line ends. A text cell that a spreadsheet would run as a formula is made
 * harmless with a leading apostrophe; numbers stay numbers. With `comma` they have a decimal comma and the cells are
 * parted by semicolons, as spreadsheets expect where people write so. A table with other than ASCII in it begins with a
 * byte order mark, without which many spreadsheets take it for another encoding.
 */
export function csvOf(table: Table, decimal: DecimalSign = "point"): string {
  const text = stringify([[...table.columns], ...table.rows.map((row) => [...row])], {
    record_delimiter: "windows",
    ...(decimal === "comma" ? { delimiter: ";" } : {}),
    escape_formulas: true,
    // A lone CR or LF inside a cell would end the row for many readers.
    quoted_match: /[\r\n]/,
    cast: {
      boolean: (value) => (value ? "yes" : "no"),
      number: (value) => ({
        value: decimal === "comma" ? plain(value).replace(".", ",") : plain(value),
        // A negative number begins like a formula and is none.
        escape_formulas: false,
      }),
    },
  });
  // biome-ignore lint/suspicious/noControlCharactersInRegex: ASCII is meant as a whole
  return /^[\x00-\x7F]*$/.test(text) ? text : `\uFEFF${text}`;
}

/** A number without exponent, which some spreadsheets do not read beside a decimal comma. */
function plain(value: number): string {
  const short = String(value);
  if (!short.includes("e")) return short;
  return value.toFixed(20).replace(/\.?0+$/, "");
}
