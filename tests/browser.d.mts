/** Path of a browser for the tests; null to let the test runner use its own. */
export function findBrowser(): string | null;
/** Sees to it that there is a browser. Throws one clear sentence if none can be had. */
export function provideBrowser(): void;
/** Sees to the pseudo-terminal tool where it can. */
export function providePseudoTerminals(): void;
/** Sees to the tool that reads printed pages where it can. */
export function providePrintReader(): void;
/** A letter outside the alphabets of Europe that the tests print. */
export const FAR_LETTER: string;
/** Whether an installed font has FAR_LETTER. */
export function hasFarLetter(): boolean;
/** Sees to a font that has FAR_LETTER where it can. */
export function provideFarLetter(): void;
