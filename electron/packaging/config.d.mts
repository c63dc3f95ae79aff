export const FUSES: Readonly<Record<string, boolean>>;
export const FILES: readonly {
  readonly ext: string;
  readonly name: string;
  readonly mimeType: string;
  readonly role: string;
}[];
export function configOf(places: {
  readonly app: string;
  readonly output: string;
  readonly runtime: string;
  readonly version: string;
}): Record<string, unknown>;
