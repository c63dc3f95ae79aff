import { stringify } from "csv-stringify/sync";
import type { Table } from "../../core/report/tables.ts";

/**
 * A table as CSV (RFC 4180) with Windows line ends. A text cell that a spreadsheet would run as a formula is made
 * harmless with a leading apostrophe; numbers stay numbers.
 */
export function csvOf(table: Table): string {
  return stringify([[...table.columns], ...table.rows.map((row) => [...row])], {
    record_delimiter: "windows",
    escape_formulas: true,
    // A lone CR or LF inside a cell would end the row for many readers.
    quoted_match: /[\r\n]/,
    cast: { boolean: (value) => (value ? "yes" : "no") },
  });
}
