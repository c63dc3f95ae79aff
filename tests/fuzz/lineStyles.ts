/** How a gauge writes its readings, each line told apart from a damaged one by a pattern of its own. */
export interface LineStyle {
  readonly name: string;
  /** The format's name in the program. */
  readonly format: "decimal" | "decimal-unit" | "decimal-comma" | "channel-tagged";
  readonly write: (steps: number) => string;
  /** The lines that this gauge may send with so many digits before the point: what the strictest reader must take. */
  readonly strict: (whole: number) => RegExp;
  /** Its last digit is a 0 or a 5. */
  readonly fives?: true;
}

const magnitude = (steps: number, decimals: number, whole: number) => {
  const text = String(Math.abs(steps)).padStart(decimals + whole, "0");
  return `${text.slice(0, -decimals)}.${text.slice(-decimals)}`;
};
const signed = (steps: number, plus: string, decimals: number, whole = 1) =>
  (steps < 0 ? "-" : plus) + magnitude(steps, decimals, whole);
const comma = (text: string) => text.replace(".", ",");

/** Every way of writing that the formats take, as gauges write (common practice, no source). */
export const LINE_STYLES: readonly LineStyle[] = [
  {
    name: "decimal, always signed",
    format: "decimal",
    write: (steps) => signed(steps, "+", 5),
    strict: (whole) => new RegExp(`^[+-]\\d{${whole}}\\.\\d{5}$`),
  },
  {
    name: "decimal, always signed, counting in fives",
    format: "decimal",
    write: (steps) => signed(5 * steps, "+", 5),
    strict: (whole) => new RegExp(`^[+-]\\d{${whole}}\\.\\d{4}[05]$`),
    fives: true,
  },
  {
    name: "decimal, no plus",
    format: "decimal",
    write: (steps) => signed(steps, "", 4),
    strict: (whole) => new RegExp(`^-?\\d{${whole}}\\.\\d{4}$`),
  },
  {
    name: "decimal, a blank for plus",
    format: "decimal",
    write: (steps) => signed(steps, " ", 4),
    strict: (whole) => new RegExp(`^[ \\t-]\\d{${whole}}\\.\\d{4}$`),
  },
  {
    name: "decimal, right-aligned",
    format: "decimal",
    write: (steps) => signed(steps, "", 4).padStart(9),
    strict: (whole) => new RegExp(`^[ \\t]{${3 - whole}}[ \\t-]\\d{${whole}}\\.\\d{4}$`),
  },
  {
    name: "decimal, filled with zeros",
    format: "decimal",
    write: (steps) => signed(steps, "+", 4, 4),
    strict: () => /^[+-]\d{4}\.\d{4}$/,
  },
  {
    name: "decimal with unit, always signed",
    format: "decimal-unit",
    write: (steps) => `${signed(steps, "+", 5)} in`,
    strict: (whole) => new RegExp(`^[+-]\\d{${whole}}\\.\\d{5}[ \\t]*in$`, "i"),
  },
  {
    name: "decimal with unit, no plus",
    format: "decimal-unit",
    write: (steps) => `${signed(steps, "", 3)}mm`,
    strict: (whole) => new RegExp(`^-?\\d{${whole}}\\.\\d{3}mm$`, "i"),
  },
  {
    name: "decimal comma, always signed",
    format: "decimal-comma",
    write: (steps) => comma(signed(steps, "+", 3)),
    strict: (whole) => new RegExp(`^[+-]\\d{${whole}},\\d{3}$`),
  },
  {
    name: "decimal comma and unit, no plus",
    format: "decimal-comma",
    write: (steps) => comma(`${signed(steps, "", 3)} mm`),
    strict: (whole) => new RegExp(`^-?\\d{${whole}},\\d{3}[ \\t]*mm$`, "i"),
  },
  {
    name: "channel, always signed, fixed width",
    format: "channel-tagged",
    write: (steps) => `01A${signed(steps, "+", 4, 4)}`,
    strict: () => /^01A[+-]\d{4}\.\d{4}$/,
  },
];
