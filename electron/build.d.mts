export function buildAll(only?: readonly string[]): Promise<void>;
export function buildTrouble(error: unknown): string;
