import type { create } from "xmlbuilder2";
import { formatLength } from "../length/formatLength.ts";
import type { Nm } from "../length/nm.ts";

export type Element = ReturnType<typeof create>;

/** Decimals of a length in mm: six, so that no nanometre is lost. */
export const DECIMALS = 6;

/** A length (nm, signed, whole) in mm as xs:decimal, exact, without exponent. */
export const millimetres = (length: number): string => formatLength(length as Nm, "mm", DECIMALS);

/** Text as an xs:token: blanks and line ends become one space. An empty one is not valid everywhere: then a dash. */
export const token = (text: string): string => text.replace(/\s+/gu, " ").trim() || "-";

const ENTITIES: readonly (readonly [RegExp, string])[] = [
  [/&/g, "&amp;"],
  [/\t/g, "&#9;"],
  [/\n/g, "&#10;"],
  [/\r/g, "&#13;"],
];

/**
 * Text made ready for the writer of XML, which takes "&word;" for an entity and leaves it as it stands. A line end is
 * written so that it is still one for whoever reads it from an attribute.
 */
const ready = (text: string): string => ENTITIES.reduce((soFar, [sign, entity]) => soFar.replace(sign, entity), text);

/** Adds an element that holds text. */
export function writeText(
  parent: Element,
  name: string,
  text: string,
  attributes: Readonly<Record<string, string | number>> = {},
): void {
  parent.ele(name, attributes).txt(ready(text));
}

/** Adds a length (nm, whole) as an element in mm. */
export function writeLength(
  parent: Element,
  name: string,
  length: number,
  attributes: Readonly<Record<string, string>> = {},
): void {
  writeText(parent, name, millimetres(length), { decimalPlaces: DECIMALS, ...attributes });
}

/** Adds what the standard has no place of its own for, as named texts. Nothing without any. */
export function writeAttributes(parent: Element, values: readonly (readonly [string, string])[]): void {
  if (values.length === 0) return;
  const list = parent.ele("Attributes", { n: values.length });
  for (const [name, value] of values) list.ele("AttributeStr", { name, value: ready(value) });
}

/** Adds a list of references. */
export function writeIds(parent: Element, name: string, ids: readonly number[]): void {
  const list = parent.ele(name, { n: ids.length });
  for (const id of ids) writeText(list, "Id", String(id));
}

/** Ids of a document: 1, 2, 3 … in the order they are given out; `last` is the largest so far. */
export class Ids {
  last = 0;
  next(): number {
    this.last += 1;
    return this.last;
  }
}
