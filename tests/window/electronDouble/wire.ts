/** Copies data as text, keeping what JSON loses; a function is an error, as in a structured clone. */
export const wireSource = `
const toWire = (value) => JSON.stringify(value, (key, inner) => {
  if (typeof inner === "function" || typeof inner === "symbol") throw new Error("An object could not be cloned.");
  if (typeof inner === "number" && !Number.isFinite(inner)) return { $number: String(inner) };
  return inner === undefined ? { $undefined: true } : inner;
});
const fromWire = (text) => {
  const revive = (inner) => {
    if (typeof inner !== "object" || inner === null) return inner;
    if ("$number" in inner) return Number(inner.$number);
    if ("$undefined" in inner) return undefined;
    for (const key of Object.keys(inner)) inner[key] = revive(inner[key]);
    return inner;
  };
  return revive(JSON.parse(text));
};
`;

const made = new Function(`${wireSource}; return { toWire, fromWire };`)() as {
  toWire(value: unknown): string;
  fromWire(text: string): unknown;
};
export const { toWire, fromWire } = made;
