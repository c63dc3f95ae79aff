export function createPackage(folder: string, archive: string): Promise<void>;
export function extractAll(archive: string, folder: string): void;
export function listPackage(archive: string, options: { readonly isPack: boolean }): string[];
export function statFile(archive: string, path: string): object;
