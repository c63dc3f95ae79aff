import { plainText } from "../../../core/length/shownText.ts";
import { isParcelFileName, type ParcelFileName } from "../../../core/report/parcelSchema.ts";
import { unreadable } from "./parcelTrouble.ts";

/** Two names that some disk would take for one: case and Unicode form do not tell them apart. */
const folded = (name: string): string => name.normalize("NFKC").toLowerCase().normalize("NFKC");

/**
 * The names of a parcel's files. Only names that a parcel may have are taken, each once, so that nothing in it can lead
 * outside of a folder or hide another file; what is refused is refused with the reason.
 */
export class EntryNames {
  readonly #taken = new Map<string, string>();

  /** @throws ParcelTrouble for a name that is none, or that is there already. */
  take(bytes: Uint8Array): ParcelFileName {
    const name = decoded(bytes);
    const shown = `"${plainText(name).slice(0, 80)}"`;
    const no = (why: string) => unreadable(shown, why);
    if (name === "") throw no("a file without a name");
    if (name.includes("\0")) throw no("a zero byte in a name");
    if (name.includes("\\")) throw no("a backslash in a name");
    if (name.startsWith("/") || /^[A-Za-z]:/.test(name)) throw no("a name that begins at the root of a disk");
    if (name.split("/").some((part) => part === "..")) throw no("a name that leads out of its folder");
    if (name.endsWith("/")) throw no("a folder; a parcel has none");
    const known = this.#taken.get(folded(name));
    if (known === name) throw no("a name that is there twice");
    if (known !== undefined) throw no(`a name that differs from "${known}" only in case or Unicode form`);
    if (!isParcelFileName(name)) throw no("not a file that a parcel has");
    this.#taken.set(folded(name), name);
    return name;
  }
}

function decoded(bytes: Uint8Array): string {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw unreadable("the directory", "a name that is not UTF-8");
  }
}
