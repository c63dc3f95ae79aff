export function stage(folder: string, platform?: NodeJS.Platform): Promise<void>;
export function filesBelow(folder: string): Promise<string[]>;
