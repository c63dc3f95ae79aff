import { plainText } from "../../../core/length/shownText.ts";
import { diskSentence } from "../diskSentence.ts";
import type { ShopKeyBook } from "../shopKeyBook.ts";
import type { OpenedParcel } from "./openParcel.ts";

/** Thrown when the key to be accepted is not the one that signed the parcel. */
export class KeyRefusal extends Error {
  override readonly name = "KeyRefusal";
}

export const isKeyWarning = (warning: string): boolean => warning.startsWith("THE KEY IS ANOTHER ONE");

/**
 * Remembers a key seen for the first time, or takes one that a person has compared; never for a parcel not intact.
 * `accept` is the fingerprint that the shop itself has told.
 * @throws KeyRefusal when that is not the key that signed.
 */
export async function keepKey(
  opened: OpenedParcel,
  book: ShopKeyBook,
  wish: { readonly remember: boolean; readonly accept: string | undefined },
): Promise<{ readonly opened: OpenedParcel; readonly notes: string[] }> {
  const { check, key } = opened;
  const { shop } = check;
  const notes = book.trouble === null ? [] : [`${book.trouble}.`];
  const intact = check.outcome !== "changed" && check.outcome !== "unreadable";
  if (intact && wish.accept !== undefined && (shop === null || digits(shop.fingerprint) !== digits(wish.accept))) {
    const found = shop === null ? "no signature that is right" : `the key ${shop.fingerprint}`;
    throw new KeyRefusal(`${wish.accept}: found ${found}; expected that key`);
  }
  if (shop === null || key === null || book.trouble !== null) return { opened, notes };
  const nowIso = new Date().toISOString();
  try {
    if (wish.accept !== undefined && shop.key === "other-key") {
      await book.replace(shop.name, key, nowIso);
      notes.push(`From now on this key counts for "${plainText(shop.name)}"; the older one does not.`);
      return { opened: acceptedNow(opened), notes };
    }
    if (shop.key === "new" && wish.remember) {
      await book.remember(shop.name, key, nowIso);
      notes.push(`Its key is remembered for "${plainText(shop.name)}" from now on.`);
    }
  } catch (error) {
    notes.push(`The key could not be remembered: ${diskSentence(error)}.`);
  }
  return { opened, notes };
}

function acceptedNow(opened: OpenedParcel): OpenedParcel {
  const { check } = opened;
  const shop = check.shop === null ? null : { ...check.shop, key: "known" as const };
  const warnings = check.warnings.filter((warning) => !isKeyWarning(warning));
  return { ...opened, check: { ...check, outcome: "signed-known", shop, warnings } };
}

const digits = (fingerprint: string): string => fingerprint.replace(/[\s:-]/g, "").toLowerCase();
