import type { Material } from "./finding.ts";

const TABLE = "materials text's table and makers' tables, which differ by about 1e-6 per °C";

function material(id: string, alpha: number, source: string): Material {
  return { id, alpha, alphaHalfWidth: 1, source };
}

/**
 * Materials the program knows, by id. `alpha` is the mean coefficient of linear expansion near 20 °C in 1e-6 per °C;
 * its half-width is 1e-6 per °C, rectangular, because published tables differ by that much. Compacted iron is absent on
 * purpose: no reliable source was found, so it is an input.
 */
export const MATERIALS: Readonly<Record<string, Material>> = Object.freeze(
  Object.fromEntries(
    [
      material("steel", 11.5, "gauge practice for steel"),
      material("bearing-steel", 11.9, `52100 bearing steel; ${TABLE}`),
      material("grey-iron", 11.4, TABLE),
      material("ductile-iron", 11.2, TABLE),
      material("aluminium-356", 21.5, TABLE),
      material("aluminium-319", 22, TABLE),
    ].map((entry) => [entry.id, Object.freeze(entry)]),
  ),
);
