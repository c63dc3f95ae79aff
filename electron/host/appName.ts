declare const BOREWRIGHT_VERSION: string;

/** The program's version, put in by the build; a run straight from the sources has none. */
export const appVersion: string = typeof BOREWRIGHT_VERSION === "string" ? BOREWRIGHT_VERSION : "unbuilt";

/** The program and its version, as written into every file it makes. */
export const appName = `borewright ${appVersion}`;
