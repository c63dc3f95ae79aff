import { stringify } from "csv-stringify/sync";
import type { Table } from "../../core/report/tables.ts";

/**
 * A table as CSV by RFC 4180 with a header line. Texts that a spreadsheet would run as a formula are made harmless;
 * numbers stay numbers, with a decimal point.
 */
export function tableText(table: Table): string {
  return stringify(
    table.rows.map((row) => [...row]),
    {
      header: true,
      columns: [...table.columns],
      record_delimiter: "\r\n",
      escape_formulas: true,
      quoted_match: /[\r\n]/,
      cast: { boolean: (value) => (value ? "yes" : "no") },
    },
  );
}
