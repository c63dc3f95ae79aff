/** What the bridge accepts, °C, both included. */
const COLDEST = -40;
const HOTTEST = 150;

/** A temperature in °C as typed, with a decimal point or comma; nothing typed is no value and no error. */
export function readTemperature(text: string): { readonly value: number | null; readonly error: string | null } {
  const typed = text.trim().replace(",", ".");
  if (typed === "") return { value: null, error: null };
  const value = /^[+-]?\d+(\.\d*)?$/.test(typed) ? Number(typed) : Number.NaN;
  if (Number.isNaN(value)) return { value: null, error: `found "${text}"; expected degrees Celsius such as 20.5` };
  if (value < COLDEST || value > HOTTEST) {
    return { value: null, error: `found ${typed} °C; expected ${COLDEST} to ${HOTTEST} °C` };
  }
  return { value, error: null };
}
