interface Package {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  readonly direct: boolean;
}
export const LICENCES: readonly string[];
export const WHY: Readonly<Record<string, string>>;
export function runtimePackages(lock: { readonly packages: Readonly<Record<string, unknown>> }): Package[];
export function troubles(
  packages: readonly Package[],
  wanted: Readonly<Record<string, string>>,
  why?: Readonly<Record<string, string>>,
): string[];
export function advisories(output: string): { readonly found: readonly string[] } | null;
